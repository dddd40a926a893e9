import { hallLines, lineEnds } from '../body/landmark-name'
import { toDegrees, toRadians, wrapped } from '../geometry/angle'
import { lineCamera, LINE_WAYS, type LineCamera, type LinePose, type LineWay, type WayMisfit } from '../geometry/line-camera'
import { dot3, turned3, times3, type Vector3 } from '../geometry/vector3'
import { length, middle, minus, scaled } from '../geometry/vector'
import type { AngleWithU, Point } from '../project/fields'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { fDistribution } from './distribution'
import { sigmaOf } from './floor-plane'
import { locate, PRIOR_FREEDOM, type Located } from './located'
import type { ReasonCode } from './reason'
import {
  CHANCE,
  elevationTo,
  FACING_U_DEG,
  facingOf,
  LARGEST_YAW_U_DEG,
  MIDDLE_SHARE,
  OVERHEAD_DEG,
  rayOf,
  type ElevationToPerson,
  type Looking,
  type Sight,
} from './sight'

/// How the camera looks at a person, from lines of the hall at right angles: ropes of two sides, a mat's edges, wall panels, posts.

/// How true a rope or an edge is to the others of its direction, and a post to upright; how square two sides of a ring are; how level
/// they lie: 1 σ, degrees [J]. Half a degree off square makes the diagonals of a ring of six metres differ by seven centimetres.
const TRUE_U_DEG: Readonly<Record<LineWay, number>> = { along: 0.25, across: 0.25, upright: 0.5 }
const SQUARE_U_DEG = 0.5
const LEVEL_U_DEG = 0.3
/// Above these the lines do not tell the camera: the σ of the lens as a share of it, of a direction, degrees, and of roll [J].
const LARGEST_LENS_SHARE = 0.15
const LARGEST_TURN_DEG = 5
const LARGEST_ROLL_U_DEG = 5
/// A line shorter than so many σ of its ends tells no direction.
const LEAST_SIGMAS = 10
/// Lines of one kind on a frame.
export const MOST_LINES = 12

/// Who the lines are stored with: the person in hand, or, where they have none, whoever has in this clip.
export function linesOwner(context: MeasureContext, clip: Clip, subject: string): string {
  const has = (id: string): boolean => (['along', 'across'] as const).some((way) => placedLines(context, clip, id, way).length > 0)
  return has(subject) ? subject : ((context.breakdown.subjects ?? []).find(({ id }) => has(id))?.id ?? subject)
}

/// Whether any level line is drawn in the clip.
export const hasLines = (context: MeasureContext, clip: Clip, subject: string): boolean =>
  (['along', 'across'] as const).some((way) => placedLines(context, clip, linesOwner(context, clip, subject), way).length > 0)

/// Which lines of a kind have both ends placed somewhere in the clip, from 0.
export const placedLines = (context: MeasureContext, clip: Clip, owner: string, way: LineWay): number[] =>
  Array.from({ length: MOST_LINES }, (_, i) => i).filter((i) => lineEnds(way, i).every((point) => context.isPlaced(clip.id, owner, point)))

interface LineOnFrame {
  readonly way: LineWay
  /// Which of its kind, from 0.
  readonly index: number
  readonly ends: readonly [Located, Located]
}

/// The lines on one frame: those placed there, or, where the clip's camera stood still, on any frame.
function linesOn(context: MeasureContext, clip: Clip, owner: string, frame: number): LineOnFrame[] {
  const end = (point: string): Located | null => {
    let found = locate(context, clip, owner, point, frame)
    const elsewhere = found.ok || clip.hall?.camera !== 'still' ? undefined : context.track(clip.id, owner, point).keys().next().value
    if (elsewhere !== undefined) found = locate(context, clip, owner, point, elsewhere)
    // A rope has no kit over it: what was clicked is what is meant.
    return found.ok ? { ...found.value, errors: found.value.errors.filter(({ part }) => part !== 'anatomical') } : null
  }
  return LINE_WAYS.flatMap((way) =>
    placedLines(context, clip, owner, way).flatMap((index): LineOnFrame[] => {
      const [first, second] = lineEnds(way, index).map(end)
      return first && second ? [{ way, index, ends: [first, second] }] : []
    }),
  )
}

export interface SeenByLines extends Looking {
  /// How wide the camera sees, degrees across the picture; and how far the lines along are turned from square to where it looks,
  /// degrees, −90 to 90, + where their right end lies further away.
  readonly lens: AngleWithU
  readonly heading: AngleWithU
  readonly roll: Result<AngleWithU, ReasonCode>
}

