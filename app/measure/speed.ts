import { sayPoint } from '../body/landmark-name'
import { length, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import { scaleAlong } from '../motion/free-flight'
import { noAnswer, type Answer, type Words } from './answer'
import { COVERAGE, merged, uncertaintyOf, type Effect } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { lengthScale, scaledInterval, scaleEffects } from './length-scale'
import { movingPoint, placeEffects, weighedPlace } from './moving-point'
import { clipAt } from './on-frame'
import { onPlacedFrames } from './over-frames'
import type { ReasonCode } from './reason'

/// True frames a second below which no speed is given ([J]: a fist's speed from 25–30 fps
/// under-reads by half).
const LEAST_RATE_HZ = 100
/// Faster than single maximal punches are known to be (laboratory: 9.3 ± 2.1 m/s, Piorkowski 2011).
const HIGH_SPEED = 16

/// Speed of a point across the picture on a frame, low-passed: at least that of the quickest instant.
export const speedKind: Kind<'speed'> = {
  kind: 'speed',
  inputs:
    'a point tracked on at least five frames in a row at 100 true frames a second or more; a body unit or a scale at the same depth; the capture factor; a still camera or background points',
  formula:
    'v = |Σ w_i x_i|·s, w: central difference of the low-pass; (u_v/v)² = (u_s/s)² + Σ(w_i σ_i)²/|ẋ|² + (u_k/k)² + spread of two cut-offs (± 30 %)²/3v²',
  source: 'filter as angular-rate',
  budget: ['click', 'placing', 'anatomical', 'blur', 'camera motion', 'filter', 'scale', 'capture factor'],
  limits: [
    ...POINT_LIMITS,
    'capture-unknown',
    'film-not-read',
    'too-few-samples',
    'rate-too-low',
    'unit-missing',
    'unit-too-short',
    'camera-not-followed',
    'high-speed',
    'scale-changes',
  ],
  wording: 'speed of rear wrist across the image, smoothed over 1/10 s: 7.1 m/s ± 1.3 m/s',
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer(measure, context): Answer {
    const [point] = measure.points as [string]
    const short = `speed of ${sayPoint(point, context.lead(measure.clip, measure.subject, measure.frame))}`
    const plain: Words = { short, what: `${short} across the image` }
    const scale = lengthScale(context, measure)
    const unit = scale.ok ? (scale.value.unit === 'm' ? 'm/s' : `${scale.value.unit} a second`) : 'm/s'
    const clip = clipAt(context, measure)
    if (!clip.ok) return noAnswer(unit, 'image', plain, clip.error)
    const moving = movingPoint(
      context,
      clip.value,
      { ...measure, point, camera: measure.camera, cutoff: measure.cutoff },
      measure.frame,
      measure.frame,
    )
    if (!moving.ok || !scale.ok)
      return noAnswer(unit, 'image', plain, [...(moving.ok ? [] : moving.error), ...(scale.ok ? [] : scale.error)])
    const { run, places, smoothers, warnings, cutoff_hz } = moving.value
    if (run.rate_hz < LEAST_RATE_HZ) return noAnswer(unit, 'image', plain, ['rate-too-low'])
    const i = run.frames.indexOf(measure.frame)
    const velocity = weighedPlace(smoothers[0].rate[i]!, places)
    const pxSpeed = length(velocity)
    const direction: Point = pxSpeed > 0 ? scaled(velocity, 1 / pxSpeed) : [1, 0]
    const value = pxSpeed * scale.value.perPixel
    const [below, above] = [smoothers[1], smoothers[2]].map((s) => length(weighedPlace(s.rate[i]!, places)) * scale.value.perPixel) as [
      number,
      number,
    ]
    const spread = Math.max(Math.abs(below - value), Math.abs(above - value))
    const ofMotion = merged([
      ...placeEffects(
        places,
        smoothers[0].rate[i]!.map((w): Point => scaled(direction, w * scale.value.perPixel)),
      ),
      { key: `filter:${measure.id}`, part: 'filter', shift: [spread / Math.sqrt(3)] },
      ...run.factor.effects.map((e): Effect => ({ ...e, shift: e.shift.map((s) => value * s) })),
    ])
    const codes: ReasonCode[] = [...warnings, ...scale.value.warnings]
    if (unit === 'm/s' && value > HIGH_SPEED) codes.push('high-speed')
    const effects = merged([...ofMotion, ...scaleEffects(scale.value, value)])
    if (measure.flight) {
      const flight = scaleAlong(
        run.times,
        places.map((p) => p.at),
      )
      if (flight && !flight.holds) codes.push('scale-changes')
    }
    const u = uncertaintyOf(ofMotion)
    const words: Words = { short, what: `${short} across the image, low-passed at ${Number(cutoff_hz.toPrecision(2))} Hz` }
    return {
      value,
      effects,
      interval: scaledInterval(value, COVERAGE * u, scale.value, value <= 2.45 * u),
      unit,
      plane: 'image',
      reasons: codes,
      bounds: [0, Infinity],
      words,
      lower: { value: below, cutoff_hz },
    }
  },
}
