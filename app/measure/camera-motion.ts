import { Matrix, solve } from 'ml-matrix'
import { applyHomography, homographyOf, homographySlope, parameterSlopes } from '../geometry/homography'
import { applySimilarity, similarityOf } from '../geometry/similarity'
import { length, minus } from '../geometry/vector'
import type { Point } from '../project/fields'
import type { Clip } from '../project/film'
import type { Camera } from '../project/question'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { locate, type Located } from './located'
import type { PointError } from './effect'
import type { ReasonCode } from './reason'

/// Takes the camera's own motion out: carries a point of one frame to where the camera of another
/// frame would have shown it. Two or three background points give a similarity (pan, zoom, roll of a
/// distant camera, to first order); four and more a homography, which a camera that only turns
/// and zooms follows exactly, whatever the background's depth.

export interface Steadied {
  readonly at: Point
  /// How a pixel on the other frame moves it: [along x, along y] of the steadied picture.
  readonly slope: readonly [Point, Point]
  /// What the background's own errors add, px.
  readonly errors: readonly PointError[]
}

export interface CameraMotion {
  readonly steady: (point: Point) => Steadied
  readonly warnings: readonly ReasonCode[]
}

const UNMOVED: readonly [Point, Point] = [
  [1, 0],
  [0, 1],
]

/// Motion as the measure states it, else the clip; from `frame` to `toFrame` (whose picture is kept).
export function cameraMotion(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  stated: Camera | undefined,
  frame: number,
  toFrame: number,
): Result<CameraMotion, readonly ReasonCode[]> {
  const still = (warnings: readonly ReasonCode[]): CameraMotion => ({ warnings, steady: (at) => ({ at, slope: UNMOVED, errors: [] }) })
  const camera = stated ?? clip.hall?.camera
  if (camera === undefined) return ok(still(['camera-not-followed']))
  if (camera === 'still' || frame === toFrame) return ok(still([]))
  const from: Located[] = []
  const to: Located[] = []
  for (const name of camera.background) {
    const [a, b] = [locate(context, clip, subject, name, frame), locate(context, clip, subject, name, toFrame)]
    if (a.ok && b.ok) {
      from.push(a.value)
      to.push(b.value)
    }
  }
  const [p, q] = [from.map((l) => l.at), to.map((l) => l.at)]
  // Background has no kit to hide its points: clicks only.
  const sigma = Math.sqrt([...from, ...to].reduce((s, l) => s + clickVariance(l), 0) / Math.max(1, from.length))
  const key = `camera:${clip.id}:${frame}:${toFrame}`
  const turned = p.length >= 4 ? byHomography(p, q, sigma, key) : null
  const shifted = bySimilarity(p, q, sigma, key)
  if (!shifted) return refused(['no-sample-on-frame'])
  return ok({
    warnings: [],
    steady: (point) => {
      const exact = turned?.(point)
      // A homography from points near one line goes wild away from it; the similarity does not.
      const like = shifted(point)
      return exact && exact.errors[0]!.sigma <= WILD * sigma && length(minus(exact.at, like.at)) <= FAR * like.errors[0]!.sigma
        ? exact
        : like
    },
  })
}

/// A camera that turns by α moves a point at r from the centre by about r²·α/f otherwise than a
/// similarity does; α is the shift over f. f of a long lens on the picture's scale [J].
const ASSUMED_FOCAL_PX = 2500
/// A homography's error above this many of the background's own σ is no gain.
const WILD = 2
/// A homography so many of the similarity's own errors away from it is none of a camera's: four points, three of them nearly on
/// one line, folded the picture over. Our own, from known pans: there it was hundreds of pixels.
const FAR = 10

type Steady = CameraMotion['steady']

function byHomography(p: readonly Point[], q: readonly Point[], sigma: number, key: string): Steady | null {
  const map = homographyOf(p, q)
  if (!map) return null
  const J = new Matrix(p.flatMap((x) => parameterSlopes(map, x)))
  const covariance = solve(J.transpose().mmul(J), Matrix.eye(8, 8))
  return (point) => {
    const variances = parameterSlopes(map, point).map(
      (row) =>
        sigma ** 2 *
        new Matrix([row])
          .mmul(covariance)
          .mmul(new Matrix([row]).transpose())
          .get(0, 0),
    )
    return {
      at: applyHomography(map, point),
      slope: homographySlope(map, point),
      errors: [{ key, part: 'camera motion', sigma: Math.sqrt(Math.max(...variances)) }],
    }
  }
}

function bySimilarity(p: readonly Point[], q: readonly Point[], sigma: number, key: string): Steady | null {
  const map = similarityOf(p, q)
  if (!map) return null
  const n = p.length
  const [mx, my] = [p.reduce((s, x) => s + x[0], 0) / n, p.reduce((s, x) => s + x[1], 0) / n]
  const spread = p.reduce((s, x) => s + (x[0] - mx) ** 2 + (x[1] - my) ** 2, 0)
  const [sx, sy] = applySimilarity(map, [mx, my])
  const shift = Math.hypot(sx - mx, sy - my)
  return (point) => {
    const away = (point[0] - mx) ** 2 + (point[1] - my) ** 2
    const placed = sigma * Math.sqrt(1 / n + away / spread)
    const bent = (away * shift) / ASSUMED_FOCAL_PX ** 2 / Math.sqrt(3)
    return {
      at: applySimilarity(map, point),
      slope: [
        [map.a, -map.b],
        [map.b, map.a],
      ],
      errors: [{ key, part: 'camera motion', sigma: Math.hypot(placed, bent) }],
    }
  }
}

const clickVariance = ({ errors }: Located): number => errors.reduce((s, e) => s + (e.part === 'anatomical' ? 0 : e.sigma ** 2), 0)
