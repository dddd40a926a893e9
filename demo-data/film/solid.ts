import type { Vector } from './quaternion'

/// Solids as signed distances, metres: negative inside.
export type Solid = (x: number, y: number, z: number) => number

/// A cone with rounded ends: radius ra at a, rb at b (round cone; distance is exact up to the
/// slant, which is all a surface needs).
export function limb(a: Vector, b: Vector, ra: number, rb: number): Solid {
  const bx = b[0] - a[0]
  const by = b[1] - a[1]
  const bz = b[2] - a[2]
  const l2 = bx * bx + by * by + bz * bz
  return (x, y, z) => {
    const px = x - a[0]
    const py = y - a[1]
    const pz = z - a[2]
    const h = Math.min(1, Math.max(0, (px * bx + py * by + pz * bz) / l2))
    const dx = px - h * bx
    const dy = py - h * by
    const dz = pz - h * bz
    return Math.sqrt(dx * dx + dy * dy + dz * dz) - (ra + (rb - ra) * h)
  }
}

/// An ellipsoid of half axes r (distance to first order).
export function bulge(c: Vector, r: Vector): Solid {
  return (x, y, z) => {
    const px = x - c[0]
    const py = y - c[1]
    const pz = z - c[2]
    const k0 = Math.hypot(px / r[0], py / r[1], pz / r[2])
    const k1 = Math.hypot(px / (r[0] * r[0]), py / (r[1] * r[1]), pz / (r[2] * r[2]))
    return k1 < 1e-9 ? -Math.min(...r) : (k0 * (k0 - 1)) / k1
  }
}

/// A limb flattened along z by `k` (below 1: flatter), about its own middle plane z = zm.
export function flattened(solid: Solid, zm: number, k: number): Solid {
  return (x, y, z) => solid(x, y, zm + (z - zm) / k) * Math.min(1, k)
}

/// Union with rounded inner corners of about k metres.
export function blend(k: number, ...solids: readonly Solid[]): Solid {
  return (x, y, z) => {
    let d = solids[0]!(x, y, z)
    for (let i = 1; i < solids.length; i++) {
      const e = solids[i]!(x, y, z)
      const h = Math.max(k - Math.abs(d - e), 0) / k
      d = Math.min(d, e) - h * h * k * 0.25
    }
    return d
  }
}

export const union =
  (...solids: readonly Solid[]): Solid =>
  (x, y, z) => {
    let d = Infinity
    for (const s of solids) d = Math.min(d, s(x, y, z))
    return d
  }
export const common =
  (a: Solid, b: Solid): Solid =>
  (x, y, z) =>
    Math.max(a(x, y, z), b(x, y, z))
export const without =
  (a: Solid, b: Solid, k = 0.01): Solid =>
  (x, y, z) => {
    const d = a(x, y, z)
    const e = -b(x, y, z)
    const h = Math.max(k - Math.abs(d - e), 0) / k
    return Math.max(d, e) + h * h * k * 0.25
  }
export const swollen =
  (a: Solid, by: number): Solid =>
  (x, y, z) =>
    a(x, y, z) - by
export const below =
  (limit: number): Solid =>
  (_x, y) =>
    y - limit
export const above =
  (limit: number): Solid =>
  (_x, y) =>
    limit - y
/// The solid and its mirror image in x = 0.
export const bothSides =
  (a: Solid): Solid =>
  (x, y, z) =>
    a(Math.abs(x), y, z)
