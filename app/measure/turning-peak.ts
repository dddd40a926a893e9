import { weighed, type Smoother } from '../motion/smoother'
import { COVERAGE } from './effect'
import { ONE_SIDED } from './margin'
import { ratesOf, weightedUncertainty, type TurningSeries } from './turning-series'

/// When a followed angle turns fastest, and how well that is known.

export interface TurningPeak {
  /// Real seconds of the file's own clock.
  readonly at: number
  /// First and last instant that the placings' errors, and the choice of a cut-off, leave possible.
  readonly low: number
  readonly high: number
  /// 1 σ of how far smoothing and sampling may still have moved it, s.
  readonly wander: number
}

/// First and last index of the run that are asked about, both meant.
export interface Span {
  readonly first: number
  readonly last: number
}

type Way = 1 | -1
type UncertaintyOf = (weights: readonly number[]) => number

/// The highest rate within the span (of one sign where `sign` says so) and the instants that may be
/// it; null where it lies at an end of the span, so that it may be the flank of something higher.
///
/// At a peak the rate neither rises nor falls, and no other instant stands higher. The slope of the
/// rate is straight between the middles of frames (that is the parabola through three), so
/// {t: |ω̇(t)| ≤ 1.96 u(ω̇(t))} has ends in closed form; to compare each instant with the top instead,
/// ω(t*) − ω(t) against its error, would make the interval twice as wide, for that difference grows
/// with the square of t* − t. Of the stretches so found those count whose frame is not clearly below
/// the top, of either sign where the sign is open: a rival peak as high widens the interval, a
/// single one does not.
export function turningPeak(series: TurningSeries, span: Span, sign: '+' | '-' | undefined): TurningPeak | null {
  const uncertainty = weightedUncertainty(series)
  const { times } = series.run
  const [smoother, ...others] = series.smoothers
  const rates = ratesOf(series, smoother)
  const elsewhere = others.map((other) => ratesOf(series, other))
  const top = topOf(rates, span, sign)
  if (!top) return null
  const { way, index } = top
  const isLower = (i: number, w: Way): boolean => {
    const below = (r: readonly number[]): number => way * r[index]! - w * r[i]!
    const spread = Math.max(...elsewhere.map((r) => Math.abs(below(r) - below(rates)))) / Math.sqrt(3)
    return (
      below(rates) > ONE_SIDED * Math.hypot(spread, uncertainty(smoother.rate[index]!.map((v, k) => way * v - w * smoother.rate[i]![k]!)))
    )
  }
  const slopeAfter = (i: number): Slope => {
    const weights = slopeWeights(times, smoother, i)
    return { at: (times[i]! + times[i + 1]!) / 2, slope: weighed(weights, series.degrees), error: COVERAGE * uncertainty(weights) }
  }
  const vertex = vertexAt(series, smoother, index)
  let [low, high] = [vertex.at, vertex.at]
  const reach = (from: number, to: number): void => {
    low = Math.min(low, Math.max(times[span.first]!, from))
    high = Math.max(high, Math.min(times[span.last]!, to))
  }
  const ways: readonly Way[] = sign === undefined ? [1, -1] : [way]
  for (let i = Math.max(1, span.first); i <= Math.min(span.last, times.length - 2); i++) {
    if (i !== index && ways.every((w) => isLower(i, w))) continue
    const level = levelBetween(slopeAfter(i - 1), slopeAfter(i))
    if (level) reach(...level)
  }
  const hills = elsewhere.map((r) =>
    climb(
      r.map((v) => way * v),
      index,
      span,
    ),
  )
  others.forEach((other, n) => {
    // Another cut-off may make another hill the highest: then either may be meant.
    const there = topOf(elsewhere[n]!, span, sign)
    if (!there || there.index === hills[n]) return
    const { at } = vertexAt(series, other, there.index)
    reach(at, at)
  })
  const { back, u } = wanderOf(series, vertex, vertexAt(series, others[0], hills[0]!), uncertainty)
  return {
    at: vertex.at + back,
    low: low + back,
    high: high + back,
    wander: Math.hypot(u, PARABOLA_FRAMES / series.run.rate_hz / Math.sqrt(3)),
  }
}

/// The highest frame within the span; null where it is at an end or nothing turns that way.
function topOf(
  rates: readonly number[],
  { first, last }: Span,
  sign: '+' | '-' | undefined,
): { readonly index: number; readonly way: Way } | null {
  let index = first
  let way: Way = sign === '-' ? -1 : 1
  for (let i = first; i <= last; i++)
    for (const w of sign === undefined ? ([1, -1] as const) : [way]) if (w * rates[i]! > way * rates[index]!) [index, way] = [i, w]
  return index > first && index < last && way * rates[index]! > 0 ? { index, way } : null
}

