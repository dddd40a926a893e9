import type { Node } from 'prosemirror-model'
import type { Reading } from '../../app/measure/reading'
import type { ValueForm } from '../../app/project/picture'
import { valueLook, type ValuePlace } from './live-value'

const painted = new WeakMap<HTMLElement, string>()

/// Draws a live value in the editor: its reading in the form it is said in, its verdict, and whether the take says another.
export function paintValue(dom: HTMLElement, node: Node, reading: Reading | undefined, place: ValuePlace): void {
  const measure = String(node.attrs['measure'])
  const look = valueLook(reading, measure, node.attrs['form'] as ValueForm | null, place)
  const title = [reading?.label, place.older].filter((words) => words).join('. ')
  const looks = JSON.stringify([look, title])
  if (painted.get(dom) === looks) return
  painted.set(dom, looks)
  dom.className = look.className
  dom.title = title
  const value = document.createElement('b')
  value.textContent = look.value
  dom.replaceChildren(look.sign, value, look.error ? ` ${look.error}` : '', look.note ? ` ${look.note}` : '')
}
