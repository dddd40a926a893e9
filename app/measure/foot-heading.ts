import { sideWord } from '../body/landmark-name'
import { angleOfLines } from '../geometry/angle'
import { noAnswer, type Answer, type Words } from './answer'
import { floorEffects, onFloor } from './floor-plane'
import { POINT_LIMITS, type Kind } from './kind'
import { clipAt } from './on-frame'

/// Angle of a planted foot, heel to toe, to a floor line; 0–180.
export const footHeadingKind: Kind<'foot-heading'> = {
  kind: 'foot-heading',
  inputs: 'heel and toe of a planted foot; four or more floor marks on the frame and on the line\'s frame; two stands that make the line',
  formula: 'φ = atan2(|u×v|, u·v) on the floor, u = toe − heel, v = B − A; u_φ: every point and mark through the map\'s slopes',
  source: 'geometry through the homography of the floor marks; DOMAIN §2.4',
  budget: ['click', 'placing', 'anatomical', 'blur', 'floor marks'],
  limits: [...POINT_LIMITS, 'not-planted', 'floor-missing', 'floor-too-flat', 'uncertainty-over-20', 'too-uncertain'],
  wording: 'lead foot to the line, on the floor: 35° ± 14°',
  answer(measure, context): Answer {
    const short = `${sideWord(measure.points[1]!, context.lead(measure.clip, measure.subject, measure.frame))} foot to the line`.trim()
    const words: Words = { short, what: `${short}, on the floor`, range: 'estimate, one camera' }
    const clip = clipAt(context, measure)
    if (!clip.ok) return noAnswer('°', 'ground', words, clip.error)
    const found = onFloor(context, clip.value, measure)
    if (!found.ok) return noAnswer('°', 'ground', words, found.error)
    const places = [...found.value.points, ...found.value.line]
    const angle = angleOfLines(places[0]!.at, places[1]!.at, places[2]!.at, places[3]!.at)
    if (!angle) return noAnswer('°', 'ground', words, ['points-coincide'])
    return { value: angle.deg, effects: floorEffects(places, angle.slopes), unit: '°', plane: 'ground', reasons: found.value.warnings, bounds: [0, 180], words }
  },
}
