import type { Point } from '../project/fields'
import { jointAngle, toRadians } from '../geometry/angle'
import { normalBelow } from './distribution'

/// A joint's angle in the plane of its limb, seen with that plane turned ψ from the picture.
/// The picture is the plane squeezed by cos ψ across some axis; which axis is not stated, so
/// every axis is tried: the true angle is one of those that unsqueezing gives.

/// Above this the bound is too wide to be of use [J].
export const PLANE_REFUSED_DEG = 35
export const PLANE_WARNED_DEG = 20
const AXES = 24

/// Angle of the drawn points once the squeeze by cos ψ across the axis at `axis` radians is undone.
export function unsqueezed(points: readonly [Point, Point, Point], psi: number, axis: number): number | null {
  const [c, s] = [Math.cos(axis), Math.sin(axis)]
  const stretch = 1 / Math.cos(psi)
  const undo = ([x, y]: Point): Point => [x * c + y * s, (-x * s + y * c) * stretch]
  return jointAngle(undo(points[0]), undo(points[1]), undo(points[2]))?.deg ?? null
}

export interface PlaneSpread {
  /// 95 % interval of the true angle, plane and points together.
  readonly interval: readonly [number, number]
  /// 1 σ that the plane alone adds, about the drawn angle.
  readonly u: number
}

/// Quadrature over the unknown axis (uniform) and the stated plane's own error (normal, three
/// points of Gauss and Hermite), with the points' error `u` on top. Null when a line has no length.
export function planeSpread(
  points: readonly [Point, Point, Point],
  drawn: number,
  plane: { readonly deg: number; readonly u: number },
  u: number,
): PlaneSpread | null {
  const nodes: { deg: number; weight: number }[] = []
  for (const [z, share] of [
    [-Math.sqrt(3), 1 / 6],
    [0, 2 / 3],
    [Math.sqrt(3), 1 / 6],
  ] as const) {
    const psi = toRadians(Math.min(80, Math.abs(plane.deg + z * plane.u)))
    for (let i = 0; i < AXES; i++) {
      const deg = unsqueezed(points, psi, (Math.PI * i) / AXES)
      if (deg === null) return null
      nodes.push({ deg, weight: share / AXES })
    }
  }
  const variance = nodes.reduce((sum, n) => sum + n.weight * (n.deg - drawn) ** 2, 0)
  const spread = Math.max(u, 1e-6)
  const below = (x: number): number => nodes.reduce((sum, n) => sum + n.weight * normalBelow((x - n.deg) / spread), 0)
  const quantile = (p: number): number => {
    let [low, high] = [-4 * spread, 180 + 4 * spread]
    for (let i = 0; i < 40; i++) {
      const half = (low + high) / 2
      if (below(half) < p) low = half
      else high = half
    }
    return (low + high) / 2
  }
  return { interval: [Math.min(quantile(0.025), drawn), Math.max(quantile(0.975), drawn)], u: Math.sqrt(variance) }
}
