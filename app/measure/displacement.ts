import { sayPoint } from '../body/landmark-name'
import { minus } from '../geometry/vector'
import type { Point } from '../project/fields'
import { ok, refused, type Result } from '../result'
import { noAnswer, type Answer, type Words } from './answer'
import { cameraMotion, type Steadied } from './camera-motion'
import type { MeasureContext } from './context'
import { POINT_LIMITS, type Kind, type MeasureOf } from './kind'
import { lengthScale } from './length-scale'
import type { Located } from './located'
import { placedPoints } from './on-frame'
import { onPlacedFrames } from './over-frames'
import type { ReasonCode } from './reason'
import { wayAcross, type PlaceOnPicture } from './way-across'

const LIMITS = [...POINT_LIMITS, 'unit-missing', 'unit-too-short', 'camera-not-followed'] as const satisfies readonly ReasonCode[]
const SOURCE = 'geometry; homography as Hartley and Zisserman 2003 §4.4'

/// How far a point moved across the picture since another frame.
export const displacementKind: Kind<'displacement'> = {
  kind: 'displacement',
  inputs:
    'one point on two frames; a body unit or a scale; a still camera or background points (or a point of the body against which it is told)',
  formula:
    'd = |x2′ − x1|·s, x2′ steadied by the background; u_d² = s²·(σ1² + σ2² + σ_camera²) + (d·u_s/s)²; the anatomical offset of one landmark cancels; below 2.45 u the interval goes down to 0',
  source: SOURCE,
  budget: ['click', 'placing', 'anatomical', 'blur', 'camera motion', 'scale'],
  limits: LIMITS,
  wording: 'rear knee moved across the image: 0.84 ± 0.12 thigh lengths',
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer: (measure, context) => moved(measure, context),
}

/// The same for the head, in head heights: against the picture, or against the trunk.
export const headDisplacementKind: Kind<'head-displacement'> = {
  kind: 'head-displacement',
  inputs:
    'one point of the head on two frames; head height on a frame; a still camera or background points, or a point of the trunk against which it is told',
  formula: 'as displacement, in head heights',
  source: SOURCE,
  budget: displacementKind.budget,
  limits: LIMITS,
  wording: 'head moved across the image: 1.00 ± 0.25 head heights',
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer: (measure, context) => moved(measure, context),
}

function moved(measure: MeasureOf['displacement'] | MeasureOf['head-displacement'], context: MeasureContext): Answer {
  const [point] = measure.points as [string]
  const lead = context.lead(measure.clip, measure.subject, measure.frame)
  const name = measure.kind === 'head-displacement' ? 'head' : sayPoint(point, lead)
  const against = measure.against ? ` against the ${sayPoint(measure.against, lead)}` : ' across the image'
  const words: Words = { short: `${name} moved`, what: `${name} moved${against}` }
  const scale = lengthScale(context, measure)
  const unit = scale.ok ? scale.value.unit : (measure.unit?.name ?? '')
  const names = measure.against ? [point, measure.against] : [point]
  const after = placedPoints(context, measure, names)
  const before = placedPoints(context, { ...measure, frame: measure.fromFrame }, names)
  if (!after.ok || !before.ok || !scale.ok)
    return noAnswer(unit, 'image', words, [
      ...(after.ok ? [] : after.error),
      ...(before.ok ? [] : before.error),
      ...(scale.ok ? [] : scale.error),
    ])

  const codes: ReasonCode[] = [...after.value.warnings, ...before.value.warnings, ...scale.value.warnings]
  let places: readonly [PlaceOnPicture, PlaceOnPicture]
  if (measure.against) places = [relative(before.value.points), relative(after.value.points)]
  else {
    const steadied = steadiedPlace(context, measure, after.value.points[0]!)
    if (!steadied.ok) return noAnswer(unit, 'image', words, steadied.error)
    codes.push(...steadied.value.warnings)
    places = [placeOnPicture(before.value.points[0]!), steadied.value.place]
  }
  const way = wayAcross(places[0], places[1], scale.value)
  return { ...way, unit, plane: 'image', reasons: codes, words }
}

const STRAIGHT: readonly [Point, Point] = [
  [1, 0],
  [0, 1],
]
const TURNED: readonly [Point, Point] = [
  [-1, 0],
  [0, -1],
]

export const placeOnPicture = (point: Located): PlaceOnPicture => ({
  at: point.at,
  errors: point.errors.map((error) => ({ error, slope: STRAIGHT })),
})

const relative = ([point, against]: readonly Located[]): PlaceOnPicture => ({
  at: minus(point!.at, against!.at),
  errors: [...point!.errors.map((error) => ({ error, slope: STRAIGHT })), ...against!.errors.map((error) => ({ error, slope: TURNED }))],
})

export const steadiedPoint = (point: Located, s: Steadied): PlaceOnPicture => ({
  at: s.at,
  errors: [...point.errors.map((error) => ({ error, slope: s.slope })), ...s.errors.map((error) => ({ error, slope: STRAIGHT }))],
})

type Moving = Pick<MeasureOf['displacement'], 'clip' | 'subject' | 'camera' | 'frame' | 'fromFrame'>

function steadiedPlace(
  context: MeasureContext,
  measure: Moving,
  point: Located,
): Result<{ place: PlaceOnPicture; warnings: readonly ReasonCode[] }, readonly ReasonCode[]> {
  const motion = cameraMotion(context, context.clip(measure.clip)!, measure.subject, measure.camera, measure.frame, measure.fromFrame)
  if (!motion.ok) return refused(motion.error)
  return ok({ place: steadiedPoint(point, motion.value.steady(point.at)), warnings: motion.value.warnings })
}
