import { sayLine } from '../body/body-line'
import { sayPoint } from '../body/landmark-name'
import { length, minus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import { noAnswer, type Answer, type Words } from './answer'
import { COVERAGE, merged, uncertaintyOf, type Effect } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { endVariance, placedPoints, pointEffects } from './on-frame'
import type { ReasonCode } from './reason'

/// A unit shorter than this many of its own σ is no unit.
const LEAST_UNIT_SIGMAS = 5

/// Distance of two points across the picture, in lengths of two other points on a frame of the
/// same clip ("head heights", "shoulder widths").
export const distanceKind: Kind<'distance'> = {
  kind: 'distance',
  inputs: 'two points on one frame; two points that make the unit, on a frame of the same clip',
  formula: 'd = |ab| / |cd|; u_d² = (√2·σ/L_cd)²·(1 + d²); interval clipped at 0',
  source: 'geometry; propagation of independent errors (JCGM 100:2008 §5.1)',
  budget: ['click', 'placing', 'anatomical', 'blur', 'scale'],
  limits: [...POINT_LIMITS, 'unit-too-short'],
  wording: 'distance of chin and rear fist across the image: 1.32 ± 0.21 head heights',
  answer(measure, context): Answer {
    const [a, b] = measure.points as [string, string]
    const lead = context.lead(measure.clip, measure.subject, measure.frame)
    const short = `distance of ${sayPoint(a, lead)} and ${sayPoint(b, lead)}`
    const words: Words = { short, what: `${short} across the image` }
    const unit = measure.unit.name || sayLine(measure.unit.points[0]!, measure.unit.points[1]!, lead)
    const found = placedPoints(context, measure, measure.points)
    const scale = placedPoints(context, { ...measure, frame: measure.unit.frame }, measure.unit.points)
    if (!found.ok || !scale.ok) return noAnswer(unit, 'image', words, [...(found.ok ? [] : found.error), ...(scale.ok ? [] : scale.error)])

    const [p, q] = [found.value.points[0]!, found.value.points[1]!]
    const [c, d] = [scale.value.points[0]!, scale.value.points[1]!]
    const across = minus(q.at, p.at)
    const along = minus(d.at, c.at)
    const [span, unitLength] = [length(across), length(along)]
    if (!(unitLength > 0)) return noAnswer(unit, 'image', words, ['points-coincide'])
    if (unitLength < LEAST_UNIT_SIGMAS * Math.sqrt(endVariance(c, d))) return noAnswer(unit, 'image', words, ['unit-too-short'])
    const value = span / unitLength
    // Where the points lie on each other every direction is as likely; any unit direction serves.
    const direction: Point = span > 0 ? scaled(across, 1 / span) : [1, 0]
    const unitDirection = scaled(along, 1 / unitLength)
    const effects: Effect[] = merged([
      ...pointEffects([p, q], [scaled(direction, -1 / unitLength), scaled(direction, 1 / unitLength)]),
      ...pointEffects([c, d], [scaled(unitDirection, value / unitLength), scaled(unitDirection, -value / unitLength)]),
    ])
    const codes: ReasonCode[] = [...found.value.warnings, ...scale.value.warnings]
    const u = uncertaintyOf(effects)
    return { value, effects, interval: [Math.max(0, value - COVERAGE * u), value + COVERAGE * u], unit, plane: 'image', reasons: codes, bounds: [0, Infinity], words }
  },
}
