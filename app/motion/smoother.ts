import { dualPass, filterBothWays, PADDING } from './butterworth'
import { firstDifferences, localQuadratic } from './derivative'

/// Smoothing and differentiation of a run of samples as plain weights: row i says how much each
/// sample enters the value, or its rate, at sample i. Weights make the error budget of a rate exact.

export interface Smoother {
  readonly times: readonly number[]
  /// Weights of every sample in the smoothed value at each sample.
  readonly value: readonly (readonly number[])[]
  /// The same for its rate, a second.
  readonly rate: readonly (readonly number[])[]
}

/// Fewer samples in a row than this have no rate.
const LEAST_SAMPLES = 5

/// Half the width of the local fit that stands in for a cut-off where samples are unevenly spaced,
/// in periods of the cut-off: a quadratic over ± 0.4/fc passes about what the filter passes.
const FIT_HALF_PERIODS = 0.4

/// Evenly spaced: zero-lag low-pass (Butterworth, dual pass, exact correction) and central
/// differences. Unevenly spaced: local quadratic fit. `times` in real seconds, rising; null for
/// fewer than five samples.
export function smootherOf(times: readonly number[], even: boolean, cutoff_hz: number): Smoother | null {
  const n = times.length
  if (n < LEAST_SAMPLES) return null
  if (!even) return fitted(times, cutoff_hz)
  const step = (times[n - 1]! - times[0]!) / (n - 1)
  const rate_hz = 1 / step
  if (!(cutoff_hz < rate_hz / 2)) return null
  return { times, ...evenWeights(n, step, cutoff_hz) }
}

interface Weights {
  readonly value: readonly (readonly number[])[]
  readonly rate: readonly (readonly number[])[]
}

/// The last few sets of weights: the same run is asked at several frames and cut-offs.
const made = new Map<string, Weights>()
const KEPT = 64

/// Samples added at each end: a period and a half of the cut-off, so that what the filter does while
/// it settles stays outside the run. `share`: the cut-off over the rate.
export const paddingFor = (share: number): number => Math.max(PADDING, Math.ceil(1.5 / share - 1e-6))

function evenWeights(n: number, step: number, cutoff_hz: number): Weights {
  const share = Math.round(cutoff_hz * step * 1e9)
  const key = `${n} ${share} ${step.toPrecision(12)}`
  let weights = made.get(key)
  if (!weights) {
    const filter = dualPass(1, share / 1e9)
    const padding = paddingFor(share / 1e9)
    const columns = Array.from({ length: n }, (_, j) =>
      filterBothWays(
        filter,
        Array.from({ length: n }, (_, i) => (i === j ? 1 : 0)),
        padding,
      ),
    )
    const slopes = columns.map((column) => firstDifferences(column, step))
    const rowsOf = (sampled: readonly (readonly number[])[]): number[][] =>
      Array.from({ length: n }, (_, i) => sampled.map((column) => column[i]!))
    weights = { value: rowsOf(columns), rate: rowsOf(slopes) }
    if (made.size >= KEPT) made.delete(made.keys().next().value!)
    made.set(key, weights)
  }
  return weights
}

function fitted(times: readonly number[], cutoff_hz: number): Smoother | null {
  const half = FIT_HALF_PERIODS / cutoff_hz
  const value: number[][] = []
  const rate: number[][] = []
  for (const at of times) {
    const nearest = times.map((t, j) => ({ j, off: Math.abs(t - at) })).sort((a, b) => a.off - b.off)
    const chosen = nearest
      .filter((s, i) => s.off <= half || i < LEAST_SAMPLES)
      .map((s) => s.j)
      .sort((a, b) => a - b)
    const fit = localQuadratic(
      chosen.map((j) => times[j]!),
      at,
    )
    if (!fit) return null
    const spread = (weights: readonly number[]): number[] => {
      const row = new Array<number>(times.length).fill(0)
      chosen.forEach((j, i) => (row[j] = weights[i]!))
      return row
    }
    value.push(spread(fit.value))
    rate.push(spread(fit.rate))
  }
  return { times, value, rate }
}

export const weighed = (weights: readonly number[], samples: readonly number[]): number =>
  weights.reduce((sum, w, i) => sum + w * samples[i]!, 0)
