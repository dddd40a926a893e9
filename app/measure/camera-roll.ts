import { hallLines } from '../body/landmark-name'
import { wrapped } from '../geometry/angle'
import type { AngleWithU } from '../project/fields'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { uncertaintyOf, effectsOf, type PointError } from './effect'
import { locate } from './located'
import type { ReasonCode } from './reason'

/// How far the camera is turned about its axis, from a line of the hall.

export type LineKind = 'upright' | 'level'

/// How true a ring post, a door frame or the far rope is, 1 σ, degrees [J]. A level line lies seldom quite across the picture
/// besides: turned 5° away from it and seen from 10° above, it slopes by 0.9°.
const LINE_U_DEG: Readonly<Record<LineKind, number>> = { upright: 0.5, level: 1 }
/// A camera's focal length in widths of its picture, 1 σ as a share of it: 40° across, a long lens half of that [J].
const FOCAL_WIDTHS = 1.3
const FOCAL_U_SHARE = 0.4
/// How far a camera whose elevation is not stated looks up or down, 1 σ, degrees [J].
const UNSTATED_PITCH_DEG = 10
/// A line shorter than so many σ of its ends tells no direction.
const LEAST_SIGMAS = 10

const degrees = (radians: number): number => (radians * 180) / Math.PI

/// The roll that makes a line on the picture upright or level: + clockwise, with its u from the ends' own errors, how true such a
/// line is, and, for an upright one, how much a camera that looks down makes it converge with others away from the picture's
/// middle: tan = x·tan(elevation)/f, taken out where the elevation of the subject's view is stated, else an error. The two ends are
/// the subject's landmarks `upright.1`, `upright.2` (or `level.…`) on `frame`, in any order.
/// Source: geometry of a central projection (Hartley and Zisserman 2003 §8.6, vanishing point of the verticals).
/// Refused where an end is not placed there, or the line is too short.
export function cameraRoll(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  kind: LineKind,
  frame: number,
): Result<AngleWithU, ReasonCode> {
  const [first, second] = hallLines[kind].map((name) => locate(context, clip, subject, name, frame)) as [
    ReturnType<typeof locate>,
    ReturnType<typeof locate>,
  ]
  if (!first.ok) return first
  if (!second.ok) return second
  const [[ax, ay], [bx, by]] = [first.value.at, second.value.at]
  const [dx, dy] = [bx - ax, by - ay]
  const L = Math.hypot(dx, dy)
  // A post has no kit over it: what was clicked is what is meant.
  const clicks = [first, second].map((end) => end.value.errors.filter(({ part }) => part !== 'anatomical'))
  const sigma = Math.hypot(...clicks.map((errors) => uncertaintyOf(errors.flatMap((error: PointError) => effectsOf([error], [1, 0])))))
  if (L === 0) return refused('points-coincide')
  if (L < LEAST_SIGMAS * sigma) return refused('unit-too-short')
  const clicked = degrees(sigma / L)
  if (kind === 'level') return ok({ deg: -degrees(Math.atan2(dx < 0 ? -dy : dy, Math.abs(dx))), u: Math.hypot(clicked, LINE_U_DEG.level) })

  const lean = degrees(Math.atan2(dy > 0 ? -dx : dx, Math.abs(dy)))
  const width = context.table(clip)?.picture?.width
  const off = width === undefined ? 0 : ((ax + bx) / 2 - width / 2) / (FOCAL_WIDTHS * width)
  const elevation = context.view(clip.id, subject, frame)?.elevation
  const converging = (deg: number): number => degrees(Math.atan(off * Math.tan((deg * Math.PI) / 180)))
  const bias = elevation ? converging(elevation.deg) : 0
  const unsure = elevation ? Math.hypot(FOCAL_U_SHARE * bias, converging(elevation.u)) : converging(UNSTATED_PITCH_DEG)
  return ok({ deg: wrapped(-(lean - bias)), u: Math.hypot(clicked, LINE_U_DEG.upright, unsure) })
}
