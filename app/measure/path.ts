import { sayPoint } from '../body/landmark-name'
import { length, minus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import type { Clip } from '../project/film'
import type { Smoother } from '../motion/smoother'
import { noAnswer, type Answer, type Words } from './answer'
import type { MeasureContext } from './context'
import { COVERAGE, merged, uncertaintyOf } from './effect'
import { POINT_LIMITS, type Kind, type MeasureOf } from './kind'
import { lengthScale, scaledInterval, scaleEffects, type LengthScale } from './length-scale'
import { locate } from './located'
import { movingPoint, placeEffects, weighedPlace, type MovingPoint } from './moving-point'
import { clipAt } from './on-frame'
import type { OverFrames } from './over-frames'
import { runAround } from './run-of-frames'

/// Length of a point's way across the picture between two frames, smoothed. Noise makes every
/// step longer, so each step is freed of what its own noise adds on average.
export const pathKind: Kind<'path'> = {
  kind: 'path',
  inputs:
    'a point tracked on every frame between two; a body unit or a scale; the capture factor (for the cut-off); a still camera or background points',
  formula:
    'L = Σ √(|Δ_i|² − 2σ_Δ²)·s over low-passed steps Δ_i; u: every placing through all steps ⊕ spread of two cut-offs (± 30 %)/√3 ⊕ L·u_s/s',
  source: 'geometry; E|Δ + n|² = |Δ|² + 2σ_Δ²; filter as angular-rate',
  budget: ['click', 'placing', 'anatomical', 'blur', 'camera motion', 'filter', 'scale'],
  limits: [...POINT_LIMITS, 'capture-unknown', 'film-not-read', 'too-few-samples', 'unit-missing', 'unit-too-short', 'camera-not-followed'],
  wording: 'path of head across the image: 2.1 ± 0.3 head heights',
  over: upToEachFrame,
  answer(measure, context): Answer {
    const words = wordsOf(measure, context)
    const scale = lengthScale(context, measure)
    const unit = scale.ok ? scale.value.unit : (measure.unit?.name ?? '')
    const clip = clipAt(context, { clip: measure.clip, frame: measure.fromFrame })
    if (!clip.ok) return noAnswer(unit, 'image', words, clip.error)
    if (measure.toFrame <= measure.fromFrame || measure.toFrame >= clip.value.to) return noAnswer(unit, 'image', words, ['outside-clip'])
    const moving = followed(measure, clip.value, context, measure.toFrame)
    if (!moving.ok || !scale.ok)
      return noAnswer(unit, 'image', words, [...(moving.ok ? [] : moving.error), ...(scale.ok ? [] : scale.error)])
    const span = spanOf(moving.value, measure.fromFrame, measure.toFrame)
    const [at, below, above] = moving.value.smoothers.map((smoother) => [...waysOf(moving.value, smoother, span)].at(-1)!) as [
      Way,
      Way,
      Way,
    ]
    const ofPlaces = placeEffects(
      moving.value.places,
      at.slopes.map((slope) => scaled(slope, scale.value.perPixel)),
    )
    const { spread, ...answer } = answered(
      { at: at.px, added: at.added, below: below.px, above: above.px },
      uncertaintyOf(ofPlaces),
      scale.value,
      moving.value,
      words,
    )
    const effects = merged([
      ...ofPlaces,
      { key: `filter:${measure.id}`, part: 'filter', shift: [spread / Math.sqrt(3)] },
      ...scaleEffects(scale.value, answer.value),
    ])
    return { ...answer, effects }
  },
}

type Asked = MeasureOf['path']

function wordsOf(measure: Asked, context: MeasureContext): Words {
  const short = `path of ${sayPoint(measure.points[0]!, context.lead(measure.clip, measure.subject, measure.fromFrame))}`
  return { short, what: `${short} across the image` }
}

const followed = (measure: Asked, clip: Clip, context: MeasureContext, toFrame: number): ReturnType<typeof movingPoint> =>
  movingPoint(
    context,
    clip,
    { clip: measure.clip, subject: measure.subject, point: measure.points[0]!, camera: measure.camera, cutoff: measure.cutoff },
    measure.fromFrame,
    toFrame,
  )

const spanOf = ({ run }: MovingPoint, from: number, to: number): readonly [number, number] => [
  run.frames.indexOf(from),
  run.frames.indexOf(to),
]

/// Lengths in pixels: at the cut-off, what noise would have added to it, and at 30 % below and above.
interface Lengths {
  readonly at: number
  readonly added: number
  readonly below: number
  readonly above: number
}

/// `ofPlaces`: 1 σ of what the placings do, in the unit. The answer's effects are left to who knows them.
function answered(
  { at, added, below, above }: Lengths,
  ofPlaces: number,
  scale: LengthScale,
  { cutoff_hz, warnings }: MovingPoint,
  words: Words,
): Answer & { readonly value: number; readonly spread: number } {
  const value = at * scale.perPixel
  const spread = Math.max(Math.abs(below - at), Math.abs(above - at)) * scale.perPixel
  const ofWay = Math.hypot(ofPlaces, spread / Math.sqrt(3))
  // What the steps' noise adds is itself known no better than to about its own half.
  const half = COVERAGE * ofWay + (added * scale.perPixel) / 2
  return {
    value,
    spread,
    effects: [],
    interval: scaledInterval(value, half, scale, false),
    unit: scale.unit,
    plane: 'image',
    reasons: [...warnings, ...scale.warnings],
    bounds: [0, Infinity],
    words,
    lower: { value: below * scale.perPixel, cutoff_hz },
  }
}

/// The length of the way up to each frame, from one run of the whole: asked one after the other, every frame would want a filter of its
/// own length. It ends where the run does: at a frame without a placing, and at contact.
function upToEachFrame(measure: Asked): OverFrames {
  return {
    frame: measure.toFrame,
    frames: () => Array.from({ length: Math.max(0, measure.toFrame - measure.fromFrame) }, (_, i) => measure.fromFrame + 1 + i),
    on: (frame) => ({ ...measure, toFrame: frame }),
    atOnce: (context) => {
      const { fromFrame } = measure
      const found = new Map<number, Answer>()
      const clip = clipAt(context, { clip: measure.clip, frame: fromFrame })
      const scale = lengthScale(context, measure)
      if (!clip.ok || !scale.ok) return found
      const run = runAround(
        context,
        clip.value,
        fromFrame,
        fromFrame,
        measure.toFrame - fromFrame,
        (frame) => locate(context, clip.value, measure.subject, measure.points[0]!, frame).ok,
      )
      const last = run.ok ? run.value.frames.at(-1)! : fromFrame
      const moving = last > fromFrame ? followed(measure, clip.value, context, last) : null
      if (!moving?.ok) return found
      const words = wordsOf(measure, context)
      const span = spanOf(moving.value, fromFrame, last)
      const uncertainty = wayUncertainty(moving.value.places)
      const [ways, below, above] = moving.value.smoothers.map((smoother) => waysOf(moving.value, smoother, span)) as [Ways, Ways, Ways]
      for (const at of ways) {
        const [lower, higher] = [below.next(), above.next()]
        if (lower.done || higher.done) break
        const frame = fromFrame + 1 + found.size
        found.set(
          frame,
          answered(
            { at: at.px, added: at.added, below: lower.value.px, above: higher.value.px },
            uncertainty(at.slopes) * scale.value.perPixel,
            scale.value,
            moving.value,
            words,
          ),
        )
      }
      return found
    },
  }
}

interface Way {
  readonly px: number
  /// What noise would have added, px.
  readonly added: number
  /// How each sample moves the length; the next step changes it.
  readonly slopes: readonly Point[]
}
type Ways = Generator<Way, void>

/// The way up to each frame of the span after its first.
function* waysOf({ places }: MovingPoint, smoother: Smoother, [first, last]: readonly [number, number]): Ways {
  const points = smoother.value.map((row) => weighedPlace(row, places))
  const variances = places.map(independentVariance)
  const slopes = places.map((): [number, number] => [0, 0])
  let px = 0
  let drawn = 0
  for (let i = first; i < last; i++) {
    const step = minus(points[i + 1]!, points[i]!)
    const size = length(step)
    const weights = smoother.value[i + 1]!.map((w, j) => w - smoother.value[i]![j]!)
    const variance = weights.reduce((sum, w, j) => sum + w * w * variances[j]!, 0)
    px += Math.sqrt(Math.max(0, size * size - 2 * variance))
    drawn += size
    if (size > 0)
      weights.forEach((w, j) => {
        slopes[j]![0] += (w * step[0]) / size
        slopes[j]![1] += (w * step[1]) / size
      })
    yield { px, added: drawn - px, slopes }
  }
}

/// 1 σ of Σ slopes_i · place_i for many sets of slopes, px, as `placeEffects` has it: what is new at every placing is a quadratic form a
/// place; what places share (a landmark's constant offset) is summed before it is squared.
function wayUncertainty(places: MovingPoint['places']): (slopes: readonly Point[]) => number {
  const byKey = new Map<string, { readonly i: number; readonly sigma: number; readonly slope: readonly [Point, Point] }[]>()
  places.forEach(({ errors }, i) => {
    for (const {
      error: { key, sigma },
      slope,
    } of errors) {
      const known = byKey.get(key)
      if (known) known.push({ i, sigma, slope })
      else byKey.set(key, [{ i, sigma, slope }])
    }
  })
  const own = places.map((): [number, number, number] => [0, 0, 0])
  const shared = [...byKey.values()].filter((uses) => uses.length > 1)
  for (const [use, more] of byKey.values()) {
    if (!use || more) continue
    const {
      i,
      sigma,
      slope: [x, y],
    } = use
    const form = own[i]!
    form[0] += sigma ** 2 * (x[0] ** 2 + x[1] ** 2)
    form[1] += sigma ** 2 * (x[0] * y[0] + x[1] * y[1])
    form[2] += sigma ** 2 * (y[0] ** 2 + y[1] ** 2)
  }
  return (slopes) => {
    let variance = 0
    slopes.forEach(([x, y], i) => (variance += x * x * own[i]![0] + 2 * x * y * own[i]![1] + y * y * own[i]![2]))
    for (const uses of shared) {
      let [a, b] = [0, 0]
      for (const { i, sigma, slope } of uses) {
        const [x, y] = slopes[i]!
        a += sigma * (x * slope[0][0] + y * slope[1][0])
        b += sigma * (x * slope[0][1] + y * slope[1][1])
      }
      variance += a * a + b * b
    }
    return Math.sqrt(variance)
  }
}

/// Per axis, of what is new at every placing: a constant offset does not lengthen a way.
const independentVariance = (place: MovingPoint['places'][number]): number =>
  place.errors.reduce(
    (sum, { error, slope }) =>
      sum +
      (error.part === 'anatomical'
        ? 0
        : (error.sigma ** 2 * (slope[0][0] ** 2 + slope[0][1] ** 2 + slope[1][0] ** 2 + slope[1][1] ** 2)) / 2),
    0,
  )
