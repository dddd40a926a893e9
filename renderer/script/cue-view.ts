import type { Mark } from 'prosemirror-model'
import type { MarkView } from 'prosemirror-view'
import type { CueLook } from './cue-look'

/// A tied word in the editor: it names its event, and shows when that is gone. Drawn again only when events have changed.
export interface CueView extends MarkView {
  draw(): void
}

export function cueView(mark: Mark, lookOf: (event: string) => CueLook, onGone: (view: CueView) => void): CueView {
  const dom = document.createElement('span')
  const event = String(mark.attrs['event'])
  dom.setAttribute('data-cue', event)
  const view: CueView = {
    dom,
    contentDOM: dom,
    draw() {
      const { className, title } = lookOf(event)
      if (dom.className !== className) dom.className = className
      if (dom.title !== title) dom.title = title
    },
    // Its looks are no change of the words.
    ignoreMutation: (mutation) => mutation.type === 'attributes',
    destroy: () => onGone(view),
  }
  view.draw()
  return view
}
