/// Vectors of space, by whichever axes the caller has.
export type Vector3 = readonly [number, number, number]

export const dot3 = (a: Vector3, b: Vector3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
export const times3 = (a: Vector3, by: number): Vector3 => [a[0] * by, a[1] * by, a[2] * by]
export const plus3 = (a: Vector3, b: Vector3): Vector3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
export const cross3 = (a: Vector3, b: Vector3): Vector3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
/// The same direction, of length 1; not finite where it has no length.
export const unit3 = (a: Vector3): Vector3 => times3(a, 1 / Math.sqrt(dot3(a, a)))

/// The vector turned about `turn`'s direction by its length, radians (Rodrigues' formula).
export function turned3(v: Vector3, turn: Vector3): Vector3 {
  const angle = Math.sqrt(dot3(turn, turn))
  if (angle === 0) return v
  const k = times3(turn, 1 / angle)
  return plus3(plus3(times3(v, Math.cos(angle)), times3(cross3(k, v), Math.sin(angle))), times3(k, dot3(k, v) * (1 - Math.cos(angle))))
}

/// The two directions at right angles that lie nearest to two that are nearly so: each gives way by as much.
export function squared3(a: Vector3, b: Vector3): readonly [Vector3, Vector3] {
  const [r, s] = [unit3(a), unit3(b)]
  const [sum, difference] = [unit3(plus3(r, s)), unit3(plus3(r, times3(s, -1)))]
  return [times3(plus3(sum, difference), Math.SQRT1_2), times3(plus3(sum, times3(difference, -1)), Math.SQRT1_2)]
}
