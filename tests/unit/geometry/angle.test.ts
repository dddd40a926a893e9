import { describe, expect, test } from 'vitest'
import { angleOfLines, jointAngle, lean, wrapped } from '../../../app/geometry/angle'
import type { Point } from '../../../app/project/fields'

/// Slopes against finite differences of the angle itself.
function expectSlopes(angle: (points: readonly Point[]) => number, points: readonly Point[], slopes: readonly Point[]): void {
  const step = 1e-5
  points.forEach((p, i) => {
    for (const k of [0, 1] as const) {
      const moved = points.map((q, j): Point => (j === i ? (k === 0 ? [q[0] + step, q[1]] : [q[0], q[1] + step]) : q))
      const back = points.map((q, j): Point => (j === i ? (k === 0 ? [q[0] - step, q[1]] : [q[0], q[1] - step]) : q))
      expect((angle(moved) - angle(back)) / (2 * step)).toBeCloseTo(slopes[i]![k], 5)
      expect(p).toHaveLength(2)
    }
  })
}

describe('slopes say how an angle turns as its points move', () => {
  test('of a joint', () => {
    const points: [Point, Point, Point] = [
      [10, 20],
      [50, 60],
      [90, 30],
    ]
    expectSlopes(([a, b, c]) => jointAngle(a!, b!, c!)!.deg, points, jointAngle(...points)!.slopes)
  })
  test('of two lines', () => {
    const points: [Point, Point, Point, Point] = [
      [10, 20],
      [50, 60],
      [90, 30],
      [70, 120],
    ]
    expectSlopes(([a, b, c, d]) => angleOfLines(a!, b!, c!, d!)!.deg, points, angleOfLines(...points)!.slopes)
  })
  test('of a lean', () => {
    const points: [Point, Point] = [
      [10, 120],
      [50, 60],
    ]
    expectSlopes(([a, b]) => lean(a!, b!)!.deg, points, lean(...points)!.slopes)
  })
})

describe('angles', () => {
  test('lean to image right is positive, upright 0, downwards 180', () => {
    expect(lean([0, 10], [0, 0])!.deg).toBe(0)
    expect(lean([0, 10], [10, 0])!.deg).toBeCloseTo(45, 12)
    expect(lean([0, 0], [0, 10])!.deg).toBe(180)
  })
  test('are exact near 0 and 180, where arccos is not', () => {
    expect(jointAngle([1, 0], [0, 0], [1, 1e-9])!.deg).toBeCloseTo((1e-9 * 180) / Math.PI, 18)
  })
  test('wrap to (−180, 180]', () => {
    expect([181, -181, 180, -180, 540, 0].map(wrapped)).toEqual([-179, 179, 180, 180, 180, 0])
  })
  test('of a line without length there is none', () => {
    expect(jointAngle([1, 1], [1, 1], [2, 2])).toBeNull()
    expect(lean([1, 1], [1, 1])).toBeNull()
  })
})
