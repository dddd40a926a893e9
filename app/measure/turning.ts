import { jointAngle, toDegrees, toRadians, wrapped } from '../geometry/angle'
import { dot, minus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import type { Effect } from './effect'
import { locate, type Located } from './located'
import { endVariance, pointEffects, shorteningOf } from './on-frame'
import type { ReasonCode } from './reason'

/// The angle of a line or a joint on one frame, as a number that may be followed over frames.

export interface Turning {
  readonly clip: string
  readonly subject: string
  readonly points: readonly string[]
  readonly above?: true | undefined
}

export interface TurnedAngle {
  /// Degrees; a line's heading within (−180, 180], a joint's interior angle 0–180.
  readonly deg: number
  readonly effects: readonly Effect[]
}

/// From this elevation on headings can be seen from above [J].
export const LEAST_ELEVATION_DEG = 45

/// A line's direction on the picture, clockwise from image right; or, from above, its heading
/// on the floor: counter-clockwise as from above, the picture's depth rescaled by 1/sin ε.
export function turnedAngle(context: MeasureContext, clip: Clip, turning: Turning, frame: number): Result<TurnedAngle, ReasonCode> {
  const points: Located[] = []
  for (const name of turning.points) {
    const point = locate(context, clip, turning.subject, name, frame)
    if (!point.ok) return point
    points.push(point.value)
  }
  const at = points.map((p) => p.at)
  if (points.length === 3) {
    const angle = jointAngle(...(at as [Point, Point, Point]))
    if (!angle) return refused('points-coincide')
    const [first, , last] = angle.slopes as readonly [Point, Point, Point]
    const a = scaled(first, shorteningOf(minus(at[0]!, at[1]!), endVariance(points[0]!, points[1]!)))
    const b = scaled(last, shorteningOf(minus(at[2]!, at[1]!), endVariance(points[2]!, points[1]!)))
    return ok({ deg: angle.deg, effects: pointEffects(points, [a, [-a[0] - b[0], -a[1] - b[1]], b]) })
  }
  const heading = lineHeading(points[0]!, points[1]!, turning.above ? elevationOn(context, turning, frame) : null)
  if (turning.above && elevationOn(context, turning, frame) === null) return refused('elevation-missing')
  return heading ? ok(heading) : refused('points-coincide')
}

function elevationOn(context: MeasureContext, { clip, subject }: Turning, frame: number): number | null {
  return context.view(clip, subject, frame)?.elevation?.deg ?? null
}

/// Direction of a line; with an elevation, its heading on the floor.
export function lineHeading(from: Located, to: Located, elevation_deg: number | null): TurnedAngle | null {
  const drawn = minus(to.at, from.at)
  const depth = elevation_deg === null ? 1 : -1 / Math.sin(toRadians(elevation_deg))
  const v: Point = [drawn[0], drawn[1] * depth]
  if (!(dot(v, v) > 0)) return null
  const by = shorteningOf(drawn, endVariance(from, to))
  const slope = scaled([-v[1], v[0]], toDegrees(by / dot(v, v)))
  const byTo: Point = [slope[0], slope[1] * depth]
  return { deg: toDegrees(Math.atan2(v[1], v[0])), effects: pointEffects([from, to], [scaled(byTo, -1), byTo]) }
}

/// Angles that follow each other without a jump of 360.
export function unwrapped(degrees: readonly number[]): number[] {
  const out: number[] = []
  degrees.forEach((deg, i) => out.push(i === 0 ? deg : out[i - 1]! + wrapped(deg - out[i - 1]!)))
  return out
}
