import { frameBracket } from '../../measure/bracket'
import { cameFirst } from '../../measure/event-span'
import type { Reading } from '../../measure/reading'
import { sayTurning } from '../../measure/turning-words'
import type { Breakdown } from '../../project/breakdown'
import { measuresIn } from '../../project/claim'
import type { Event } from '../../project/film'
import type { Measure } from '../../project/question'
import type { Readings } from '../spoken-form'
import type { StatedClaim } from './stated-claim'

/// Which of two things of a clip came first, as it was measured.
export interface MeasuredOrder {
  /// What the two are called.
  readonly names: readonly [string, string]
  readonly clip: string
  /// Which of the two came first; null where that is not resolved.
  readonly first: 0 | 1 | null
  /// By how much, in words: ", by 0.033 s ± 0.008 s"; empty where that was not measured.
  readonly by: string
  /// The same for whatever speaks of the same two.
  readonly pair: string
}

/// The orders that a sentence rests on: of its live values, its readings, and its events two by two.
export function measuredOrders(claim: StatedClaim, breakdown: Breakdown, readings: Readings): readonly MeasuredOrder[] {
  const used = new Set([...claim.saying.values, ...claim.evidence.flatMap(measuresIn)])
  const events = claim.evidence.flatMap((each) => (each !== 'opinion' && 'events' in each ? each.events : []))
  return [
    ...(breakdown.measures ?? []).flatMap((measure) =>
      used.has(measure.id) ? (orderOf(measure, readings.get(measure.id), breakdown) ?? []) : [],
    ),
    ...pairsOf(events.flatMap((id) => breakdown.events?.find((event) => event.id === id) ?? [])).flatMap(([a, b]) => ofEvents(a, b) ?? []),
  ]
}

const pairsOf = <T>(items: readonly T[]): readonly (readonly [T, T])[] =>
  items.flatMap((a, i) => items.slice(i + 1).map((b) => [a, b] as const))

/// The order that a measure tells; null for one that tells none, and for one that was refused.
export function orderOf(measure: Measure, reading: Reading | undefined, breakdown: Breakdown): MeasuredOrder | null {
  if (!reading || reading.value === null) return null
  if (measure.kind === 'peak-order') {
    const [a, b] = measure.measures.map((id) => breakdown.measures?.find((each) => each.id === id))
    if (a?.kind !== 'peak-time' || b?.kind !== 'peak-time' || a.clip !== b.clip || a.subject !== b.subject) return null
    return {
      names: [peakName(a), peakName(b)],
      clip: a.clip,
      first: firstBy(reading.value, reading.verdict !== 'range'),
      by: '',
      pair: pairKey(a.id, b.id),
    }
  }
  if (measure.kind !== 'order' && measure.kind !== 'time-between' && measure.kind !== 'frame-count') return null
  const [from, to] = [measure.from, measure.to].map((id) => breakdown.events?.find((event) => event.id === id))
  if (!from || !to || from.id === to.id) return null
  const resolved = measure.kind === 'order' ? reading.verdict !== 'range' : (reading.low ?? 0) > 0 || (reading.high ?? 0) < 0
  const by =
    measure.kind === 'order'
      ? /\((by [^()]*)\)$/u.exec(reading.plate.value)?.[1]
      : `by ${reading.plate.value.replace(cameFirst(to.name || to.id), '')}`
  return {
    names: [from.name, to.name],
    clip: measure.clip,
    first: firstBy(reading.value, resolved),
    by: by === undefined ? '' : `, ${by}`,
    pair: pairKey(from.id, to.id),
  }
}

/// By brackets alone, as the measure of order has it: resolved where they neither overlap nor touch.
function ofEvents(a: Event, b: Event): MeasuredOrder | null {
  if (a.clip !== b.clip || a.id === b.id) return null
  const [x, y] = [frameBracket(a), frameBracket(b)]
  const lead = Math.abs(y.middle - x.middle) - x.half - y.half
  const whole = Math.floor(lead)
  return {
    names: [a.name, b.name],
    clip: a.clip,
    first: firstBy(y.middle - x.middle, lead > 0),
    by: whole < 1 ? '' : `, by at least ${whole} ${whole === 1 ? 'frame' : 'frames'}`,
    pair: pairKey(a.id, b.id),
  }
}

const firstBy = (value: number, resolved: boolean): 0 | 1 | null => (!resolved || value === 0 ? null : value > 0 ? 0 : 1)
const pairKey = (a: string, b: string): string => [a, b].sort().join(' ')
/// "Fastest turn of hip line", where it has no name of its own.
const peakName = ({ label, points }: Measure & { readonly kind: 'peak-time' }): string =>
  label ?? `fastest turn of ${sayTurning(points, null)}`
