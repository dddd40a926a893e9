import { divide, multiply, rational, type Rational } from './rational'

/// Finding the exact frame rate behind presentation times that a container's clock has rounded.

/// Rates that cameras and broadcasters use (SMPTE ST 2036-1 and ST 274 list 24000/1001 … 120;
/// 240 and the rest are common practice of phones and high-speed cameras, no source).
export const USUAL_RATES: readonly Rational[] = [
  rational(24),
  rational(24000, 1001),
  rational(25),
  rational(30),
  rational(30000, 1001),
  rational(48),
  rational(48000, 1001),
  rational(50),
  rational(60),
  rational(60000, 1001),
  rational(100),
  rational(120),
  rational(120000, 1001),
  rational(240),
  rational(240000, 1001),
  rational(10),
  rational(12),
  rational(15),
  rational(15000, 1001),
  rational(20),
  rational(200),
  rational(250),
  rational(300),
  rational(480),
  rational(500),
  rational(960),
  rational(1000),
]

/// The exact rate of a film whose frames are evenly spaced up to the rounding of its clock; null
/// when no rate explains every time, and for fewer than two frames. `hints` (what the container
/// claims) come before the usual rates, those before the plainest fraction that fits. `pts` rise, in
/// units of `base` seconds.
///
/// A rate fits when every time lies within half a unit of an even grid; a whole unit where one
/// frame lasts 10 units or more, because films are rewrapped and rounded twice.
export function evenRate(pts: ArrayLike<number>, base: Rational, hints: readonly Rational[] = []): Rational | null {
  const last = pts.length - 1
  if (last < 1) return null
  const length = pts[last]! - pts[0]!
  if (length <= 0) return null
  const interval = pts[1]! - pts[0]!
  if (length === interval * last && isEven(pts, interval, 0)) {
    const exact = perSecond(rational(interval), base)
    return interval >= 500 || last === 1 ? exact : ([...hints, ...USUAL_RATES].find((rate) => sameOver(rate, exact, last, base)) ?? exact)
  }
  const slack = length / last >= 10 ? 2 : 1
  for (const rate of [...hints, ...USUAL_RATES]) {
    const units = base.d / (base.n * (rate.n / rate.d))
    if (Math.abs(units * last - length) <= slack && isEven(pts, units, slack)) return rate
  }
  const steps = fittingSteps(pts, length / last, slack)
  const perSecondUnits = base.d / base.n
  return steps && plainestBetween(perSecondUnits / steps.high, perSecondUnits / steps.low)
}

const perSecond = (units: Rational, base: Rational): Rational => divide(rational(1), multiply(units, base))

/// Two rates that the clock cannot tell apart over `frames` frames (whole milliseconds at 30 fps
/// never look even, but at 120 fps for a few frames they may).
function sameOver(rate: Rational, exact: Rational, frames: number, base: Rational): boolean {
  const units = base.d / base.n
  return Math.abs((frames * rate.d * units) / rate.n - (frames * exact.d * units) / exact.n) < 0.5
}

/// Whether pts − k·units stays within a band of width `slack`.
const isEven = (pts: ArrayLike<number>, units: number, slack: number): boolean => spreadAround(pts, units, slack) <= slack + 1e-6

/// Width of the band that pts − k·units fills; stops looking once it is wider than `limit`.
function spreadAround(pts: ArrayLike<number>, units: number, limit = Infinity): number {
  let low = Infinity
  let high = -Infinity
  for (let k = 0; k < pts.length; k++) {
    const error = pts[k]! - units * k
    if (error < low) low = error
    if (error > high) high = error
    if (high - low > limit + 1e-6) break
  }
  return high - low
}

/// The steps of all even grids that the times fit, in units; null when there is none. The band's width is
/// a convex function of the step, so the best one is found by closing in on it, and the ends by halving.
function fittingSteps(pts: ArrayLike<number>, mean: number, slack: number): { readonly low: number; readonly high: number } | null {
  const reach = slack / (pts.length - 1)
  let left = mean - reach
  let right = mean + reach
  for (let i = 0; i < 60 && right - left > 1e-9 * reach; i++) {
    const third = (right - left) / 3
    if (spreadAround(pts, left + third) < spreadAround(pts, right - third)) right -= third
    else left += third
  }
  const best = (left + right) / 2
  if (!isEven(pts, best, slack)) return null
  const end = (outside: number): number => {
    let inside = best
    for (let i = 0; i < 30; i++) {
      const middle = (inside + outside) / 2
      if (isEven(pts, middle, slack)) inside = middle
      else outside = middle
    }
    return inside
  }
  return { low: end(mean - 2 * reach), high: end(mean + 2 * reach) }
}

/// The fraction with the smallest denominator in [low, high], 0 < low ≤ high (Stern–Brocot tree).
export function plainestBetween(low: number, high: number): Rational {
  const whole = Math.floor(low)
  if (whole === low) return rational(whole)
  if (whole + 1 <= high) return rational(whole + 1)
  const rest = plainestBetween(1 / (high - whole), 1 / (low - whole))
  return rational(whole * rest.n + rest.d, rest.n)
}
