import { toRadians, wrapped } from '../geometry/angle'
import type { Point } from '../project/fields'
import type { Measure } from '../project/question'
import { noAnswer, type Answer, type Words } from './answer'
import type { MeasureContext } from './context'
import { COVERAGE, differenceOf, merged, uncertaintyOf, type Effect } from './effect'
import type { Kind } from './kind'
import { unsqueezed } from './limb-plane'
import { mayBeCompared } from './likeness'
import { leastMargin, ONE_SIDED } from './margin'
import { reasons as table, type ReasonCode } from './reason'
import { valueWithError } from './wording'

/// Two readings of one kind against each other (docs/measurement.md): their difference, with what both share
/// taken out of its error, and one of three answers.

/// Cameras whose yaw differs by no more than this look alike; up to the second, the difference is
/// given a bound; beyond it angles are not compared.
const ALIKE_DEG = 10
const UNLIKE_DEG = 25
const ELEVATION_DEG = 15

/// Kinds whose value is an angle of drawn lines, so that the view matters.
const SEEN: ReadonlySet<Measure['kind']> = new Set(['joint-angle', 'line-lean', 'line-angle', 'angular-rate', 'by-eye'])

/// Asks a measure's kind and finishes nothing; given by the registry, which this file is part of.
export type Ask = (measure: Measure, context: MeasureContext) => Answer

export const comparisonKindOf = (ask: Ask): Kind<'comparison'> => ({
  kind: 'comparison',
  inputs: 'two measures of one kind; how near counts as similar, written down before the second was measured',
  formula:
    'd = a − b; u_d from the sources that the two do not share; differs: |d| ≥ 1.96·u_d; similar within δ: |d| + 1.645·u_d < δ; else cannot tell apart',
  source: 'minimal detectable change; two one-sided tests (Schuirmann 1987)',
  budget: ['click', 'placing', 'anatomical', 'blur', 'roll', 'plane', 'event', 'capture factor', 'view'],
  limits: [
    'measure-missing',
    'measure-refused',
    'kinds-differ',
    'views-differ',
    'views-10-to-25',
    'view-unstated',
    'elevation-differs',
    'margin-too-small',
    'margin-changed',
    'one-bout',
  ],
  wording: 'rear knee angle, first − second: −9° ± 17°, cannot tell apart at this precision',
  answer(measure, context): Answer {
    const blank: Words = { short: 'comparison', what: 'comparison' }
    const [a, b] = measure.measures.map((id) => context.measure(id))
    if (!a || !b) return noAnswer('', 'image', blank, ['measure-missing'])
    if (a.kind !== b.kind || !mayBeCompared(a)) return noAnswer('', 'image', blank, ['kinds-differ'])
    const [first, second] = [ask(a, context), ask(b, context)]
    const name = first.words.short === second.words.short ? first.words.short : `${first.words.short} and ${second.words.short}`
    const words: Words = { short: `comparison of ${name}`, what: `${name}, first − second` }
    if (first.unit !== second.unit || first.plane !== second.plane) return noAnswer(first.unit, first.plane, words, ['kinds-differ'])
    if (first.value === null || second.value === null || [...first.reasons, ...second.reasons].some((c) => table[c].weight === 'refuse'))
      return noAnswer(first.unit, first.plane, words, ['measure-refused', ...first.reasons, ...second.reasons])

    const codes: ReasonCode[] = []
    const gate = SEEN.has(a.kind) ? viewGate(a, b, first.value, context) : { effect: null, codes: [] }
    codes.push(...gate.codes)
    if (codes.includes('views-differ')) return noAnswer(first.unit, first.plane, words, codes)
    if (sameBout(a, b, context)) codes.push('one-bout')

    const turns = a.kind === 'line-lean' || (a.kind === 'separation' && first.unit === '°')
    const d = turns ? wrapped(first.value - second.value) : first.value - second.value
    const effects = merged([...differenceOf(merged(first.effects), merged(second.effects)), ...(gate.effect ? [gate.effect] : [])])
    const half = halfWidth(first, second, d, effects)
    const u = half / COVERAGE
    const outcome = decide(d, u, measure.margin, codes)
    const difference = valueWithError(d, half, first.unit)
    const own = { plate: `${difference}, ${outcome}`, spoken: outcome }
    return {
      value: d,
      effects,
      u,
      interval: [d - half, d + half],
      unit: first.unit === '°' && half > 20 ? '°' : first.unit,
      plane: first.plane,
      reasons: codes,
      words: { ...words, own },
    }
  },
})

