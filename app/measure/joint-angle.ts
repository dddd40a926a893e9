import { placeOf, sayPoint, sideWord, type Side } from '../body/landmark-name'
import { jointAngle } from '../geometry/angle'
import { length, minus } from '../geometry/vector'
import type { Point } from '../project/fields'
import { noAnswer, type Answer, type Words } from './answer'
import { merged, uncertaintyOf, type Effect } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { PLANE_REFUSED_DEG, PLANE_WARNED_DEG, planeSpread } from './limb-plane'
import { endVariance, isBlurred, placedPoints, pointEffects, shorteningOf } from './on-frame'
import { onPlacedFrames } from './over-frames'
import type { ReasonCode } from './reason'
import { viewWarnings } from './view-warnings'

/// Three points, vertex in the middle; interior angle, degrees, 0–180. Apparent (of the drawn
/// lines) unless the measure states its limb's plane.
export const jointAngleKind: Kind<'joint-angle'> = {
  kind: 'joint-angle',
  inputs:
    "three points on one frame, the joint in the middle; for the angle in its plane, how far the limb's plane is turned from the picture",
  formula:
    'φ = atan2(|u×v|, u·v), u = P1−P0, v = P2−P0; u_φ² = σ²·(2/L1² + 2/L2² − 2cos φ/(L1·L2)); in its plane: every axis of a squeeze by cos ψ, by quadrature',
  source: 'geometry; click noise and plane bound: Monte Carlo of our own',
  budget: ['click', 'placing', 'anatomical', 'blur', 'plane'],
  limits: [
    ...POINT_LIMITS,
    'plane-over-35',
    'plane-20-to-35',
    'view-oblique',
    'elevation-over-25',
    'blur-long',
    'uncertainty-over-20',
    'too-uncertain',
  ],
  wording: 'apparent rear knee angle, image plane: 142° ± 12°; rear knee angle, in its plane: 142° ± 14°',
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer(measure, context): Answer {
    const [first, vertex, last] = measure.points as [string, string, string]
    const found = placedPoints(context, measure, measure.points)
    const plane = measure.plane ? 'true' : 'image'
    const words = wordsFor(vertex, context.lead(measure.clip, measure.subject, measure.frame), measure.plane !== undefined)
    if (!found.ok) return noAnswer('°', plane, words, found.error)
    const { points, warnings } = found.value
    const at = points.map((p) => p.at) as [Point, Point, Point]
    const angle = first === vertex || last === vertex ? null : jointAngle(...at)
    if (!angle) return noAnswer('°', plane, words, ['points-coincide'])

    const codes: ReasonCode[] = [...warnings]
    const [u, v] = [minus(at[0], at[1]), minus(at[2], at[1])]
    if (isBlurred(length(u), [points[0]!, points[1]!]) || isBlurred(length(v), [points[2]!, points[1]!])) codes.push('blur-long')
    const shorten = [shorteningOf(u, endVariance(points[0]!, points[1]!)), shorteningOf(v, endVariance(points[2]!, points[1]!))] as const
    const [byFirst, , byLast] = angle.slopes as readonly [Point, Point, Point]
    const slopeFirst: Point = [byFirst[0] * shorten[0], byFirst[1] * shorten[0]]
    const slopeLast: Point = [byLast[0] * shorten[1], byLast[1] * shorten[1]]
    const slopes: Point[] = [slopeFirst, [-slopeFirst[0] - slopeLast[0], -slopeFirst[1] - slopeLast[1]], slopeLast]
    const effects = merged(pointEffects(points, slopes))

    if (!measure.plane) {
      codes.push(...viewWarnings(context, measure, 'joint'))
      return { value: angle.deg, effects, unit: '°', plane, reasons: codes, bounds: [0, 180], words }
    }
    const turned = Math.abs(measure.plane.deg)
    if (turned > PLANE_REFUSED_DEG) return noAnswer('°', plane, words, ['plane-over-35', ...codes])
    if (turned > PLANE_WARNED_DEG) codes.push('plane-20-to-35')
    const spread = planeSpread(at, angle.deg, measure.plane, uncertaintyOf(effects))
    if (!spread) return noAnswer('°', plane, words, ['points-coincide'])
    const withPlane: Effect[] = [...effects, { key: `plane:${measure.id}`, part: 'plane', shift: [spread.u] }]
    return { value: angle.deg, effects: withPlane, interval: spread.interval, unit: '°', plane, reasons: codes, bounds: [0, 180], words }
  },
}

function wordsFor(vertex: string, lead: Side | null, inPlane: boolean): Words {
  const side = sideWord(vertex, lead)
  const short = `${side === '' ? sayPoint(vertex, lead) : `${side} ${placeOf(vertex).replaceAll(/[.-]/g, ' ')}`} angle`
  return { short, what: inPlane ? `${short}, in its plane` : `apparent ${short}, image plane`, range: 'estimate, one camera' }
}
