/// Rotations as quaternions [x, y, z, w] of unit length, and points as plain triples.

export type Quaternion = readonly [number, number, number, number]
export type Vector = readonly [number, number, number]

export const UNTURNED: Quaternion = [0, 0, 0, 1]

export const turnAbout = (axis: Vector, deg: number): Quaternion => {
  const half = (deg * Math.PI) / 360
  const s = Math.sin(half)
  return [axis[0] * s, axis[1] * s, axis[2] * s, Math.cos(half)]
}

export const timesTurn = (a: Quaternion, b: Quaternion): Quaternion => [
  a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
  a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
]

export function turned(q: Quaternion, v: Vector): Vector {
  const [x, y, z, w] = q
  const tx = 2 * (y * v[2] - z * v[1])
  const ty = 2 * (z * v[0] - x * v[2])
  const tz = 2 * (x * v[1] - y * v[0])
  return [v[0] + w * tx + y * tz - z * ty, v[1] + w * ty + z * tx - x * tz, v[2] + w * tz + x * ty - y * tx]
}

/// Between two turns at constant angular speed, the short way round.
export function between(a: Quaternion, b: Quaternion, part: number): Quaternion {
  let cos = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3]
  const sign = cos < 0 ? -1 : 1
  cos = Math.min(1, cos * sign)
  const angle = Math.acos(cos)
  const wa = angle < 1e-6 ? 1 - part : Math.sin((1 - part) * angle) / Math.sin(angle)
  const wb = (angle < 1e-6 ? part : Math.sin(part * angle) / Math.sin(angle)) * sign
  const q = [0, 1, 2, 3].map((i) => wa * a[i]! + wb * b[i]!)
  const length = Math.hypot(...q)
  return [q[0]! / length, q[1]! / length, q[2]! / length, q[3]! / length]
}

export const plus = (a: Vector, b: Vector, k = 1): Vector => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]]
export const distance = (a: Vector, b: Vector): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
export const unit = (a: Vector): Vector => {
  const length = Math.hypot(...a)
  return [a[0] / length, a[1] / length, a[2] / length]
}
