import { Matrix, solve } from 'ml-matrix'

/// Rates of change of sampled values, and the weights with which each sample enters them: an
/// error budget needs the weights, not only the result.

/// Central first differences of evenly spaced samples; the ends one-sided (first order).
export function firstDifferences(x: readonly number[], step: number): number[] {
  const n = x.length
  if (n < 2) return x.map(() => 0)
  return x.map((_, i) => {
    const [a, b] = [Math.max(0, i - 1), Math.min(n - 1, i + 1)]
    return (x[b]! - x[a]!) / ((b - a) * step)
  })
}

/// Central second differences; defined between the ends.
export const secondDifferences = (x: readonly number[], step: number): number[] =>
  x.slice(1, -1).map((value, i) => (x[i + 2]! - 2 * value + x[i]!) / (step * step))

/// Five-point first differences, exact for cubics; defined two samples from the ends.
export const fivePointDifferences = (x: readonly number[], step: number): number[] =>
  x.slice(2, -2).map((_, i) => (x[i]! - 8 * x[i + 1]! + 8 * x[i + 3]! - x[i + 4]!) / (12 * step))

export interface LocalFit {
  /// Weights of the samples in the fitted value and in its rate at the asked time.
  readonly value: readonly number[]
  readonly rate: readonly number[]
}

/// Least-squares quadratic through samples at any times, taken at `at` (Savitzky and Golay 1964
/// for even spacing). `times` in seconds. With fewer than four samples a line, with fewer than
/// two nothing: null.
export function localQuadratic(times: readonly number[], at: number): LocalFit | null {
  const n = times.length
  if (n < 2) return null
  const order = n < 4 ? 1 : 2
  const span = Math.max(...times.map((t) => Math.abs(t - at)))
  if (!(span > 0)) return null
  // Scaled to the window, so that the normal equations stay well conditioned.
  const design = new Matrix(times.map((t) => Array.from({ length: order + 1 }, (_, p) => ((t - at) / span) ** p)))
  const normal = design.transpose().mmul(design)
  const weights = solve(normal, design.transpose())
  return { value: weights.getRow(0), rate: weights.getRow(1).map((w) => w / span) }
}
