import type { Reading } from '../measure/reading'
import { about, fromTo, spokenFromTo, valueWithError } from '../measure/wording'
import type { ValueForm } from '../project/picture'

/// The forms that a live value may be said in. A form chooses words; the reading, its error and its verdict stay what they
/// are, and the plate on the picture shows value and error in any case.

/// A reading's value and interval where it is said as "value ± U unit": only then can it be said in other numbers. Null for
/// a refusal, for one that is a range already, and for kinds with words of their own (an order, a count, a comparison).
function plainNumbers(reading: Reading): readonly [value: number, U: number, low: number, high: number, unit: string] | null {
  const { value, U, low, high, unit, verdict, plate } = reading
  if (value === null || U === null || low === null || high === null || verdict === 'range' || verdict === 'refused') return null
  return plate.value === valueWithError(value, U, unit) ? [value, U, low, high, unit] : null
}

/// A reading as captions show it. Absent, and where the form does not suit the reading: value and error ("145° ± 12°").
/// "" where the reading has no words for it.
export function shownAs(reading: Reading, form?: ValueForm | null): string {
  if (form === 'label') return reading.label
  if (form === 'spoken') return reading.spoken
  const numbers = form === 'about' || form === 'range' ? plainNumbers(reading) : null
  if (!numbers) return reading.plate.value
  return form === 'about' ? about(numbers[0], numbers[1], numbers[4]) : fromTo(...numbers)
}

/// A reading as it is said aloud. Only "range" and "about" are said otherwise than the value itself.
export function saidAs(reading: Reading, form?: ValueForm | null): string {
  const numbers = form === 'about' || form === 'range' ? plainNumbers(reading) : null
  if (!numbers) return reading.spoken
  if (form === 'range') return spokenFromTo(...numbers)
  return reading.spoken.startsWith('about ') ? reading.spoken : `about ${reading.spoken}`
}

const APPROXIMATELY = /(?<![\p{L}\p{N}])(?:about|around|roughly|approximately|approx\.)\s+$/iu

/// A value's words as they stand behind other words of its sentence: where those say already that it is not exact, the value
/// does not say it again ("around" and "about 145°": "around 145°").
export const behindWords = (before: string, words: string): string =>
  APPROXIMATELY.test(before) ? words.replace(/^(?:about|roughly) /u, '') : words

/// The forms that suit a reading, value and error first; none that shows what an earlier one shows.
export function formsOf(reading: Reading): readonly { readonly form: ValueForm; readonly shown: string }[] {
  if (reading.verdict === 'refused') return []
  const forms: { form: ValueForm; shown: string }[] = []
  for (const form of ['value', 'about', 'range', 'spoken', 'label'] as const) {
    const shown = shownAs(reading, form)
    if (shown !== '' && !forms.some((each) => each.shown === shown)) forms.push({ form, shown })
  }
  return forms
}
