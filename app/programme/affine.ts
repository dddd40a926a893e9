import type { Point, Rectangle } from '../project/fields'

/// Maps between pixel planes: X = a·x + c·y + e, Y = b·x + d·y + f.
export interface Affine {
  readonly a: number
  readonly b: number
  readonly c: number
  readonly d: number
  readonly e: number
  readonly f: number
}

export const applyAffine = (m: Affine, [x, y]: Point): Point => [m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f]

/// `then ∘ first`.
export function compose(then: Affine, first: Affine): Affine {
  return {
    a: then.a * first.a + then.c * first.b,
    b: then.b * first.a + then.d * first.b,
    c: then.a * first.c + then.c * first.d,
    d: then.b * first.c + then.d * first.d,
    e: then.a * first.e + then.c * first.f + then.e,
    f: then.b * first.e + then.d * first.f + then.f,
  }
}

/// Throws RangeError when the map flattens the plane.
export function invert(m: Affine): Affine {
  const det = m.a * m.d - m.b * m.c
  if (Math.abs(det) < 1e-12) throw new RangeError('a flat map has no inverse')
  return {
    a: m.d / det,
    b: -m.b / det,
    c: -m.c / det,
    d: m.a / det,
    e: (m.c * m.f - m.d * m.e) / det,
    f: (m.b * m.e - m.a * m.f) / det,
  }
}

/// The map that lays rectangle `from` on rectangle `to`, edges on edges.
export function rectangleOnto(from: Rectangle, to: Rectangle): Affine {
  const a = to[2] / from[2]
  const d = to[3] / from[3]
  return { a, b: 0, c: 0, d, e: to[0] - a * from[0], f: to[1] - d * from[1] }
}

/// Left–right flip of a picture `width` pixels wide.
export const mirrorOf = (width: number): Affine => ({ a: -1, b: 0, c: 0, d: 1, e: width, f: 0 })

/// The turn, scale and shift (no flip) that lays p on P and q on Q. Null when p and q coincide.
export function similarityOnto(p: Point, q: Point, P: Point, Q: Point): Affine | null {
  const [ux, uy] = [q[0] - p[0], q[1] - p[1]]
  const [vx, vy] = [Q[0] - P[0], Q[1] - P[1]]
  const length = ux * ux + uy * uy
  if (length < 1e-9) return null
  const a = (ux * vx + uy * vy) / length
  const b = (ux * vy - uy * vx) / length
  return { a, b, c: -b, d: a, e: P[0] - a * p[0] + b * p[1], f: P[1] - b * p[0] - a * p[1] }
}
