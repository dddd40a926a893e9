import type { Smoother } from '../motion/smoother'
import { secondsAt } from '../time/frame-table'
import { noAnswer, type Answer, type Words } from './answer'
import type { Effect } from './effect'
import { POINT_LIMITS, type Kind } from './kind'
import { clipAt } from './on-frame'
import type { ReasonCode } from './reason'
import { ratesOf, turningSeries, weightedUncertainty, type TurningSeries } from './turning-series'
import { sayTurning } from './turning-words'

/// When a line or a joint turns fastest between two frames: real seconds since the first of them.
///
/// Its interval is the set of instants at which the rate is not clearly below the highest one:
/// those t with ω(t) ≥ ω(t*) − 1.96·u(ω(t*) − ω(t)), the error of the *difference*, so that what
/// neighbouring instants share does not count. A flat top or a second peak as high makes it wide,
/// as it should. The interval spans that set, the peaks at cut-offs 30 % lower and higher, and
/// half a frame interval on either side.
export const peakTimeKind: Kind<'peak-time'> = {
  kind: 'peak-time',
  inputs: 'two or three points tracked between two frames and beyond, the capture factor',
  formula: 't* = argmax |ω(t)| (parabola through the highest three); interval {t: ω(t) ≥ ω(t*) − 1.96·u(ω(t*) − ω(t))}, widened to the peaks at 0.7 fc and 1.3 fc, ± Δt/2',
  source: 'rates as angular-rate; the set of instants that a one-sided test at 2.5 % does not turn down: our own',
  budget: ['click', 'filter', 'capture factor'],
  limits: [...POINT_LIMITS, 'capture-unknown', 'film-not-read', 'too-few-samples', 'peak-at-end', 'elevation-missing'],
  wording: 'peak rate of hip line, seen from above: 0.058 s ± 0.021 s after frame 1200',
  answer(measure, context): Answer {
    const short = `peak rate of ${sayTurning(measure.points, context.lead(measure.clip, measure.subject, measure.fromFrame))}`
    const words: Words = { short, what: `${short}${measure.above ? ', seen from above' : ''}, after frame ${measure.fromFrame}` }
    const clip = clipAt(context, { clip: measure.clip, frame: measure.fromFrame })
    if (!clip.ok) return noAnswer('s', 'time', words, clip.error)
    if (measure.toFrame <= measure.fromFrame + 1 || measure.toFrame >= clip.value.to) return noAnswer('s', 'time', words, ['outside-clip'])
    const found = turningSeries(context, clip.value, measure, measure.fromFrame, measure.toFrame, measure.cutoff)
    if (!found.ok) return noAnswer('s', 'time', words, found.error)
    const series = found.value
    const span = { first: series.run.frames.indexOf(measure.fromFrame), last: series.run.frames.indexOf(measure.toFrame) }
    const uncertainty = weightedUncertainty(series)
    const peaks = series.smoothers.map((s) => peakOf(series, s, span, measure.sign, uncertainty))
    const [peak] = peaks
    if (!peak || peaks.some((p) => p === null)) return noAnswer('s', 'time', words, ['peak-at-end'])

    const start = secondsAt(context.table(clip.value)!, measure.fromFrame) / series.run.factor.k
    const value = peak.at - start
    const half = 0.5 / series.run.rate_hz
    const instants = peaks.map((p) => p!.at)
    const ends = [Math.min(peak.low, ...instants) - start - half, Math.max(peak.high, ...instants) - start + half] as const
    const byFactor = Math.abs(value) * Math.hypot(...series.run.factor.effects.flatMap((e) => e.shift))
    const low = value - Math.hypot(value - ends[0], 1.96 * byFactor)
    const high = value + Math.hypot(ends[1] - value, 1.96 * byFactor)
    const click = (peak.high - peak.low) / 2 / 1.96
    const filter = (Math.max(...instants) - Math.min(...instants)) / 2 / Math.sqrt(3)
    const effects: Effect[] = [
      { key: `click:${measure.id}`, part: 'click', shift: [click] },
      { key: `filter:${measure.id}`, part: 'filter', shift: [Math.hypot(filter, half / Math.sqrt(3))] },
      ...series.run.factor.effects.map((e): Effect => ({ ...e, shift: e.shift.map((s) => -value * s) })),
    ]
    const codes: ReasonCode[] = [...series.run.factor.warnings]
    return { value, effects, interval: [low, high], u: (high - low) / 2 / 1.96, unit: 's', plane: 'time', reasons: codes, words }
  },
}

interface Peak {
  /// Real seconds of the file's own clock.
  readonly at: number
  readonly low: number
  readonly high: number
}

/// The highest rate within the span and the instants that may be it; null where it lies at an end
/// of the span, so that it may be the flank of something higher.
function peakOf(series: TurningSeries, smoother: Smoother, span: { readonly first: number; readonly last: number }, sign: '+' | '-' | undefined, uncertainty: (weights: readonly number[]) => number): Peak | null {
  const rates = ratesOf(series, smoother)
  const times = series.run.times
  let best = -1
  let way = 1
  for (let i = span.first; i <= span.last; i++)
    for (const w of sign === undefined ? [1, -1] : [sign === '+' ? 1 : -1])
      if (best < 0 || w * rates[i]! > way * rates[best]!) [best, way] = [i, w]
  if (best <= span.first || best >= span.last) return null
  const [before, top, after] = [way * rates[best - 1]!, way * rates[best]!, way * rates[best + 1]!]
  if (!(top > 0)) return null
  const step = (times[best + 1]! - times[best - 1]!) / 2
  const bend = before - 2 * top + after
  const at = times[best]! + (bend < 0 ? Math.max(-0.5, Math.min(0.5, (before - after) / (2 * bend))) * step : 0)
  // How far each instant stays below the top, against the error of that difference.
  const slack = (i: number): number => {
    const apart = smoother.rate[best]!.map((w, j) => w - smoother.rate[i]![j]!)
    return way * (rates[best]! - rates[i]!) - 1.96 * uncertainty(apart)
  }
  const crossing = (inside: number, outside: number): number => {
    const [a, b] = [slack(inside), slack(outside)]
    const share = a >= 0 ? 0 : -a / (b - a)
    return times[inside]! + share * (times[outside]! - times[inside]!)
  }
  let [low, high] = [at, at]
  for (let i = span.first; i <= span.last; i++) {
    if (i !== best && slack(i) > 0) continue
    low = Math.min(low, i > span.first && slack(i - 1) > 0 ? crossing(i, i - 1) : times[i]!)
    high = Math.max(high, i < span.last && slack(i + 1) > 0 ? crossing(i, i + 1) : times[i]!)
  }
  return { at, low, high }
}