/// The top of the hill that a frame stands on, within the span's inner frames.
function climb(rates: readonly number[], from: number, { first, last }: Span): number {
  let i = from
  while (i + 1 < last && rates[i + 1]! > rates[i]!) i++
  while (i - 1 > first && rates[i - 1]! > rates[i]!) i--
  return i
}

interface Slope {
  readonly at: number
  readonly slope: number
  /// Its 95 % half width.
  readonly error: number
}

/// The part of the way from one middle to the next on which |slope| ≤ its error, both straight
/// between; null where it is nowhere so.
function levelBetween(a: Slope, b: Slope): readonly [number, number] | null {
  let [from, to] = [0, 1]
  for (const [p, q] of [
    [a.slope - a.error, b.slope - b.error],
    [-a.slope - a.error, -b.slope - b.error],
  ] as const) {
    if (p > 0 && q > 0) return null
    if (p > 0) from = Math.max(from, p / (p - q))
    else if (q > 0) to = Math.min(to, p / (p - q))
  }
  return from <= to ? [a.at + from * (b.at - a.at), a.at + to * (b.at - a.at)] : null
}

/// How each sample enters the slope of the rate between a frame and the next.
const slopeWeights = (times: readonly number[], { rate }: Smoother, i: number): number[] =>
  rate[i + 1]!.map((w, k) => (w - rate[i]![k]!) / (times[i + 1]! - times[i]!))

interface Vertex {
  readonly at: number
  /// How each sample moves it, to first order.
  readonly weights: readonly number[]
}

/// Where the parabola through a frame's rate and its neighbours' has its vertex; the frame itself where
/// it is no top.
function vertexAt({ run: { times }, degrees }: TurningSeries, smoother: Smoother, i: number): Vertex {
  const [before, after] = [slopeWeights(times, smoother, i - 1), slopeWeights(times, smoother, i)]
  const [p, q] = [weighed(before, degrees), weighed(after, degrees)]
  const [from, to] = [(times[i - 1]! + times[i]!) / 2, (times[i]! + times[i + 1]!) / 2]
  const fall = p - q
  const share = p / fall
  if (!(share >= 0 && share <= 1)) return { at: times[i]!, weights: before.map(() => 0) }
  return { at: from + share * (to - from), weights: before.map((w, k) => ((to - from) * (p * after[k]! - q * w)) / fall ** 2) }
}

/// Half width of what a parabola through three frames may miss of a peak, in frames, at the
/// highest cut-off, a quarter of the rate: tan(πδ/2)/2 − δ for a wave of four frames [C].
const PARABOLA_FRAMES = 0.05
/// 1 σ of ½·ω‴/ω″ at the peaks of a fighter's limbs, a second (tuned on captured boxing).
const LOPSIDED_A_SECOND = 1
/// The same for what the next order adds, a second squared (tuned on captured boxing).
const BEYOND_A_SECOND_SQUARED = 1.75

/// How far to go back from the vertex, and 1 σ that this adds to the placings' own.
///
/// Smoothing moves the peak of a lopsided curve by ½·ω‴/ω″ times the square of the smoothing's width
/// W, to first order. So the way from the peak at 0.7 fc to that at fc tells what is left:
/// g = 1/((W′/W)² − 1) times as much, known to about itself and to what the next order, W³, adds. That
/// and what such ways usually are, are weighed by least squares; the noise that both peaks share is
/// in it with its sign, for where noise moves the peak far, the two cut-offs disagree the other way.
function wanderOf(
  series: TurningSeries,
  vertex: Vertex,
  moved: Vertex,
  uncertainty: UncertaintyOf,
): { readonly back: number; readonly u: number } {
  const W = widthOf(series, series.cutoff_hz)
  const g = 1 / ((widthOf(series, 0.7 * series.cutoff_hz) / W) ** 2 - 1)
  const left = g * (moved.at - vertex.at)
  const own = uncertainty(vertex.weights) ** 2
  const apart = uncertainty(moved.weights.map((w, k) => w - vertex.weights[k]!)) ** 2
  const shared = (uncertainty(moved.weights) ** 2 - own - apart) / 2
  const usual = (LOPSIDED_A_SECOND * W ** 2) ** 2
  const both = usual + g * shared
  const told = usual + g * g * apart + left ** 2 + (BEYOND_A_SECOND_SQUARED * W ** 3) ** 2
  return { back: (-both / told) * left, u: Math.sqrt(Math.max(0, usual - both ** 2 / told)) }
}

/// Width of what smooths a rate, s: 1/f of its −3 dB frequency. Central differences smooth as well:
/// sin(2πfΔt)/(2πfΔt) is at −3 dB at 0.2215 of the rate.
const widthOf = ({ run }: TurningSeries, cutoff_hz: number): number => Math.hypot(1 / cutoff_hz, run.even ? 1 / (0.2215 * run.rate_hz) : 0)
