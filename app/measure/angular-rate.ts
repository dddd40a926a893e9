import { weighed } from '../motion/smoother'
import { noAnswer, type Answer, type Words } from './answer'
import type { Effect } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { clipAt } from './on-frame'
import { onPlacedFrames } from './over-frames'
import type { ReasonCode } from './reason'
import { ratesOf, turningSeries, weightedEffects } from './turning-series'
import { sayTurning } from './turning-words'
import { viewWarnings } from './view-warnings'

/// True frames a second below which a rate is warned of: peaks are flattened [J].
const SLOW_RATE_HZ = 50

/// How fast a line or joint turns on the picture on a frame, degrees a second: + opening (joint),
/// + clockwise on the picture (line), + counter-clockwise as from above.
export const angularRateKind: Kind<'angular-rate'> = {
  kind: 'angular-rate',
  inputs: "two or three points tracked on at least five frames in a row, the capture factor; from above: the view's elevation",
  formula:
    'ω = central difference of the low-passed angle (second-order Butterworth, both ways, exact correction); uneven frames: local quadratic; u: every placing through its own weight ⊕ spread of two cut-offs (± 30 %)/√3 ⊕ ω·u_k/k',
  source: 'Winter 2009 §2.2.4.4 with the correction in the prewarped frequency; Savitzky and Golay 1964',
  budget: ['click', 'placing', 'anatomical', 'blur', 'filter', 'capture factor'],
  limits: [
    ...POINT_LIMITS,
    'capture-unknown',
    'film-not-read',
    'too-few-samples',
    'elevation-missing',
    'rate-coarse',
    'view-oblique',
    'elevation-over-25',
  ],
  wording: 'apparent rate of rear elbow, image plane: 1230 °/s ± 130 °/s',
  over: (measure) => onPlacedFrames(measure, measure.points[0]),
  answer(measure, context): Answer {
    const short = `rate of ${sayTurning(measure.points, context.lead(measure.clip, measure.subject, measure.frame))}`
    const words: Words = { short, what: measure.above ? `${short}, seen from above` : `apparent ${short}, image plane` }
    const plane = measure.above ? 'above' : 'image'
    const clip = clipAt(context, measure)
    if (!clip.ok) return noAnswer('°/s', plane, words, clip.error)
    const series = turningSeries(context, clip.value, measure, measure.frame, measure.frame, measure.cutoff)
    if (!series.ok) return noAnswer('°/s', plane, words, series.error)
    const { run, smoothers, cutoff_hz } = series.value
    const i = run.frames.indexOf(measure.frame)
    const weights = smoothers[0].rate[i]!
    const value = weighed(weights, series.value.degrees)
    const [below, above] = [ratesOf(series.value, smoothers[1])[i]!, ratesOf(series.value, smoothers[2])[i]!]
    const spread = Math.max(Math.abs(below - value), Math.abs(above - value))
    const effects: Effect[] = [
      ...weightedEffects(series.value, weights),
      { key: `filter:${measure.id}`, part: 'filter', shift: [spread / Math.sqrt(3)] },
      ...run.factor.effects.map((e): Effect => ({ ...e, shift: e.shift.map((s) => value * s) })),
    ]
    const codes: ReasonCode[] = [...run.factor.warnings, ...(measure.above ? [] : viewWarnings(context, measure, 'joint'))]
    if (run.rate_hz < SLOW_RATE_HZ) codes.push('rate-coarse')
    return { value, effects, unit: '°/s', plane, reasons: codes, words, lower: { value: below, cutoff_hz } }
  },
}