/// The camera that fits the lines on a frame best, whether or not it fits them well.
function fittedTo(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  frame: number,
): Result<{ readonly camera: LineCamera; readonly lines: readonly LineOnFrame[]; readonly width: number }, ReasonCode> {
  const lines = linesOn(context, clip, linesOwner(context, clip, subject), frame)
  if ((['along', 'across'] as const).some((way) => lines.filter((line) => line.way === way).length < 2)) return refused('lines-missing')
  const size = context.table(clip)?.picture
  if (!size) return refused('film-not-read')
  const seen = lines.map(({ way, ends: [a, b] }) => ({ way, ends: [a.at, b.at] as const, sigmas: [sigmaOf(a), sigmaOf(b)] as const }))
  if (seen.some(({ ends: [a, b], sigmas }) => length(minus(b, a)) <= LEAST_SIGMAS * Math.max(...sigmas))) return refused('points-coincide')
  const radians = { along: toRadians(TRUE_U_DEG.along), across: toRadians(TRUE_U_DEG.across), upright: toRadians(TRUE_U_DEG.upright) }
  const camera = lineCamera(seen, size, { middleShare: MIDDLE_SHARE, trueness: radians, squareness: toRadians(SQUARE_U_DEG) })
  return camera ? ok({ camera, lines, width: size.width }) : refused('lines-camera-unknown')
}

/// The camera by the lines on a frame. One least-squares fit of turn, focal length and where the axis meets the picture (2 % of its
/// width from the middle, 1 σ [J]) to all lines, their σ pooled with their misfit. Source: vanishing points of directions at right
/// angles (Caprile and Torre 1990; Hartley and Zisserman 2003 §8.6, §8.8). Refused: `lines-missing` with fewer than two each way,
/// `points-coincide` where one is too short, `lines-apart` where three or more of a kind do not run together, `lines-not-square`
/// where no camera with square pixels and its axis near the middle shows them so, `lines-camera-unknown` where they run side by side.
export function seenByLines(context: MeasureContext, clip: Clip, subject: string, frame: number): Result<SeenByLines, ReasonCode> {
  const fitted = fittedTo(context, clip, subject, frame)
  if (!fitted.ok) return fitted
  const { camera, width } = fitted.value
  const amiss = amissWith(camera)
  if (amiss) return refused(amiss)
  if (!(camera.focalShare <= LARGEST_LENS_SHARE && toDegrees(camera.turnSigma) <= LARGEST_TURN_DEG)) return refused('lines-camera-unknown')

  const spread = Math.sqrt((PRIOR_FREEDOM + camera.misfit) / (PRIOR_FREEDOM + camera.freedom))
  const tell: Looking['tell'] = (value) => {
    const { value: at, sigma } = camera.tell(value)
    const tilts = (['along', 'across'] as const).map(
      (axis) => (value(tilted(camera.pose, axis, 1)) - value(tilted(camera.pose, axis, -1))) / 2,
    )
    return { value: at, u: Math.hypot(spread * sigma, ...tilts) }
  }
  const angle = (value: (sight: Sight) => number): AngleWithU => {
    const at = value(camera.pose)
    return { deg: at, u: tell((sight) => wrapped(value(sight) - at)).u }
  }
  const roll = angle(({ up }) => toDegrees(Math.atan2(-up[0], -up[1])))
  return ok({
    sight: camera.pose,
    tell,
    lens: angle(({ focal }) => 2 * toDegrees(Math.atan(width / 2 / focal))),
    heading: angle(headingOf),
    roll: roll.u <= LARGEST_ROLL_U_DEG ? ok(roll) : refused('lines-camera-unknown'),
  })
}

/// What is wrong with lines that no camera shows so, by more than chance: of a kind by themselves, or of the kinds together.
function amissWith({ ways, misfit, freedom }: LineCamera): ReasonCode | null {
  if (ways.some(isApart)) return 'lines-apart'
  const own = ways.reduce((sum, way) => ({ misfit: sum.misfit + way.misfit, freedom: sum.freedom + way.freedom }), {
    misfit: 0,
    freedom: 0,
  })
  // With two kinds alone nothing is left over: then a focal length whose square would be negative is what shows.
  const left = Math.max(1, freedom - own.freedom)
  const known = (PRIOR_FREEDOM + own.misfit) / (PRIOR_FREEDOM + own.freedom)
  return (misfit - own.misfit) / left / known > fDistribution(1 - CHANCE, left, PRIOR_FREEDOM + own.freedom) ? 'lines-not-square' : null
}

/// Whether lines of one kind run together worse than chance would have it.
const isApart = ({ misfit, freedom }: Pick<WayMisfit, 'misfit' | 'freedom'>): boolean =>
  freedom > 0 && misfit / freedom > fDistribution(1 - CHANCE, freedom, PRIOR_FREEDOM)

export interface LinesApart {
  readonly way: LineWay
  /// Which one it is, from 0; null where no single one is, or they are too few to tell: of three lines any two run together.
  readonly index: number | null
}

/// The lines of which `lines-apart` speaks: the first kind that does not run together, and in it the line without which the misfit
/// falls by more than chance in any of them, where no other can be left out in its stead.
export function linesApart(context: MeasureContext, clip: Clip, subject: string, frame: number): LinesApart | null {
  const fitted = fittedTo(context, clip, subject, frame)
  const apart = fitted.ok ? fitted.value.camera.ways.find(isApart) : undefined
  if (!fitted.ok || !apart) return null
  const { way, misfit, freedom } = apart
  const without = apart.without()
  const [worst, second] = [...without.keys()].sort((a, b) => without[a]! - without[b]!) as [number, number]
  const left = PRIOR_FREEDOM + freedom - 1
  const ratio = (misfit - without[worst]!) / ((PRIOR_FREEDOM + without[worst]!) / left)
  const isOne =
    freedom > 1 &&
    ratio > fDistribution(1 - CHANCE / without.length, 1, left) &&
    isApart({ misfit: without[second]!, freedom: freedom - 1 })
  return { way, index: isOne ? fitted.value.lines.filter((line) => line.way === way)[worst]!.index : null }
}

