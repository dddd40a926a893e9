import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { directLinearOf, intersected, type Space } from '../../../app/geometry/direct-linear'
import { applyHomography, homographyOf, inverted } from '../../../app/geometry/homography'
import { distorted, undistorted } from '../../../app/geometry/lens'
import { inFrame, middleOf, segmentFrame } from '../../../app/geometry/local-frame'
import type { Point } from '../../../app/project/fields'

interface Vectors {
  homography4: { image: Point[]; plane_m: Point[]; H: number[][]; query_image: Point[]; query_plane: Point[] }
  homography8_ls: { image: Point[]; plane_m: Point[]; H_cv2_findHomography_method0: number[][]; reproj_plane_rms: number }
  dlt3d_bmc: { world: Space[]; cam1: Point[]; cam2: Point[]; query: [Point, Point]; published: number[]; recomputed_here: number[] }
  undistort: {
    K: number[][]
    dist_k1k2p1p2k3: number[]
    distorted_px: Point[]
    undistorted_px_converged: Point[]
    ideal_norm: Point[]
    distorted_px_forward: Point[]
  }
}
/// OpenCV 4.6.0; the direct linear transformation from BMClab/BMC notebooks (DLT.ipynb).
const vectors = JSON.parse(readFileSync('tests/data/numeric/geometry_cv.json', 'utf8')) as Vectors

const near = (found: readonly number[], stored: readonly number[], within: number): void =>
  stored.forEach((v, i) => expect(Math.abs(found[i]! - v), `entry ${i}`).toBeLessThan(within))

describe('homographies against OpenCV', () => {
  test("four pairs give OpenCV's matrix and floor points", () => {
    const { image, plane_m, H, query_image, query_plane } = vectors.homography4
    const found = homographyOf(image, plane_m)!
    near(found, H.flat(), 1e-6)
    // OpenCV answered these in single precision.
    query_image.forEach((p, i) => near(applyHomography(found, p), query_plane[i]!, 1e-6))
    near(applyHomography(inverted(found)!, applyHomography(found, [500, 400])), [500, 400], 1e-9)
  })

  test("eight pairs with noise give OpenCV's least-squares matrix", () => {
    const { image, plane_m, H_cv2_findHomography_method0, reproj_plane_rms } = vectors.homography8_ls
    const found = homographyOf(image, plane_m)!
    near(found, H_cv2_findHomography_method0.flat(), 1e-6)
    const squares = image.reduce((s, p, i) => {
      const [X, Y] = applyHomography(found, p)
      return s + (X - plane_m[i]![0]) ** 2 + (Y - plane_m[i]![1]) ** 2
    }, 0)
    expect(Math.abs(Math.sqrt(squares / image.length) - reproj_plane_rms)).toBeLessThan(1e-6)
  })

  test('points on a line give no map', () => {
    expect(
      homographyOf(
        [
          [0, 0],
          [1, 1],
          [2, 2],
          [3, 3],
        ],
        [
          [0, 0],
          [1, 0],
          [2, 0],
          [3, 1],
        ],
      ),
    ).toBeNull()
    expect(
      homographyOf(
        [
          [5, 5],
          [5, 5],
          [5, 5],
          [5, 5],
        ],
        [
          [0, 0],
          [1, 0],
          [1, 1],
          [0, 1],
        ],
      ),
    ).toBeNull()
  })
})

describe('lens distortion against OpenCV', () => {
  const { K, dist_k1k2p1p2k3: d, distorted_px, undistorted_px_converged, ideal_norm, distorted_px_forward } = vectors.undistort
  const lens = { fx: K[0]![0]!, fy: K[1]![1]!, cx: K[0]![2]!, cy: K[1]![2]!, k1: d[0]!, k2: d[1]!, p1: d[2]!, p2: d[3]!, k3: d[4]! }

  test("straightens the stored points to OpenCV's converged values", () => {
    expect(distorted_px).toHaveLength(7)
    distorted_px.forEach((p, i) => near(undistorted(lens, p)!, undistorted_px_converged[i]!, 1e-6))
  })

  test('bends ideal points as OpenCV does', () => {
    ideal_norm.forEach((p, i) => near(distorted(lens, p), distorted_px_forward[i]!, 1e-6))
  })
})

describe('points in space', () => {
  test("the direct linear transformation's published example comes out to its nine digits", () => {
    const { world, cam1, cam2, query, published, recomputed_here } = vectors.dlt3d_bmc
    const cameras = [directLinearOf(world, cam1)!, directLinearOf(world, cam2)!]
    const found = intersected(cameras, query)!
    expect(found.map((v, i) => v.toFixed([9, 9, 5][i]!))).toEqual(published.map((v, i) => v.toFixed([9, 9, 5][i]!)))
    near(found, recomputed_here, 1e-6)
  })

  test("Winter's shank frame of p. 183 comes out to its four decimals", () => {
    interface Frame {
      markers_cm: Record<'mm' | 'lm' | 'fh' | 'mc', Space>
      published: Record<string, number[]>
    }
    const { markers_cm: m, published } = JSON.parse(readFileSync('tests/data/numeric/winter_p183_frame.json', 'utf8')) as Frame
    const [ankle, knee] = [middleOf(m.mm, m.lm), middleOf(m.fh, m.mc)]
    const frame = segmentFrame(ankle, knee, m.mm, m.lm)!
    near(ankle, published['ajc']!, 5e-5)
    near(knee, published['kjc']!, 5e-5)
    for (const axis of ['x', 'y', 'z'] as const) near(frame[axis], published[axis]!, 5e-5)
    for (const [name, point] of [
      ['mm', m.mm],
      ['lm', m.lm],
      ['fh', m.fh],
      ['mc', m.mc],
      ['kjc', knee],
    ] as const)
      near(inFrame(frame, point), published[`${name}_local`]!, 5.1e-5)
  })
})
