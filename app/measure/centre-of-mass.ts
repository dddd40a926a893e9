import { endShares, massCentre } from '../body/mass-centre'
import { segmentModels, sidedSegments } from '../body/segment-table'
import type { Point } from '../project/fields'
import { noAnswer, type Answer, type Words } from './answer'
import { cameraMotion, type CameraMotion } from './camera-motion'
import type { MeasureContext } from './context'
import { POINT_LIMITS, type Kind, type MeasureOf } from './kind'
import { lengthScale } from './length-scale'
import { ASSUMED_HEIGHT_PX, locate, type Located } from './located'
import { clipAt } from './on-frame'
import { onOther, placedFrames, type OverFrames } from './over-frames'
import type { ReasonCode } from './reason'
import { wayAcross, type PlaceOnPicture } from './way-across'

/// 1 σ of the model, as shares of standing height: the tables and the joints' stand-ins for what
/// lies between them (2–4 cm of a standing height, [J], most of it the same on
/// both frames) …
const TABLE_SHARE = 0.004
/// … what the missing part of the body may do, per share of mass missing (tuned on captured
/// boxing, judged on captured kicking) …
const MISSING_SHARE = 0.05
/// … and what the body may do around the middle of the hips.
const PROXY_SHARE = 0.014
/// Less of the body than this is no balance point [J].
const LEAST_MASS = 0.5

/// How far the balance point moved across the picture since another frame: of the segments placed
/// on both frames, by a handbook's table; or of the middle of the hips in its stead.
export const centreOfMassKind: Kind<'centre-of-mass'> = {
  kind: 'centre-of-mass',
  inputs: 'the ends of as many segments as are seen, on two frames; a table; a body unit or a scale; a still camera or background points',
  formula:
    "x = Σ m_i·(p_i + c_i·(d_i − p_i)) / Σ m_i, then as displacement; model: 0.4 % of height ⊕ 5 % of height per share of mass missing; the hips' middle alone: 1.4 % of height",
  source: 'de Leva 1996; Winter 2009 Table 4.1; shares of the model: tuned on captured boxing',
  budget: ['click', 'placing', 'anatomical', 'blur', 'camera motion', 'scale', 'model'],
  limits: [...POINT_LIMITS, 'unit-missing', 'unit-too-short', 'camera-not-followed', 'segments-missing', 'stand-in'],
  wording: 'balance point (de Leva, men; hands, feet not seen) moved across the image: 0.42 ± 0.12 thigh lengths',
  over: withTheSameParts,
  answer(measure, context): Answer {
    const proxy = measure.table === 'hip-midpoint'
    const found = partsOf(context, measure)
    const name = proxy
      ? 'hip midpoint (stand-in for the balance point)'
      : `balance point (${[segmentModels[measure.table === 'hip-midpoint' ? 'winter' : measure.table].title, ...(found.missing.length > 0 ? [`${found.missing.join(', ')} not seen`] : [])].join('; ')})`
    const words: Words = { short: `${proxy ? 'hip midpoint' : 'balance point'} moved`, what: `${name} moved across the image` }
    const scale = lengthScale(context, measure)
    const unit = scale.ok ? scale.value.unit : (measure.unit?.name ?? '')
    const clip = clipAt(context, measure)
    if (!clip.ok) return noAnswer(unit, 'image', words, clip.error)
    if (!scale.ok) return noAnswer(unit, 'image', words, scale.error)
    if (found.mass < LEAST_MASS)
      return noAnswer(
        unit,
        'image',
        words,
        found.missing.length > 0 && found.mass === 0 ? ['landmark-missing'] : ['landmark-missing', 'segments-missing'],
      )
    const motion = cameraMotion(context, clip.value, measure.subject, measure.camera, measure.frame, measure.fromFrame)
    if (!motion.ok) return noAnswer(unit, 'image', words, motion.error)
    const before = place(
      found.parts.map((p) => ({ point: p.before, weight: p.weight })),
      null,
    )
    const after = place(
      found.parts.map((p) => ({ point: p.after, weight: p.weight })),
      motion.value,
    )
    const height = context.figureHeight(measure.clip, measure.subject) ?? ASSUMED_HEIGHT_PX
    const model = height * scale.value.perPixel * (proxy ? PROXY_SHARE : Math.hypot(TABLE_SHARE, MISSING_SHARE * (1 - found.mass)))
    const way = wayAcross(before, after, scale.value, [{ key: `model:${measure.id}`, part: 'model', shift: [model] }])
    const codes: ReasonCode[] = [
      ...scale.value.warnings,
      ...motion.value.warnings,
      ...found.parts.flatMap((p) => [...p.before.warnings, ...p.after.warnings]),
    ]
    if (proxy) codes.push('stand-in')
    else if (found.missing.length > 0) codes.push('segments-missing')
    return { ...way, unit, plane: 'image', reasons: codes, words }
  },
}

