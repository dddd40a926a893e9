import type { Reading } from '../../app/measure/reading'
import type { ValueForm } from '../../app/project/picture'
import { behindWords, shownAs } from '../../app/script/value-form'

/// How a value stands among words: value, lighter error, and its verdict by shape and word. Shared by the editor's
/// node view (as HTML) and the lists.

export interface ValueLook {
  readonly className: string
  readonly sign: string
  readonly value: string
  readonly error: string
  readonly note: string
}

/// Where a value stands: the words before it, and what is to be said where its paragraph's take says another one.
export interface ValuePlace {
  readonly before?: string
  readonly older?: string | null
}

export function valueLook(
  reading: Reading | undefined,
  measure: string,
  form: ValueForm | null = null,
  { before = '', older = null }: ValuePlace = {},
): ValueLook {
  if (!reading) return { className: 'value value-missing', sign: '◌ ', value: measure, error: '', note: 'not there' }
  const { verdict } = reading
  if (verdict === 'refused') return { className: 'value value-refused', sign: '⊘ ', value: 'not measured', error: '', note: '' }
  const [value = '', error = ''] = behindWords(before, shownAs(reading, form)).split(/ (?=±)/)
  return {
    className: `value value-${verdict}${older === null ? '' : ' value-older'}`,
    sign: `${older === null ? '' : '≠ '}${verdict === 'warned' ? '◐ ' : ''}`,
    value,
    error,
    note: verdict === 'range' ? 'range only' : '',
  }
}

export function LiveValue({
  reading,
  measure,
  form = null,
  older = null,
}: {
  readonly reading: Reading | undefined
  readonly measure: string
  readonly form?: ValueForm | null
  readonly older?: string | null
}) {
  const look = valueLook(reading, measure, form, { older })
  return (
    <span className={look.className} title={reading?.label}>
      {look.sign}
      <b>{look.value}</b>
      {look.error && <span> {look.error}</span>}
      {look.note && <em> {look.note}</em>}
    </span>
  )
}
