import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { planeCamera, type PlanePose } from '../../../app/geometry/plane-camera'
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
  focal_px: number
  camera_cv2: {
    focal_px: number
    focal_sd_px: number
    rms_px: number
    centre_m: [number, number, number]
    elevation_of_middle_deg: number
    elevation_of_query_deg: number[]
  }
}
const { scenes } = JSON.parse(readFileSync('tests/data/numeric/floor_cv.json', 'utf8')) as { scenes: Scene[] }

describe('a floor of nine marks against OpenCV', () => {
  test.each(scenes)('seen from $elevation_deg°', ({ marks_m, marks_px, fitted_px, query_px, query_true_m, query_cv2_m }) => {
    const fit = fitPlane(
      marks_px,
      marks_m,
      marks_px.map(() => 1.5),
    )
    if (typeof fit === 'string') throw new Error(fit)
    // Both stop where no step makes the sum of squares smaller to speak of: a thousandth of a pixel, a tenth of a millimetre.
    marks_m.forEach((at, i) => fit.onPicture(at).forEach((v, k) => expect(Math.abs(v - fitted_px[i]![k]!)).toBeLessThan(1e-3)))
    query_px.forEach((at, i) => fit.onPlane(at)!.forEach((v, k) => expect(Math.abs(v - query_cv2_m[i]![k]!)).toBeLessThan(1e-4)))
    // And the drawn truth, within the noise of the marks.
    query_px.forEach((at, i) =>
      expect(Math.hypot(fit.onPlane(at)![0] - query_true_m[i]![0], fit.onPlane(at)![1] - query_true_m[i]![1])).toBeLessThan(0.05),
    )
    const squares = marks_px.reduce((s, [x, y], i) => s + (x - fitted_px[i]![0]) ** 2 + (y - fitted_px[i]![1]) ** 2, 0)
    expect(fit.misfit * 1.5 ** 2).toBeCloseTo(squares, 3)
    expect(fit.freedom).toBe(10)
  })
})

/// The angle of the ray through a point of the picture above the floor.
const elevationOf =
  ([x, y]: Point) =>
  ({ focal, up }: PlanePose): number => {
    const ray = [x - 960, y - 540, focal] as const
    return (-Math.asin((ray[0] * up[0] + ray[1] * up[1] + ray[2] * up[2]) / Math.hypot(...ray)) * 180) / Math.PI
  }

/// OpenCV 5.0's `calibrateCamera` of the one plane: principal point in the middle, square pixels, no distortion.
describe('the camera of a floor of nine marks against OpenCV', () => {
  test.each(scenes)('seen from $elevation_deg°', ({ marks_m, marks_px, query_px, elevation_deg, focal_px, camera_cv2: cv }) => {
    const camera = planeCamera(
      marks_px,
      marks_m,
      marks_px.map(() => 1.5),
      [960, 540],
      1920,
    )!
    // OpenCV was given its points in single precision.
    expect(Math.abs(camera.pose.focal - cv.focal_px)).toBeLessThan(0.05)
    expect(Math.abs(elevationOf([960, 540])(camera.pose) - cv.elevation_of_middle_deg)).toBeLessThan(0.002)
    query_px.forEach((at, i) => expect(Math.abs(elevationOf(at)(camera.pose) - cv.elevation_of_query_deg[i]!)).toBeLessThan(0.002))
    ;[...camera.pose.beneath, camera.pose.height].forEach((v, i) => expect(Math.abs(v - cv.centre_m[i]!)).toBeLessThan(0.002))
    expect(camera.misfit).toBeCloseTo((9 * cv.rms_px ** 2) / 1.5 ** 2, 2)
    // OpenCV takes σ from the residuals, we from what was said of the marks.
    const focal = camera.tell((pose) => pose.focal)
    const sigmaByResiduals = focal.sigma * Math.sqrt(camera.misfit / camera.freedom)
    expect(sigmaByResiduals / cv.focal_sd_px).toBeGreaterThan(0.9)
    expect(sigmaByResiduals / cv.focal_sd_px).toBeLessThan(1.1)
    // And the camera that the picture was made with.
    const told = camera.tell(elevationOf([960, 540]))
    expect(Math.abs(told.value - elevation_deg)).toBeLessThan(3 * told.sigma)
    expect(Math.abs(focal.value - focal_px)).toBeLessThan(3 * focal.sigma)
  })
})
