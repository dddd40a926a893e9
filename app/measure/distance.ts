import { sayLine } from '../body/body-line'
import { sayPoint } from '../body/landmark-name'
import { noAnswer, type Answer, type Words } from './answer'
import { POINT_LIMITS, type Kind } from './kind'
import { lengthScale } from './length-scale'
import { placeOnPicture } from './displacement'
import { placedPoints } from './on-frame'
import { onPlacedFrames } from './over-frames'
import { wayAcross } from './way-across'

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
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer(measure, context): Answer {
    const [a, b] = measure.points as [string, string]
    const lead = context.lead(measure.clip, measure.subject, measure.frame)
    const short = `distance of ${sayPoint(a, lead)} and ${sayPoint(b, lead)}`
    const words: Words = { short, what: `${short} across the image` }
    const unit = measure.unit.name || sayLine(measure.unit.points[0]!, measure.unit.points[1]!, lead)
    const found = placedPoints(context, measure, measure.points)
    const scale = lengthScale(context, measure)
    if (!found.ok || !scale.ok) return noAnswer(unit, 'image', words, [...(found.ok ? [] : found.error), ...(scale.ok ? [] : scale.error)])
    const way = wayAcross(placeOnPicture(found.value.points[0]!), placeOnPicture(found.value.points[1]!), scale.value)
    return { ...way, unit, plane: 'image', reasons: [...found.value.warnings, ...scale.value.warnings], words }
  },
}
