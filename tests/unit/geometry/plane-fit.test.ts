import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { fitPlane, type PlaneFit } from '../../../app/geometry/plane-fit'
import type { Point } from '../../../app/project/fields'

/// A floor in metres seen by a camera of focal length 1400 px that looks down by `deg` from 10 m away, turned by `turn`.
function camera(deg: number, turn: number): (at: Point) => Point {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)]
  const [ct, st] = [Math.cos(turn), Math.sin(turn)]
  return ([X, Y]) => {
    const [x, z] = [ct * X - st * Y, st * X + ct * Y]
    const depth = 10 + z * c
    return [960 + (1400 * x) / depth, 540 - (1400 * z * s) / depth]
  }
}
const fitOf = (picture: readonly Point[], plane: readonly Point[], sigmas: readonly number[] = plane.map(() => 2)): PlaneFit => {
  const fit = fitPlane(picture, plane, sigmas)
  if (typeof fit === 'string') throw new Error(fit)
  return fit
}
const ring: Point[] = [
  [-2, -2],
  [2, -2],
  [2, 2],
  [-2, 2],
  [0, -2],
  [2, 0],
  [0, 2],
  [-2, 0],
]
const seen = fc.record({ deg: fc.double({ min: 8, max: 90, noNaN: true }), turn: fc.double({ min: 0, max: 6.28, noNaN: true }) })
const offset = fc.tuple(fc.double({ min: -3, max: 3, noNaN: true }), fc.double({ min: -3, max: 3, noNaN: true }))
const near = (a: Point, b: Point, within: number): void => {
  expect(Math.abs(a[0] - b[0])).toBeLessThan(within)
  expect(Math.abs(a[1] - b[1])).toBeLessThan(within)
}

