import { hallLines } from '../body/landmark-name'
import { toDegrees, wrapped } from '../geometry/angle'
import { planeCamera, type PlaneCamera, type PlanePose } from '../geometry/plane-camera'
import { length, middle, minus, scaled } from '../geometry/vector'
import type { AngleWithU, Point } from '../project/fields'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { fDistribution } from './distribution'
import { uncertaintyOf } from './effect'
import { floorEffects, floorPlane, sigmaOf, type FloorPlane } from './floor-plane'
import { locate, PRIOR_FREEDOM } from './located'
import type { ReasonCode } from './reason'
import {
  CHANCE,
  elevationTo,
  FACING_U_DEG,
  facingOf,
  LARGEST_YAW_U_DEG,
  MIDDLE_SHARE,
  OVERHEAD_DEG,
  type ElevationToPerson,
  type Looking,
} from './sight'

/// How the camera looks at a person, from the marks of the floor that they stand on.

interface Seen {
  readonly plane: FloorPlane
  readonly size: { readonly width: number; readonly height: number }
  /// With its axis through the picture's middle; and through places right, left, below and above it, two σ away.
  readonly camera: PlaneCamera
  readonly beside: readonly PlaneCamera[]
  /// σ of the marks as all their misfit tells it, over σ as it was stated.
  readonly spread: number
}

/// The camera by the clip's floor on a frame. `picture-cropped`: no camera with square pixels and its axis near the picture's middle
/// shows the marks so. A stretched picture passes: one plane leaves one number to check the camera by.
function cameraOf(context: MeasureContext, clip: Clip, frame: number): Result<Seen, ReasonCode> {
  const floor = clip.hall?.floor
  const size = context.table(clip)?.picture
  if (!floor) return refused('floor-missing')
  if (!size) return refused('film-not-read')
  const found = floorPlane(context, clip, floor, frame)
  if (!found.ok) return found
  const { marks, fit } = found.value
  const by = (across: number, along: number): PlaneCamera | null =>
    planeCamera(
      marks.map(({ located }) => located.at),
      marks.map(({ at }) => at),
      marks.map(({ located }) => sigmaOf(located)),
      [size.width / 2 + across, size.height / 2 + along],
      size.width,
    )
  const step = 2 * MIDDLE_SHARE * size.width
  const camera = by(0, 0)
  const beside = [by(step, 0), by(-step, 0), by(0, step), by(0, -step)].filter((each) => each !== null)
  if (!camera || beside.length < 4) return refused('floor-camera-unknown')
  const least = Math.min(camera.misfit, ...beside.map(({ misfit }) => misfit))
  const known = (PRIOR_FREEDOM + fit.misfit) / (PRIOR_FREEDOM + fit.freedom)
  if ((least - fit.misfit) / known > fDistribution(1 - CHANCE, 1, PRIOR_FREEDOM + fit.freedom)) return refused('picture-cropped')
  return ok({
    plane: found.value,
    size,
    camera,
    beside,
    spread: Math.sqrt((PRIOR_FREEDOM + camera.misfit) / (PRIOR_FREEDOM + camera.freedom)),
  })
}

/// A value that the camera tells: by the marks' errors to first order, and by where its axis may meet the picture.
function told(
  { camera, beside, spread }: Seen,
  value: (pose: PlanePose, middle: Point) => number,
  { width, height }: Seen['size'],
): { readonly value: number; readonly u: number } {
  const centre: Point = [width / 2, height / 2]
  const step = 2 * MIDDLE_SHARE * width
  const { value: at, sigma } = camera.tell((pose) => value(pose, centre))
  const [right, left, below, above] = beside.map(({ pose }, i) =>
    value(pose, [centre[0] + [step, -step, 0, 0][i]!, centre[1] + [0, 0, step, -step][i]!]),
  ) as [number, number, number, number]
  return { value: at, u: Math.hypot(spread * sigma, (right - left) / 4, (below - above) / 4) }
}

/// The camera's elevation above a person's horizon on a frame: the angle between the floor and the sight line to their hips.
/// Source: the camera of a plane (Zhang 2000; Hartley and Zisserman 2003 §8.8), u to first order (§5.2) ⊕ the axis 2 % of the
/// picture's width from its middle [J]. Refused where nothing of the person is placed on the frame, or the marks do not tell.
export function elevationFromFloor(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  frame: number,
): Result<ElevationToPerson, ReasonCode> {
  const seen = cameraOf(context, clip, frame)
  if (!seen.ok) return seen
  const {
    camera: { pose },
    size,
  } = seen.value
  const looking: Looking = {
    sight: { ...pose, middle: [size.width / 2, size.height / 2] },
    tell: (value) => told(seen.value, (other, centre) => value({ ...other, middle: centre }), size),
  }
  return elevationTo(context, clip, subject, frame, looking, 'floor-camera-unknown')
}

/// A person's yaw on a frame, from a line on the floor along which they face: the subject's landmarks `facing.1`, behind, and
/// `facing.2`, ahead. 0: to the picture's right, square to the camera; 90: towards it; 180: to its left; −90: away. u: both ends,
/// the marks, the camera's place ⊕ 5° for how well a line says how a person faces [J]. Refused where the ends are not placed there,
/// lie too near each other, or the camera stands overhead.
export function yawFromFloor(context: MeasureContext, clip: Clip, subject: string, frame: number): Result<AngleWithU, ReasonCode> {
  const seen = cameraOf(context, clip, frame)
  if (!seen.ok) return seen
  const { plane, size } = seen.value
  const ends = hallLines.facing.map((name) => locate(context, clip, subject, name, frame))
  const missing = ends.find((end) => !end.ok)
  if (missing && !missing.ok) return missing
  const places = ends.map((end) =>
    end.ok ? plane.place({ ...end.value, errors: end.value.errors.filter(({ part }) => part !== 'anatomical') }) : null,
  )
  const [from, to] = places
  if (!from || !to) return refused('floor-too-flat')
  const way = minus(to.at, from.at)
  const L = length(way)
  if (!(L > 0)) return refused('points-coincide')
  const stands = middle(from.at, to.at)
  const direction = ({ beneath, ...axes }: PlanePose): number => facingOf(way, minus(beneath, stands), axes)
  const { pose } = seen.value.camera
  const away = length(minus(pose.beneath, stands))
  if (toDegrees(Math.atan2(pose.height, away)) > OVERHEAD_DEG) return refused('floor-camera-unknown')
  const deg = direction(pose)
  const byCamera = told(seen.value, (other) => wrapped(direction(other) - deg), size).u
  const normal = scaled([-way[1], way[0]], 1 / (L * L))
  const byEnds = toDegrees(uncertaintyOf(floorEffects([from, to], [scaled(normal, -1), normal])))
  const u = Math.hypot(byCamera, byEnds, FACING_U_DEG)
  return u <= LARGEST_YAW_U_DEG ? ok({ deg, u }) : refused('too-uncertain')
}
