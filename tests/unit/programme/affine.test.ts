import fc from 'fast-check'
import { expect, it } from 'vitest'
import { applyAffine, compose, invert, mirrorOf, rectangleOnto, similarityOnto, type Affine } from '../../../app/programme/affine'
import type { Point } from '../../../app/project/fields'

const number = fc.double({ min: -500, max: 500, noNaN: true })
const point = fc.tuple(number, number) as fc.Arbitrary<Point>
const near = (a: Point, b: Point): void => {
  expect(a[0]).toBeCloseTo(b[0], 5)
  expect(a[1]).toBeCloseTo(b[1], 5)
}

it('should undo what it did', () => {
  fc.assert(
    fc.property(
      point,
      point,
      fc.double({ min: 0.1, max: 10, noNaN: true }),
      fc.double({ min: -3, max: 3, noNaN: true }),
      (p, shift, scale, turn) => {
        const m: Affine = {
          a: scale * Math.cos(turn),
          b: scale * Math.sin(turn),
          c: -scale * Math.sin(turn),
          d: scale * Math.cos(turn),
          e: shift[0],
          f: shift[1],
        }
        near(applyAffine(invert(m), applyAffine(m, p)), p)
        near(applyAffine(compose(invert(m), m), p), p)
      },
    ),
  )
})

it('should lay two points on two others without flipping', () => {
  fc.assert(
    fc.property(point, point, point, point, (p, q, P, Q) => {
      const m = similarityOnto(p, q, P, Q)
      if (Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-3) return
      near(applyAffine(m!, p), P)
      near(applyAffine(m!, q), Q)
      expect(m!.a * m!.d - m!.b * m!.c).toBeGreaterThanOrEqual(0)
    }),
  )
  expect(similarityOnto([1, 1], [1, 1], [0, 0], [5, 5])).toBeNull()
})

it('should lay edges on edges and mirror twice to the same', () => {
  near(applyAffine(rectangleOnto([100, 50, 640, 360], [0, 0, 1920, 1080]), [420, 230]), [960, 540])
  near(applyAffine(compose(mirrorOf(1280), mirrorOf(1280)), [17.25, 3]), [17.25, 3])
})
