import type { Node } from 'prosemirror-model'
import type { Reading } from '../../app/measure/reading'
import type { ValueForm } from '../../app/project/picture'
import { valueLook } from './live-value'

/// Draws a live value in the editor: its reading in the form it is said in, and its verdict.
export function paintValue(dom: HTMLElement, node: Node, readingOf: (measure: string) => Reading | undefined): void {
  const measure = String(node.attrs['measure'])
  const reading = readingOf(measure)
  const look = valueLook(reading, measure, node.attrs['form'] as ValueForm | null)
  dom.className = look.className
  dom.title = reading?.label ?? ''
  const value = document.createElement('b')
  value.textContent = look.value
  dom.replaceChildren(look.sign, value, look.error ? ` ${look.error}` : '', look.note ? ` ${look.note}` : '')
}
