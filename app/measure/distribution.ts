// eslint-disable-next-line @typescript-eslint/triple-slash-reference -- every program that imports this file needs the types
/// <reference path="./jstat.d.ts" />
import statistics from 'jstat'
import { COVERAGE } from './effect'

/// 95 % half widths of errors that are not normal.

/// Standard normal distribution function.
export const normalBelow = (z: number): number => statistics.normal.cdf(z, 0, 1)

/// Second antiderivative of the normal distribution function.
const twiceSummed = (z: number): number => ((z * z + 1) * normalBelow(z) + (z * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI)) / 2

/// The 95 % half width of the sum of two independent errors, one uniform within ± a, one within
/// ± b (a trapezoid; a triangle where a = b). Closed form.
export function uniformPairHalfWidth(a: number, b: number): number {
  const [wide, narrow] = a >= b ? [a, b] : [b, a]
  if (narrow === 0) return 0.95 * wide
  // Beyond ± (wide − narrow) the tail is a triangle of area (wide + narrow − x)² / (8·wide·narrow).
  const inTail = wide + narrow - Math.sqrt(0.2 * wide * narrow)
  return inTail >= wide - narrow ? inTail : 0.95 * wide
}

/// The same with a normal error of 1 σ `s` on top; by bisection on its distribution function.
export function bracketedHalfWidth(a: number, b: number, s: number): number {
  const bounded = Math.hypot(a, b) / Math.sqrt(3)
  if (s <= 1e-6 * bounded) return uniformPairHalfWidth(a, b)
  if (bounded <= 1e-3 * s) return COVERAGE * Math.hypot(s, bounded)
  const floor = 1e-3 * Math.max(a, b)
  const [p, q] = [Math.max(a, floor), Math.max(b, floor)]
  const below = (x: number): number =>
    ((s * s) / (4 * p * q)) *
    (twiceSummed((x + p + q) / s) - twiceSummed((x + p - q) / s) - twiceSummed((x - p + q) / s) + twiceSummed((x - p - q) / s))
  let [low, high] = [0, p + q + 6 * s]
  // A millionth of the width is far below what is shown.
  for (let i = 0; i < 22; i++) {
    const half = (low + high) / 2
    if (below(half) < 0.975) low = half
    else high = half
  }
  return high
}

/// Quantile of F with `above` and `below` degrees of freedom.
export const fDistribution = (p: number, above: number, below: number): number => statistics.centralF.inv(p, above, below)

/// One-sided 95 % lower bound of a rate of which k of n cases were seen (Clopper and Pearson
/// 1934): 2 of 2 → 22 %.
export const countLowerBound = (k: number, n: number): number => (k <= 0 || n <= 0 ? 0 : statistics.beta.inv(0.05, k, n - k + 1))
