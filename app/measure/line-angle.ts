import { sayLine } from '../body/body-line'
import { angleOfLines } from '../geometry/angle'
import { length, minus, scaled } from '../geometry/vector'
import { noAnswer, type Answer, type Words } from './answer'
import { merged } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { endVariance, isBlurred, placedPoints, pointEffects, shorteningOf } from './on-frame'
import { onPlacedFrames } from './over-frames'
import type { ReasonCode } from './reason'
import { viewWarnings } from './view-warnings'

/// Four points: line ab against line cd, both directed; degrees, 0–180, of the drawn lines.
export const lineAngleKind: Kind<'line-angle'> = {
  kind: 'line-angle',
  inputs: 'four points on one frame: the ends of one line, then of the other',
  formula: 'φ = atan2(|u×v|, u·v), u = b−a, v = d−c; u_φ² = 2σ²·(1/L1² + 1/L2²) where no point is shared',
  source: 'geometry',
  budget: ['click', 'placing', 'anatomical', 'blur'],
  limits: [...POINT_LIMITS, 'view-oblique', 'elevation-over-25', 'blur-long', 'uncertainty-over-20', 'too-uncertain'],
  wording: 'apparent angle of hip line to shoulder line, image plane: 24° ± 9°',
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer(measure, context): Answer {
    const [a, b, c, d] = measure.points as [string, string, string, string]
    const lead = context.lead(measure.clip, measure.subject, measure.frame)
    const short = `angle of ${sayLine(a, b, lead)} to ${sayLine(c, d, lead)}`
    const words: Words = { short, what: `apparent ${short}, image plane`, range: 'estimate, one camera' }
    const found = placedPoints(context, measure, measure.points)
    if (!found.ok) return noAnswer('°', 'image', words, found.error)
    const [p, q, r, s] = found.value.points as [
      (typeof found.value.points)[0],
      (typeof found.value.points)[0],
      (typeof found.value.points)[0],
      (typeof found.value.points)[0],
    ]
    const angle = a === b || c === d ? null : angleOfLines(p.at, q.at, r.at, s.at)
    if (!angle) return noAnswer('°', 'image', words, ['points-coincide'])
    const codes: ReasonCode[] = [...found.value.warnings, ...viewWarnings(context, measure, 'joint')]
    const [u, v] = [minus(q.at, p.at), minus(s.at, r.at)]
    if (isBlurred(length(u), [p, q]) || isBlurred(length(v), [r, s])) codes.push('blur-long')
    const byU = shorteningOf(u, endVariance(p, q))
    const byV = shorteningOf(v, endVariance(r, s))
    const slopes = angle.slopes.map((slope, i) => scaled(slope, i < 2 ? byU : byV))
    return {
      value: angle.deg,
      effects: merged(pointEffects(found.value.points, slopes)),
      unit: '°',
      plane: 'image',
      reasons: codes,
      bounds: [0, 180],
      words,
    }
  },
}
