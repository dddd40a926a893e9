import { sayPoint } from '../body/landmark-name'
import { length, minus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import type { Smoother } from '../motion/smoother'
import { noAnswer, type Answer, type Words } from './answer'
import { COVERAGE, merged, uncertaintyOf } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { lengthScale, scaledInterval, scaleEffects } from './length-scale'
import { movingPoint, placeEffects, weighedPlace, type MovingPoint } from './moving-point'
import { clipAt } from './on-frame'
import type { ReasonCode } from './reason'

/// Length of a point's way across the picture between two frames, smoothed. Noise makes every
/// step longer, so each step is freed of what its own noise adds on average.
export const pathKind: Kind<'path'> = {
  kind: 'path',
  inputs: 'a point tracked on every frame between two; a body unit or a scale; the capture factor (for the cut-off); a still camera or background points',
  formula: 'L = Σ √(|Δ_i|² − 2σ_Δ²)·s over low-passed steps Δ_i; u: every placing through all steps ⊕ spread of two cut-offs (± 30 %)/√3 ⊕ L·u_s/s',
  source: 'geometry; E|Δ + n|² = |Δ|² + 2σ_Δ²; filter as angular-rate',
  budget: ['click', 'placing', 'anatomical', 'blur', 'camera motion', 'filter', 'scale'],
  limits: [...POINT_LIMITS, 'capture-unknown', 'film-not-read', 'too-few-samples', 'unit-missing', 'unit-too-short', 'camera-not-followed'],
  wording: 'path of head across the image: 2.1 ± 0.3 head heights',
  answer(measure, context): Answer {
    const [point] = measure.points as [string]
    const short = `path of ${sayPoint(point, context.lead(measure.clip, measure.subject, measure.fromFrame))}`
    const words: Words = { short, what: `${short} across the image` }
    const scale = lengthScale(context, measure)
    const unit = scale.ok ? scale.value.unit : (measure.unit?.name ?? '')
    const clip = clipAt(context, { clip: measure.clip, frame: measure.fromFrame })
    if (!clip.ok) return noAnswer(unit, 'image', words, clip.error)
    if (measure.toFrame <= measure.fromFrame || measure.toFrame >= clip.value.to) return noAnswer(unit, 'image', words, ['outside-clip'])
    const moving = movingPoint(context, clip.value, { ...measure, point, camera: measure.camera, cutoff: measure.cutoff }, measure.fromFrame, measure.toFrame)
    if (!moving.ok || !scale.ok) return noAnswer(unit, 'image', words, [...(moving.ok ? [] : moving.error), ...(scale.ok ? [] : scale.error)])
    const { smoothers, run, places, warnings } = moving.value
    const span = [run.frames.indexOf(measure.fromFrame), run.frames.indexOf(measure.toFrame)] as const
    const [at, ...others] = smoothers.map((s) => wayOf(moving.value, s, span))
    const value = at!.px * scale.value.perPixel
    const spread = Math.max(...others.map((o) => Math.abs(o.px - at!.px))) * scale.value.perPixel
    const ofWay = merged([
      ...placeEffects(places, at!.slopes.map((s) => scaled(s, scale.value.perPixel))),
      { key: `filter:${measure.id}`, part: 'filter', shift: [spread / Math.sqrt(3)] },
    ])
    const effects = merged([...ofWay, ...scaleEffects(scale.value, value)])
    const codes: ReasonCode[] = [...warnings, ...scale.value.warnings]
    // What the steps' noise adds is itself known no better than to about its own half.
    const half = COVERAGE * uncertaintyOf(ofWay) + (at!.added * scale.value.perPixel) / 2
    const interval = scaledInterval(value, half, scale.value, false)
    return { value, effects, interval, unit, plane: 'image', reasons: codes, bounds: [0, Infinity], words }
  },
}

interface Way {
  readonly px: number
  /// What noise would have added, px.
  readonly added: number
  /// How each sample moves the length.
  readonly slopes: readonly Point[]
}

function wayOf({ places }: MovingPoint, smoother: Smoother, [first, last]: readonly [number, number]): Way {
  const points = smoother.value.map((row) => weighedPlace(row, places))
  const slopes = places.map((): [number, number] => [0, 0])
  let px = 0
  let drawn = 0
  for (let i = first; i < last; i++) {
    const step = minus(points[i + 1]!, points[i]!)
    const size = length(step)
    const weights = smoother.value[i + 1]!.map((w, j) => w - smoother.value[i]![j]!)
    const variance = weights.reduce((sum, w, j) => sum + w * w * independentVariance(places[j]!), 0)
    px += Math.sqrt(Math.max(0, size * size - 2 * variance))
    drawn += size
    if (size > 0)
      weights.forEach((w, j) => {
        slopes[j]![0] += (w * step[0]) / size
        slopes[j]![1] += (w * step[1]) / size
      })
  }
  return { px, added: drawn - px, slopes }
}

/// Per axis, of what is new at every placing: a constant offset does not lengthen a way.
const independentVariance = (place: MovingPoint['places'][number]): number =>
  place.errors.reduce((sum, { error, slope }) => sum + (error.part === 'anatomical' ? 0 : (error.sigma ** 2 * (slope[0][0] ** 2 + slope[0][1] ** 2 + slope[1][0] ** 2 + slope[1][1] ** 2)) / 2), 0)