interface Parts {
  readonly parts: readonly { readonly before: Located; readonly after: Located; readonly weight: number }[]
  /// Share of the body's mass that is seen.
  readonly mass: number
  readonly missing: readonly string[]
}

type Asked = MeasureOf['centre-of-mass']

/// Frames on which the same segments are seen as on the measure's own: the balance point of another part of the body is another point,
/// and would jump where one comes or goes.
function withTheSameParts(measure: Asked): OverFrames {
  return {
    frame: measure.frame,
    frames: (context) => {
      const missing = (frame: number): readonly string[] => partsOf(context, { ...measure, frame }).missing
      const own = missing(measure.frame)
      const first =
        measure.table === 'hip-midpoint' ? 'hip.mid' : sidedSegments(measure.table).find(({ title }) => !own.includes(title))?.from
      return first === undefined
        ? []
        : placedFrames(context, measure.clip, measure.subject, first).filter((frame) => missing(frame).join() === own.join())
    },
    on: (frame) => onOther(measure, frame),
  }
}

const partsOf = (context: MeasureContext, measure: Asked): Parts =>
  measure.table === 'hip-midpoint' ? hips(context, measure) : segments(context, measure)

function both(context: MeasureContext, measure: Asked, name: string): readonly [Located, Located] | null {
  const clip = context.clip(measure.clip)
  if (!clip) return null
  const [a, b] = [
    locate(context, clip, measure.subject, name, measure.fromFrame),
    locate(context, clip, measure.subject, name, measure.frame),
  ]
  return a.ok && b.ok ? [a.value, b.value] : null
}

function hips(context: MeasureContext, measure: Asked): Parts {
  const middle = both(context, measure, 'hip.mid')
  return middle
    ? { parts: [{ before: middle[0], after: middle[1], weight: 1 }], mass: 1, missing: [] }
    : { parts: [], mass: 0, missing: ['hips'] }
}

function segments(context: MeasureContext, measure: Asked): Parts {
  const parts: { before: Located; after: Located; weight: number }[] = []
  const missing = new Set<string>()
  let mass = 0
  if (measure.table === 'hip-midpoint') return { parts, mass, missing: [] }
  for (const segment of sidedSegments(measure.table)) {
    const [from, to] = [both(context, measure, segment.from), both(context, measure, segment.to)]
    if (!from || !to) {
      missing.add(segment.title)
      continue
    }
    mass += segment.mass
    const [first, second] = endShares(segment.centre)
    parts.push(
      { before: from[0], after: from[1], weight: segment.mass * first },
      { before: to[0], after: to[1], weight: segment.mass * second },
    )
  }
  return { parts: parts.map((p) => ({ ...p, weight: p.weight / mass })), mass, missing: [...missing] }
}

/// The balance point of points whose weights are 1 together, the camera's own motion taken out.
function place(points: readonly { readonly point: Located; readonly weight: number }[], motion: CameraMotion | null): PlaceOnPicture {
  const [x = 0, y = 0] = massCentre(points.map(({ point, weight }) => ({ mass: weight, at: point.at }))) ?? []
  const errors: PlaceOnPicture['errors'][number][] = points.flatMap(({ point, weight }) => {
    const slope: readonly [Point, Point] = [
      [weight, 0],
      [0, weight],
    ]
    return point.errors.map((error) => ({ error, slope }))
  })
  if (!motion) return { at: [x, y], errors }
  const steadied = motion.steady([x, y])
  const turned = errors.map(({ error, slope }) => ({
    error,
    slope: [
      [steadied.slope[0][0] * slope[0][0], steadied.slope[0][1] * slope[1][1]],
      [steadied.slope[1][0] * slope[0][0], steadied.slope[1][1] * slope[1][1]],
    ] as const,
  }))
  return {
    at: steadied.at,
    errors: [
      ...turned,
      ...steadied.errors.map((error) => ({
        error,
        slope: [
          [1, 0],
          [0, 1],
        ] as const,
      })),
    ],
  }
}
