import type { Point } from '../project/fields'
import { cross, dot, length, minus, plus, scaled } from './vector'

/// Angles of lines on the picture, in degrees, each with its slope: how many degrees the angle
/// turns per pixel that a point moves, along x and along y. Slopes are what an error budget needs.

export const DEGREES = 180 / Math.PI
export const toRadians = (deg: number): number => deg / DEGREES
export const toDegrees = (rad: number): number => rad * DEGREES

/// The same direction within (−180, 180].
export function wrapped(deg: number): number {
  const turned = deg % 360
  return turned > 180 ? turned - 360 : turned <= -180 ? turned + 360 : turned
}

export interface SlopedAngle {
  readonly deg: number
  /// One slope per point, in the order the points were given; degrees a pixel.
  readonly slopes: readonly Point[]
}

/// d(direction of v)/d(tip of v), in degrees a unit of length.
const turning = (v: Point): Point => scaled([-v[1], v[0]], DEGREES / dot(v, v))

/// Angle of line a→b against line c→d, both directed: 0–180.
/// φ = atan2(|u×v|, u·v), exact near 0 and 180 where arccos is not.
/// Null when a line has no length.
export function angleOfLines(a: Point, b: Point, c: Point, d: Point): SlopedAngle | null {
  const u = minus(b, a)
  const v = minus(d, c)
  if (!(length(u) > 0) || !(length(v) > 0)) return null
  const turn = cross(u, v)
  const sign = turn < 0 ? -1 : 1
  const byB = scaled(turning(u), -sign)
  const byD = scaled(turning(v), sign)
  return { deg: toDegrees(Math.atan2(Math.abs(turn), dot(u, v))), slopes: [scaled(byB, -1), byB, scaled(byD, -1), byD] }
}

/// Interior angle at `vertex`, 0–180. Null when either end lies on the vertex.
export function jointAngle(first: Point, vertex: Point, last: Point): SlopedAngle | null {
  const angle = angleOfLines(vertex, first, vertex, last)
  if (!angle) return null
  const [fromVertexA, byFirst, fromVertexB, byLast] = angle.slopes as readonly [Point, Point, Point, Point]
  return { deg: angle.deg, slopes: [byFirst, plus(fromVertexA, fromVertexB), byLast] }
}

/// Lean of the line lower→upper against the picture's vertical: 0 upright, + to image right,
/// within (−180, 180]. Null when the line has no length.
export function lean(lower: Point, upper: Point): SlopedAngle | null {
  const v = minus(upper, lower)
  if (!(length(v) > 0)) return null
  const byUpper = turning(v)
  return { deg: toDegrees(Math.atan2(v[0], -v[1])), slopes: [scaled(byUpper, -1), byUpper] }
}
