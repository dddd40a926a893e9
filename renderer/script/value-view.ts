import type { Node } from 'prosemirror-model'
import type { NodeView } from 'prosemirror-view'
import type { Reading } from '../../app/measure/reading'
import { valueLook } from './live-value'

/// A live value in the editor: an atom that follows its reading.
export class ValueView implements NodeView {
  readonly dom = document.createElement('span')

  constructor(
    private node: Node,
    private readonly readingOf: (measure: string) => Reading | undefined,
    private readonly onGone: (view: ValueView) => void,
  ) {
    this.draw()
  }

  draw(): void {
    const measure = String(this.node.attrs['measure'])
    const reading = this.readingOf(measure)
    const look = valueLook(reading, measure)
    this.dom.className = look.className
    this.dom.title = reading?.label ?? ''
    const value = document.createElement('b')
    value.textContent = look.value
    this.dom.replaceChildren(look.sign, value, look.error ? ` ${look.error}` : '', look.note ? ` ${look.note}` : '')
  }

  update(node: Node): boolean {
    if (node.type !== this.node.type) return false
    this.node = node
    this.draw()
    return true
  }

  destroy(): void {
    this.onGone(this)
  }
}
