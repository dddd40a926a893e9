import type { Point } from '../project/fields'

/// Lens distortion in Brown's model, with the usual five numbers.

export interface Lens {
  /// Focal lengths and principal point, pixels.
  readonly fx: number
  readonly fy: number
  readonly cx: number
  readonly cy: number
  /// Radial k1, k2, k3 and tangential p1, p2.
  readonly k1: number
  readonly k2: number
  readonly p1: number
  readonly p2: number
  readonly k3: number
}

/// Where an ideal pinhole direction (x, y at depth 1) falls on the bent picture, pixels.
export function distorted(lens: Lens, [x, y]: Point): Point {
  const r = x * x + y * y
  const radial = 1 + r * (lens.k1 + r * (lens.k2 + r * lens.k3))
  const X = x * radial + 2 * lens.p1 * x * y + lens.p2 * (r + 2 * x * x)
  const Y = y * radial + lens.p1 * (r + 2 * y * y) + 2 * lens.p2 * x * y
  return [lens.fx * X + lens.cx, lens.fy * Y + lens.cy]
}

/// The pixel at which an ideal lens would have shown it. Iterated until it stands still: five rounds,
/// the usual default elsewhere, can be 0.08 px off in a corner. Null where it does not settle.
export function undistorted(lens: Lens, [u, v]: Point): Point | null {
  const X = (u - lens.cx) / lens.fx
  const Y = (v - lens.cy) / lens.fy
  let [x, y] = [X, Y]
  for (let round = 0; round < 200; round++) {
    const r = x * x + y * y
    const radial = 1 + r * (lens.k1 + r * (lens.k2 + r * lens.k3))
    const nextX = (X - 2 * lens.p1 * x * y - lens.p2 * (r + 2 * x * x)) / radial
    const nextY = (Y - lens.p1 * (r + 2 * y * y) - 2 * lens.p2 * x * y) / radial
    const moved = Math.hypot(nextX - x, nextY - y)
    x = nextX
    y = nextY
    if (moved < 1e-15) break
    if (!(moved < 1e3)) return null
  }
  const [backU, backV] = distorted(lens, [x, y])
  return Math.hypot(backU - u, backV - v) < 1e-6 ? [lens.fx * x + lens.cx, lens.fy * y + lens.cy] : null
}
