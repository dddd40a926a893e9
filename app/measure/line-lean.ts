import { sayLine } from '../body/body-line'
import { lean, wrapped } from '../geometry/angle'
import { length, minus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import { noAnswer, type Answer, type Words } from './answer'
import { merged, type Effect } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { locate } from './located'
import { endVariance, isBlurred, placedPoints, pointEffects, shorteningOf } from './on-frame'
import { onPlacedFrames } from './over-frames'
import type { ReasonCode } from './reason'
import { viewWarnings } from './view-warnings'

/// 1 σ of the camera's roll where the clip does not state it [J].
const UNSTATED_ROLL_U_DEG = 2

/// Two points, lower and upper, against the true vertical: the lean on the picture plus the
/// camera's roll. Degrees, 0 upright, within (−180, 180]; + to image right, or towards the lead
/// foot where the measure says so.
export const lineLeanKind: Kind<'line-lean'> = {
  kind: 'line-lean',
  inputs: "two points on one frame, the lower first; the clip's roll; for + towards the lead side, both ankles and the lead side",
  formula: 'L = atan2(Δx, −Δy) + roll; u_L = √2·σ/L (σ/L between the middles of two pairs of clicks) ⊕ u_roll',
  source: 'geometry',
  budget: ['click', 'placing', 'anatomical', 'blur', 'roll'],
  limits: [...POINT_LIMITS, 'roll-unstated', 'view-oblique-lean', 'elevation-over-25', 'blur-long', 'uncertainty-over-20', 'too-uncertain'],
  wording: 'apparent trunk lean in image: 15° ± 6°',
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer(measure, context): Answer {
    const [lower, upper] = measure.points as [string, string]
    const short = `${sayLine(lower, upper, context.lead(measure.clip, measure.subject, measure.frame))} lean`
    const towards = measure.toward === 'lead' ? ', + towards the lead side' : ''
    const words: Words = { short, what: `apparent ${short} in image${towards}`, range: 'estimate, one camera' }
    const found = placedPoints(context, measure, measure.points)
    if (!found.ok) return noAnswer('°', 'image', words, found.error)
    const { points, warnings, clip } = found.value
    const [a, b] = [points[0]!, points[1]!]
    const line = lower === upper ? null : lean(a.at, b.at)
    if (!line) return noAnswer('°', 'image', words, ['points-coincide'])

    const codes: ReasonCode[] = [...warnings, ...viewWarnings(context, measure, 'lean')]
    let sign = 1
    if (measure.toward === 'lead') {
      const lead = locate(context, clip, measure.subject, 'ankle.lead', measure.frame)
      const rear = locate(context, clip, measure.subject, 'ankle.rear', measure.frame)
      if (!lead.ok) return noAnswer('°', 'image', words, [lead.error])
      if (!rear.ok) return noAnswer('°', 'image', words, [rear.error])
      sign = lead.value.at[0] < rear.value.at[0] ? -1 : 1
    }
    const drawn = minus(b.at, a.at)
    if (isBlurred(length(drawn), [a, b])) codes.push('blur-long')
    if (!clip.roll) codes.push('roll-unstated')
    const roll = clip.roll ?? { deg: 0, u: UNSTATED_ROLL_U_DEG }
    const by = sign * shorteningOf(drawn, endVariance(a, b))
    const slopes = line.slopes.map((s): Point => scaled(s, by))
    const effects: Effect[] = [...pointEffects(points, slopes), { key: `roll:${clip.id}`, part: 'roll', shift: [sign * roll.u] }]
    return {
      value: wrapped(sign * wrapped(line.deg + roll.deg)),
      effects: merged(effects),
      unit: '°',
      plane: 'image',
      reasons: codes,
      words,
    }
  },
}
