import type { Reading } from '../../app/measure/reading'
import type { ValueForm } from '../../app/project/picture'
import { shownAs } from '../../app/script/value-form'

/// How a value stands among words: value, lighter error, and its verdict by shape and word. Shared by the editor's
/// node view (as HTML) and the lists.

export interface ValueLook {
  readonly className: string
  readonly sign: string
  readonly value: string
  readonly error: string
  readonly note: string
}

export function valueLook(reading: Reading | undefined, measure: string, form: ValueForm | null = null): ValueLook {
  if (!reading) return { className: 'value value-missing', sign: '◌ ', value: measure, error: '', note: 'not there' }
  const { verdict } = reading
  if (verdict === 'refused') return { className: 'value value-refused', sign: '⊘ ', value: 'not measured', error: '', note: '' }
  const [value = '', error = ''] = shownAs(reading, form).split(/ (?=±)/)
  return { className: `value value-${verdict}`, sign: verdict === 'warned' ? '◐ ' : '', value, error, note: verdict === 'range' ? 'range only' : '' }
}

export function LiveValue({ reading, measure, form = null }: { readonly reading: Reading | undefined; readonly measure: string; readonly form?: ValueForm | null }) {
  const look = valueLook(reading, measure, form)
  return (
    <span className={look.className} title={reading?.label}>
      {look.sign}
      <b>{look.value}</b>
      {look.error && <span> {look.error}</span>}
      {look.note && <em> {look.note}</em>}
    </span>
  )
}
