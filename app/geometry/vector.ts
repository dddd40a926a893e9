import type { Point } from '../project/fields'

/// Plane vectors: pixels (y down) on the picture, metres on a ground plane.

export const plus = (a: Point, b: Point): Point => [a[0] + b[0], a[1] + b[1]]
export const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1]]
export const scaled = (a: Point, by: number): Point => [a[0] * by, a[1] * by]
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1]
/// z of the cross product; on the picture (y down) positive when b lies clockwise of a.
export const cross = (a: Point, b: Point): number => a[0] * b[1] - a[1] * b[0]
export const length = (a: Point): number => Math.hypot(a[0], a[1])
export const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