/// The same camera where the hall is not quite level.
function tilted(pose: LinePose, axis: 'along' | 'across', sign: number): LinePose {
  const by = (v: Vector3): Vector3 => turned3(v, times3(pose[axis], sign * toRadians(LEVEL_U_DEG)))
  return { ...pose, along: by(pose.along), across: by(pose.across), up: by(pose.up) }
}

/// Where lines along run, seen from above, against square to where the camera looks.
function headingOf({ along, up }: Sight): number {
  // Ahead on level ground, and to its right, of one length.
  const ahead: Vector3 = [-up[2] * up[0], -up[2] * up[1], 1 - up[2] * up[2]]
  const right: Vector3 = [ahead[1] * up[2] - ahead[2] * up[1], ahead[2] * up[0] - ahead[0] * up[2], ahead[0] * up[1] - ahead[1] * up[0]]
  const deg = toDegrees(Math.atan2(dot3(along, ahead), dot3(along, right)))
  return deg > 90 ? deg - 180 : deg <= -90 ? deg + 180 : deg
}

/// The camera's elevation above a person's horizon on a frame: the angle between level ground and the sight line to their hips.
export function elevationFromLines(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  frame: number,
  seen = seenByLines(context, clip, subject, frame),
): Result<ElevationToPerson, ReasonCode> {
  return seen.ok ? elevationTo(context, clip, subject, frame, seen.value, 'lines-camera-unknown') : seen
}

/// A person's yaw on a frame, from a line on the floor along which they face (`facing.1`, behind, and `facing.2`, ahead), told as
/// `yawFromFloor` tells it: both ends lie on level ground, at whatever height below the camera. Refused where the ends are not placed
/// there or lie above the camera's horizon, or the camera stands overhead.
export function yawFromLines(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  frame: number,
  seen = seenByLines(context, clip, subject, frame),
): Result<AngleWithU, ReasonCode> {
  if (!seen.ok) return seen
  const { sight, tell } = seen.value
  const [from, to] = hallLines.facing.map((name) => locate(context, clip, subject, name, frame)) as [
    ReturnType<typeof locate>,
    ReturnType<typeof locate>,
  ]
  if (!from.ok) return from
  if (!to.ok) return to
  const ends: readonly [Point, Point] = [from.value.at, to.value.at]
  const straight = onGround(ends, sight)
  if (!straight) return refused('lines-camera-unknown')
  if (!(length(straight.way) > 0)) return refused('points-coincide')
  if (toDegrees(Math.atan2(1, length(straight.towards))) > OVERHEAD_DEG) return refused('lines-camera-unknown')
  const deg = facingOf(straight.way, straight.towards, sight)
  // What moves an end above the horizon would be no line on the ground: it is left as it is.
  const off = (places: readonly [Point, Point], other: Sight): number => {
    const ground = onGround(places, other) ?? straight
    return wrapped(facingOf(ground.way, ground.towards, other) - deg)
  }
  const byCamera = tell((other) => off(ends, other)).u
  const STEP = 0.01
  const byEnds = [from.value, to.value].flatMap(({ errors }, i) =>
    (
      [
        [STEP, 0],
        [0, STEP],
      ] as const
    ).map((by) => {
      const moved = (sign: number): readonly [Point, Point] =>
        ends.map((end, k): Point => (k === i ? [end[0] + sign * by[0], end[1] + sign * by[1]] : end)) as unknown as readonly [Point, Point]
      return (
        (Math.hypot(...errors.filter(({ part }) => part !== 'anatomical').map(({ sigma }) => sigma)) *
          (off(moved(1), sight) - off(moved(-1), sight))) /
        (2 * STEP)
      )
    }),
  )
  const u = Math.hypot(byCamera, ...byEnds, FACING_U_DEG)
  return u <= LARGEST_YAW_U_DEG ? ok({ deg, u }) : refused('too-uncertain')
}

/// Both ends on level ground one unit beneath the camera, by the ground's axes: the way from one to the other, and the way from their
/// middle to beneath the camera. Null where one lies above the horizon.
function onGround(ends: readonly [Point, Point], sight: Sight): { readonly way: Point; readonly towards: Point } | null {
  const [a, b] = ends.map((end): Point | null => {
    const ray = rayOf(end, sight)
    const down = -dot3(ray, sight.up)
    return down > 1e-6 ? [dot3(ray, sight.across) / down, dot3(ray, sight.along) / down] : null
  })
  return a && b ? { way: minus(b, a), towards: scaled(middle(a, b), -1) } : null
}
