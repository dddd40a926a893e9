import type { Node } from 'prosemirror-model'
import type { EditorView } from 'prosemirror-view'
import type { Reference } from '../../app/project/reference'
import { atomView, type AtomView } from './atom-view'
import { citeLook } from './cite-look'

function paintCite(dom: HTMLElement, node: Node, referenceOf: (id: string) => Reference | undefined): void {
  const { reference, at } = node.attrs as { reference: string; at: string | null }
  const look = citeLook(referenceOf(reference), reference, at)
  dom.className = look.className
  dom.title = look.title
  if (dom.textContent !== look.words) dom.textContent = look.words
}

/// Gives an editor's view readable cites. What it answers draws them anew, for when a reference has changed.
export function showCites(view: EditorView, referenceOf: (id: string) => Reference | undefined): () => void {
  const shown = new Set<AtomView>()
  const cite = (node: Node): AtomView => {
    const made = atomView(
      node,
      (dom, now) => paintCite(dom, now, referenceOf),
      (gone) => shown.delete(gone),
    )
    shown.add(made)
    return made
  }
  view.setProps({ nodeViews: { ...view.props.nodeViews, cite } })
  return () => {
    for (const each of shown) each.draw()
  }
}
