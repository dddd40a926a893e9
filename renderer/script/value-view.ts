import type { Node } from 'prosemirror-model'
import type { Reading } from '../../app/measure/reading'
import { valueLook } from './live-value'

/// Draws a live value in the editor: value, error and verdict of its reading.
export function paintValue(dom: HTMLElement, node: Node, readingOf: (measure: string) => Reading | undefined): void {
  const measure = String(node.attrs['measure'])
  const reading = readingOf(measure)
  const look = valueLook(reading, measure)
  dom.className = look.className
  dom.title = reading?.label ?? ''
  const value = document.createElement('b')
  value.textContent = look.value
  dom.replaceChildren(look.sign, value, look.error ? ` ${look.error}` : '', look.note ? ` ${look.note}` : '')
}