describe('a plane fitted to its marks', () => {
  it('should give every place back, there and back again, whatever the number of marks', () => {
    fc.assert(
      fc.property(seen, fc.integer({ min: 4, max: 8 }), offset, ({ deg, turn }, n, at) => {
        const project = camera(deg, turn)
        const fit = fitOf(ring.slice(0, n).map(project), ring.slice(0, n))
        near(fit.onPicture(at), project(at), 1e-4)
        near(fit.onPlane(project(at))!, at, 1e-6)
        expect(fit.misfit).toBeLessThan(1e-9)
        expect(fit.freedom).toBe(2 * n - 8)
      }),
    )
  })

  it('should not hang on where the floor is counted from, nor in what unit', () => {
    fc.assert(
      fc.property(
        seen,
        fc.array(offset, { minLength: 8, maxLength: 8 }),
        offset,
        fc.double({ min: 0.1, max: 50, noNaN: true }),
        ({ deg, turn }, noise, from, unit) => {
          const picture = ring.map(camera(deg, turn)).map(([x, y], i): Point => [x + noise[i]![0], y + noise[i]![1]])
          const moved = ring.map(([x, y]): Point => [unit * (x + 30 * from[0]), unit * (y + 30 * from[1])])
          const [plain, other] = [fitOf(picture, ring), fitOf(picture, moved)]
          expect(other.misfit).toBeCloseTo(plain.misfit, 5)
          const place = plain.onPlane([960, 540])!
          near(other.onPlane([960, 540])!, [unit * (place[0] + 30 * from[0]), unit * (place[1] + 30 * from[1])], 1e-4 * unit)
        },
      ),
      { numRuns: 40 },
    )
  })

  it('should tell by its slopes where a point goes when it, or a mark, is moved', () => {
    fc.assert(
      fc.property(
        seen,
        fc.array(offset, { minLength: 6, maxLength: 6 }),
        fc.integer({ min: 0, max: 5 }),
        fc.integer({ min: 0, max: 1 }),
        ({ deg, turn }, noise, mark, axis) => {
          const marks = ring.slice(0, 6)
          const picture = marks.map(camera(deg, turn)).map(([x, y], i): Point => [x + 0.3 * noise[i]![0], y + 0.3 * noise[i]![1]])
          const sigmas = [1, 2, 3, 1, 2, 3]
          const fit = fitOf(picture, marks, sigmas)
          const at: Point = [1000, 560]
          const step = 0.01
          const by = (p: Point): Point => [p[0] + (axis === 0 ? step : 0), p[1] + (axis === 1 ? step : 0)]
          const change = (place: Point): Point => [(place[0] - fit.onPlane(at)![0]) / step, (place[1] - fit.onPlane(at)![1]) / step]
          const slope = fit.slope(at)
          near(change(fit.onPlane(by(at))!), [slope[0][axis]!, slope[1][axis]!], 1e-3 + 1e-3 * Math.hypot(slope[0][axis]!, slope[1][axis]!))
          const byMark = fit.markSlopes(at)[mark]!
          const moved = fitOf(
            picture.map((p, i) => (i === mark ? by(p) : p)),
            marks,
            sigmas,
          )
          // To first order in the residuals: a few per cent with residuals of a pixel.
          near(change(moved.onPlane(at)!), [byMark[0][axis]!, byMark[1][axis]!], 1e-3 + 0.15 * Math.hypot(...byMark[0], ...byMark[1]))
        },
      ),
      { numRuns: 60 },
    )
  })

  it('should heed a mark by its σ', () => {
    const picture = ring.map(camera(30, 0.4))
    const moved = picture.map((p, i): Point => (i === 2 ? [p[0] + 10, p[1]] : p))
    const [even, doubted] = [
      fitOf(moved, ring),
      fitOf(
        moved,
        ring,
        ring.map((_, i) => (i === 2 ? 200 : 2)),
      ),
    ]
    const far = (fit: PlaneFit): number => Math.hypot(...([0, 1] as const).map((k) => fit.onPicture(ring[0]!)[k] - picture[0]![k]))
    expect(far(even)).toBeGreaterThan(0.5)
    expect(far(doubted)).toBeLessThan(0.01)
  })

  it('should tell by how much the misfit falls without a mark, as a fit without it does', () => {
    const picture = ring.map(camera(25, 1)).map(([x, y], i): Point => [x + Math.sin(7 * i), y + Math.cos(5 * i)])
    picture[5] = [picture[5]![0] + 12, picture[5]![1] - 5]
    const fit = fitOf(picture, ring)
    ring.forEach((_, i) => {
      const without = fitOf(
        picture.filter((__, k) => k !== i),
        ring.filter((__, k) => k !== i),
      )
      expect(Math.abs(fit.marks[i]!.fallsBy - (fit.misfit - without.misfit))).toBeLessThan(0.1 * fit.misfit)
    })
    expect(Math.max(...fit.marks.map(({ fallsBy }) => fallsBy))).toBe(fit.marks[5]!.fallsBy)
  })
})

test('a place beyond the horizon is none', () => {
  const fit = fitOf(ring.map(camera(10, 0)), ring)
  // The horizon lies 1400·tan 10° = 247 px above the middle.
  expect(fit.onPlane([960, 540 - 240])).not.toBeNull()
  expect(fit.onPlane([960, 540 - 255])).toBeNull()
})

test('fewer than four marks, or marks on a line, make no plane', () => {
  expect(fitPlane(ring.slice(0, 3), ring.slice(0, 3), [1, 1, 1])).toBe('too-few')
  const line: Point[] = [0, 1, 2, 3, 4].map((x) => [x, 2 * x])
  expect(
    fitPlane(
      line.map(([x, y]): Point => [100 * x, 50 * y]),
      line,
      line.map(() => 1),
    ),
  ).toBe('too-few')
  expect(
    fitPlane(
      ring,
      ring.map((): Point => [1, 1]),
      ring.map(() => 1),
    ),
  ).toBe('too-few')
})

test('marks that have changed places are no plane that a camera sees', () => {
  const [a, b, c, d] = ring.slice(0, 4).map(camera(30, 0.2)) as [Point, Point, Point, Point]
  expect(fitPlane([a, b, d, c], ring.slice(0, 4), [1, 1, 1, 1])).toBe('crossed')
})
