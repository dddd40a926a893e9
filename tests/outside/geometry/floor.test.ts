import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { fitPlane } from '../../../app/geometry/plane-fit'
import type { Point } from '../../../app/project/fields'

/// Nine marks of a floor on pictures of known cameras: OpenCV 5.0's `findHomography` from the floor to the picture, method 0.
interface Scene {
  elevation_deg: number
  marks_m: Point[]
  marks_px: Point[]
  fitted_px: Point[]
  query_px: Point[]
  query_true_m: Point[]
  query_cv2_m: Point[]
}
const { scenes } = JSON.parse(readFileSync('tests/data/numeric/floor_cv.json', 'utf8')) as { scenes: Scene[] }

describe('a floor of nine marks against OpenCV', () => {
  test.each(scenes)('seen from $elevation_deg°', ({ marks_m, marks_px, fitted_px, query_px, query_true_m, query_cv2_m }) => {
    const fit = fitPlane(marks_px, marks_m, marks_px.map(() => 1.5))
    if (typeof fit === 'string') throw new Error(fit)
    // Both stop where no step makes the sum of squares smaller to speak of: a thousandth of a pixel, a tenth of a millimetre.
    marks_m.forEach((at, i) => fit.onPicture(at).forEach((v, k) => expect(Math.abs(v - fitted_px[i]![k]!)).toBeLessThan(1e-3)))
    query_px.forEach((at, i) => fit.onPlane(at)!.forEach((v, k) => expect(Math.abs(v - query_cv2_m[i]![k]!)).toBeLessThan(1e-4)))
    // And the drawn truth, within the noise of the marks.
    query_px.forEach((at, i) => expect(Math.hypot(fit.onPlane(at)![0] - query_true_m[i]![0], fit.onPlane(at)![1] - query_true_m[i]![1])).toBeLessThan(0.05))
    const squares = marks_px.reduce((s, [x, y], i) => s + (x - fitted_px[i]![0]) ** 2 + (y - fitted_px[i]![1]) ** 2, 0)
    expect(fit.misfit * 1.5 ** 2).toBeCloseTo(squares, 3)
    expect(fit.freedom).toBe(10)
  })
})
