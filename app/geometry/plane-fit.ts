import { Matrix, solve } from 'ml-matrix'
import type { Point } from '../project/fields'
import { applyHomography, homographyOf, homographySlope, inverted, parameterSlopes, type Homography } from './homography'
import { minus } from './vector'

/// A plane fitted to marks whose places on it are known: the map from the plane to the picture under which the marks fall
/// nearest to where they were placed, each distance counted in σ of its placing.

export interface PlaneFit {
  /// From the picture to the plane; null beyond the plane's horizon.
  readonly onPlane: (at: Point) => Point | null
  readonly onPicture: (at: Point) => Point
  /// d(place on the plane)/d(point on the picture), at a point of the picture.
  readonly slope: (at: Point) => readonly [Point, Point]
  /// How a pixel of each mark moves the place of a point that itself stays where it is, one mark after another.
  readonly markSlopes: (at: Point) => readonly (readonly [Point, Point])[]
  /// In the order in which they were given.
  readonly marks: readonly FittedMark[]
  /// Σ (distance on the picture / σ)²; with σ as stated, χ² of `freedom` degrees.
  readonly misfit: number
  /// Two for each mark, less the map's eight.
  readonly freedom: number
}

export interface FittedMark {
  /// Where the picture puts the mark, less where it is known to lie, in the plane's unit.
  readonly off: Point
  /// By how much the misfit falls where the mark is left out; 0 where the others do not tell.
  readonly fallsBy: number
}

export type PlaneFault = 'too-few' | 'crossed'

/// Fits the plane to marks on the picture (px), their places on the plane and the σ of their placings (px, per axis).
/// `too-few`: fewer than four, or so many on one line that no map follows. `crossed`: no plane that a camera sees shows the marks
/// in this order. Normalised direct linear transformation, refined to the least squares of the picture: with errors of the
/// placings alone this is the most likely plane (Hartley and Zisserman 2003 §4.2, error in one image; §5.2 for the slopes).
export function fitPlane(picture: readonly Point[], plane: readonly Point[], sigmas: readonly number[]): PlaneFit | PlaneFault {
  const n = plane.length
  if (n < 4) return 'too-few'
  // Marks in the middle of their own plane, about 1 apart: the map's last number is never near 0, and its equations well conditioned.
  const centre: Point = [plane.reduce((s, p) => s + p[0], 0) / n, plane.reduce((s, p) => s + p[1], 0) / n]
  const size = plane.reduce((s, p) => s + Math.hypot(p[0] - centre[0], p[1] - centre[1]), 0) / n
  if (!(size > 0)) return 'too-few'
  const inward = ([x, y]: Point): Point => [(x - centre[0]) / size, (y - centre[1]) / size]
  const outward = ([x, y]: Point): Point => [size * x + centre[0], size * y + centre[1]]
  const places = plane.map(inward)
  const weights = sigmas.map((sigma) => 1 / sigma)
  const map = homographyOf(places, picture, weights)
  const back = map && inverted(map)
  if (!map || !back) return 'too-few'
  const ahead = (h: Homography, [x, y]: Point): number => h[6] * x + h[7] * y + h[8]
  const sides = places.map((p) => Math.sign(ahead(map, p)))
  if (sides.some((side) => side !== sides[0])) return 'crossed'
  const inFront = Math.sign(ahead(back, picture[0]!))

  const J = new Matrix(places.flatMap((p, i) => parameterSlopes(map, p).map((row) => row.map((v) => weights[i]! * v))))
  const gives = solve(J, Matrix.eye(2 * n, 2 * n))
  const slope = (at: Point): readonly [Point, Point] => {
    const [[a, b], [c, d]] = homographySlope(back, at)
    return [
      [size * a, size * b],
      [size * c, size * d],
    ]
  }
  const residuals = places.map((p, i): Point => minus(picture[i]!, applyHomography(map, p)).map((v) => v * weights[i]!) as unknown as Point)
  const freedom = 2 * n - 8
  return {
    freedom,
    misfit: residuals.reduce((s, [x, y]) => s + x * x + y * y, 0),
    marks: plane.map((at, i) => ({
      off: minus(outward(applyHomography(back, picture[i]!)), at),
      fallsBy: freedom > 0 ? fallsBy(J, gives, residuals[i]!, i) : 0,
    })),
    onPlane: (at) => (Math.sign(ahead(back, at)) === inFront ? outward(applyHomography(back, at)) : null),
    onPicture: (at) => applyHomography(map, inward(at)),
    slope,
    markSlopes(at) {
      // The point stays, the map gives way beneath it: dP = −S·(dp/dg)·dg.
      const byMap = new Matrix(parameterSlopes(map, applyHomography(back, at))).mmul(gives)
      const own = slope(at)
      return weights.map((weight, i) => {
        const cell = (row: 0 | 1, axis: 0 | 1): number =>
          -weight * (own[row][0] * byMap.get(0, 2 * i + axis) + own[row][1] * byMap.get(1, 2 * i + axis))
        return [
          [cell(0, 0), cell(0, 1)],
          [cell(1, 0), cell(1, 1)],
        ]
      })
    },
  }
}

/// A mark this nearly decides the fit by itself: the others do not check it.
const UNCHECKED = 1e-9

/// rᵀ(I − H)⁻¹r with the mark's own block of the hat matrix: what leaving it out takes off the misfit, to first order (Cook and
/// Weisberg 1982 §2.2, from memory).
function fallsBy(J: Matrix, gives: Matrix, [x, y]: Point, i: number): number {
  const own = J.subMatrix(2 * i, 2 * i + 1, 0, 7).mmul(gives.subMatrix(0, 7, 2 * i, 2 * i + 1))
  const [a, b, d] = [1 - own.get(0, 0), -own.get(0, 1), 1 - own.get(1, 1)]
  const determinant = a * d - b * b
  return determinant > UNCHECKED ? (d * x * x - 2 * b * x * y + a * y * y) / determinant : 0
}
