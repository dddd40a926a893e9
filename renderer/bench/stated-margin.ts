import { stateMargin } from '../../app/measure/margin'
import type { Reading } from '../../app/measure/reading'
import { attached } from '../../app/measure/wording'
import type { Measure } from '../../app/project/question'

type Comparison = Extract<Measure, { readonly kind: 'comparison' }>

export interface StatedComparison {
  readonly measure: Comparison
  /// Why the margin that was typed is not written down.
  readonly refusal: string | null
}

/// A comparison with the margin that was typed; a margin once written down is changed, never taken away.
export function statedComparison(
  asked: Comparison,
  known: Comparison | null,
  typed: string,
  readings: ReadonlyMap<string, Reading>,
): StatedComparison {
  const samePair = known !== null && known.measures[0] === asked.measures[0] && known.measures[1] === asked.measures[1]
  const measure: Comparison = samePair && known.margin ? { ...asked, margin: known.margin } : asked
  if (typed.trim() === '') return { measure, refusal: null }
  const delta = Number(typed.trim().replace(',', '.'))
  if (!(delta > 0 && delta <= 1e6)) return { measure, refusal: 'How near is a number above zero.' }
  const [first, second] = asked.measures.map((id) => readings.get(id))
  if (!first || first.u === null) return { measure, refusal: 'Measure the first value before it is written down how near is near.' }
  const stated = stateMargin(measure, delta, { u1: first.u, u2: second?.u ?? null })
  return stated.ok
    ? { measure: stated.value, refusal: null }
    : { measure, refusal: `At this precision nothing nearer than ${upwards(stated.error.least, first.unit)} can be shown.` }
}

/// Two digits, upwards; whole degrees.
function upwards(value: number, unit: string): string {
  const scale = unit === '°' ? 1 : 10 ** (1 - Math.floor(Math.log10(value)))
  return attached(String(Math.ceil(value * scale) / scale), unit)
}