/// The half width that faces the other value, where intervals are lopsided or bounded; what the two
/// share is taken out where both are normal.
function halfWidth(a: Answer, b: Answer, d: number, effects: readonly Effect[]): number {
  const normal = COVERAGE * uncertaintyOf(effects)
  if (!a.interval && !b.interval) return normal
  const side = (x: Answer, down: boolean): number => {
    const [low, high] = x.interval ?? [
      x.value! - COVERAGE * uncertaintyOf(merged(x.effects)),
      x.value! + COVERAGE * uncertaintyOf(merged(x.effects)),
    ]
    return Math.abs(down ? x.value! - low : high - x.value!)
  }
  return Math.hypot(side(a, d > 0), side(b, d <= 0))
}

function decide(
  d: number,
  u: number,
  margin: { readonly delta: number; readonly before: boolean } | undefined,
  codes: ReasonCode[],
): string {
  if (Math.abs(d) >= COVERAGE * u) {
    codes.push('differs')
    return 'differs (beyond our error)'
  }
  if (margin) {
    if (margin.delta < leastMargin(u / Math.SQRT2)) codes.push('margin-too-small')
    else if (Math.abs(d) + ONE_SIDED * u < margin.delta) {
      codes.push('similar')
      if (!margin.before) codes.push('margin-changed')
      return `similar within ${margin.delta}${margin.before ? '' : ' (a margin set afterwards)'}`
    }
  }
  codes.push('cannot-tell')
  return 'cannot tell apart at this precision'
}

const viewOf = (m: Measure, context: MeasureContext) =>
  'subject' in m && m.subject !== undefined && 'frame' in m ? context.view(m.clip, m.subject, m.frame) : null

/// Why what two measures saw from their cameras may not be held against each other, or only with a bound; none where they look alike,
/// or where the kind is none that a view changes.
export const viewReasons = (a: Measure, b: Measure, value: number, context: MeasureContext): readonly ReasonCode[] =>
  SEEN.has(a.kind) ? viewGate(a, b, value, context).codes : []

function viewGate(
  a: Measure,
  b: Measure,
  value: number,
  context: MeasureContext,
): { readonly effect: Effect | null; readonly codes: readonly ReasonCode[] } {
  if (a.clip === b.clip) return { effect: null, codes: [] }
  const [va, vb] = [viewOf(a, context), viewOf(b, context)]
  const codes: ReasonCode[] = []
  if (va?.elevation && vb?.elevation && Math.abs(va.elevation.deg - vb.elevation.deg) > ELEVATION_DEG) codes.push('elevation-differs')
  if (!va?.yaw || !vb?.yaw) return { effect: null, codes: [...codes, 'view-unstated'] }
  // A view from the other side shows the mirror image: the same angle, but a lean to the other side of the picture.
  const fold = (deg: number): number => Math.min(Math.abs(wrapped(deg)), 180 - Math.abs(wrapped(deg)))
  const turned = va.yaw.deg - vb.yaw.deg
  const apart =
    a.kind === 'line-lean' && a.toward !== 'lead' ? Math.abs(wrapped(turned)) : Math.min(fold(turned), fold(va.yaw.deg + vb.yaw.deg))
  if (apart > UNLIKE_DEG) return { effect: null, codes: ['views-differ', ...codes] }
  if (apart <= ALIKE_DEG) return { effect: null, codes }
  return {
    effect: { key: `view:${a.id}:${b.id}`, part: 'view', shift: [squeezeBound(value, apart) / Math.sqrt(3)] },
    codes: [...codes, 'views-10-to-25'],
  }
}

/// The most that seeing an angle from a direction `psi_deg` away can change it, whatever the
/// orientation of the limb: the out-of-plane bound of docs/measurement.md.
function squeezeBound(deg: number, psi_deg: number): number {
  const [half, psi] = [toRadians(Math.min(180, Math.abs(deg)) / 2), toRadians(psi_deg)]
  const points: [Point, Point, Point] = [
    [Math.sin(half), -Math.cos(half)],
    [0, 0],
    [-Math.sin(half), -Math.cos(half)],
  ]
  let bound = 0
  for (let i = 0; i < 36; i++) bound = Math.max(bound, Math.abs((unsqueezed(points, psi, (Math.PI * i) / 36) ?? deg) - Math.abs(deg)))
  return bound
}

function sameBout(a: Measure, b: Measure, context: MeasureContext): boolean {
  if (a.clip === undefined || b.clip === undefined || a.clip === b.clip) return false
  const [p, q] = [context.clip(a.clip)?.bout, context.clip(b.clip)?.bout]
  return p !== undefined && p === q
}
