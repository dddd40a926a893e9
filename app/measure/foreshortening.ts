import { toDegrees } from '../geometry/angle'
import { COVERAGE } from './effect'

/// Headings of horizontal lines from how short they look: a line of width W at θ from the picture
/// spans w = W·cos θ. One ratio tells θ only up to its sign (which end is nearer), and near 0 and
/// 180 it hardly tells it at all: the interval is lopsided there.

export interface Heading {
  /// Degrees from the picture plane.
  readonly at: number
  /// Ends of the 95 % interval.
  readonly low: number
  readonly high: number
}

const angleOf = (c: number): number => toDegrees(Math.acos(Math.max(-1, Math.min(1, c))))

/// Every heading that the ratio does not turn down: |r − cos θ| ≤ 1.96·√(u² + (cos θ·u_W)²), a
/// quadratic in cos θ. `ratio` is the signed span over the width; `u` its 1 σ apart from the
/// width's; `widthU` 1 σ of the width as a share of it. 0 ≤ low ≤ at ≤ high ≤ 180.
export function headingOf(ratio: number, u: number, widthU: number): Heading {
  const a = 1 - (COVERAGE * widthU) ** 2
  const root = Math.sqrt(Math.max(0, ratio * ratio - a * (ratio * ratio - (COVERAGE * u) ** 2)))
  const at = angleOf(ratio)
  // A span beyond the width by more than its error: as square as can be, to within that error.
  const square = angleOf(1 - u)
  const low = Math.min(at, angleOf((ratio + root) / a), 180 - square)
  const high = Math.max(at, angleOf((ratio - root) / a), square)
  return { at, low, high }
}

/// The same heading with its sign: + where the end it points to is the nearer one.
export const signed = ({ at, low, high }: Heading, sign: 1 | -1): Heading =>
  sign === 1 ? { at, low, high } : { at: -at, low: -high, high: -low }

/// a − b of independent headings: each end by the two halves that face it, in quadrature.
export function headingDifference(a: Heading, b: Heading): Heading {
  const at = a.at - b.at
  return { at, low: at - Math.hypot(a.at - a.low, b.high - b.at), high: at + Math.hypot(a.high - a.at, b.at - b.low) }
}
