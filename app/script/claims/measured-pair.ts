import { viewReasons } from '../../measure/comparison'
import { measureContext, type MeasureContext } from '../../measure/context'
import { askAlike } from '../../measure/likeness'
import type { Reading } from '../../measure/reading'
import type { Breakdown } from '../../project/breakdown'
import { measuresIn } from '../../project/claim'
import type { Measure, MeasureKind } from '../../project/question'
import type { Readings } from '../spoken-form'
import type { StatedClaim } from './stated-claim'

/// Two measures of one kind of which one is known to be the greater in size.
export interface MeasuredPair {
  readonly measures: readonly [Measure, Measure]
  /// Which of the two is the greater, its sign left aside.
  readonly more: 0 | 1
  /// What each reads.
  readonly reads: readonly [string, string]
}

/// Kinds whose sign says which way; their size is compared only where both go the same way.
const SIGNED: ReadonlySet<MeasureKind> = new Set<MeasureKind>(['line-lean', 'separation', 'angular-rate', 'time-between', 'frame-count'])

/// The pairs that a sentence rests on: comparisons that found their two to differ; and, where none is made of those two, the
/// two readings that it names, or the only two that it rests on, where they ask the same of clips seen alike and their
/// intervals lie apart.
export function measuredPairs(claim: StatedClaim, breakdown: Breakdown, readings: Readings): readonly MeasuredPair[] {
  const ids = [...new Set([...claim.saying.values, ...claim.evidence.flatMap(measuresIn)])]
  if (ids.length === 0) return []
  const measures = new Map((breakdown.measures ?? []).map((measure) => [measure.id, measure]))
  const comparisons = ids.flatMap((id) => {
    const measure = measures.get(id)
    return measure?.kind === 'comparison' ? [measure] : []
  })
  const compared = new Set(
    (breakdown.measures ?? []).flatMap((measure) => (measure.kind === 'comparison' ? [pairKey(...measure.measures)] : [])),
  )
  const singles = ids.filter((id) => measures.get(id)?.kind !== 'comparison')
  const named = claim.evidence.flatMap((each) => (each !== 'opinion' && 'readings' in each ? [each.readings] : []))
  const [one, two, ...others] = singles
  const pairs =
    named.length > 0
      ? named
      : comparisons.length === 0 && one !== undefined && two !== undefined && others.length === 0
        ? [[one, two] as const]
        : []
  return [
    ...comparisons.flatMap(({ id, measures: both }) =>
      readings.get(id)?.reasons.includes('differs') ? (pairOf(both, measures, readings) ?? []) : [],
    ),
    ...pairs
      .filter((pair) => !compared.has(pairKey(...pair)))
      .flatMap((pair) => {
        const found = pairOf(pair, measures, readings)
        return found &&
          liesApart(pair, readings) &&
          seenAlike(
            found.measures,
            readings,
            measureContext(breakdown, () => null),
          )
          ? [found]
          : []
      }),
  ]
}

const pairKey = (a: string, b: string): string => [a, b].sort().join(' ')

function pairOf([a, b]: readonly [string, string], measures: ReadonlyMap<string, Measure>, readings: Readings): MeasuredPair | null {
  const [first, second] = [measures.get(a), measures.get(b)]
  const [x, y] = [readings.get(a), readings.get(b)]
  if (
    !first ||
    !second ||
    first.kind !== second.kind ||
    !x ||
    !y ||
    x.value === null ||
    y.value === null ||
    x.unit !== y.unit ||
    x.plane !== y.plane
  )
    return null
  if (
    SIGNED.has(first.kind)
      ? !(x.value * y.value > 0)
      : first.kind === 'peak-time' && second.kind === 'peak-time' && first.clip === second.clip && first.fromFrame !== second.fromFrame
  )
    return null
  const [p, q] = [Math.abs(x.value), Math.abs(y.value)]
  return p === q ? null : { measures: [first, second], more: p > q ? 0 : 1, reads: [x.plate.value, y.plate.value] }
}

function liesApart([a, b]: readonly [string, string], readings: Readings): boolean {
  const [x, y] = [readings.get(a), readings.get(b)]
  const ends = (reading: Reading | undefined): readonly [number, number] | null =>
    !reading || reading.low === null || reading.high === null ? null : [reading.low, reading.high]
  const [p, q] = [ends(x), ends(y)]
  return p !== null && q !== null && (p[1] < q[0] || q[1] < p[0])
}

const seenAlike = ([a, b]: readonly [Measure, Measure], readings: Readings, context: MeasureContext): boolean =>
  a.clip !== undefined &&
  b.clip !== undefined &&
  askAlike(a, b, context) &&
  viewReasons(a, b, readings.get(a.id)?.value ?? 0, context).length === 0
