import { isOfHall } from '../body/landmark-name'
import { toDegrees } from '../geometry/angle'
import { dot3, type Vector3 } from '../geometry/vector3'
import { dot, scaled } from '../geometry/vector'
import type { AngleWithU, Point } from '../project/fields'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { sigmaOf } from './floor-plane'
import { locate } from './located'
import type { ReasonCode } from './reason'

/// How a camera looks at level ground and at who stands on it, whatever tells it: a floor's marks, or lines at right angles.

/// How far a camera's axis meets the picture from its middle, 1 σ per axis, as a share of the picture's width [J].
export const MIDDLE_SHARE = 0.02
/// How well a line on the floor tells which way a person faces, 1 σ, degrees [J].
export const FACING_U_DEG = 5
/// Above these an angle is not told, degrees, 1 σ [J].
const LARGEST_ELEVATION_U_DEG = 8
export const LARGEST_YAW_U_DEG = 20
/// From this elevation on the camera stands over the person, and yaw means nothing [J].
export const OVERHEAD_DEG = 75
/// How seldom a camera that is right is called wrong [J].
export const CHANCE = 0.01

export interface Sight {
  /// px.
  readonly focal: number
  /// Where its axis meets the picture, px.
  readonly middle: Point
  /// Two level directions at right angles, and straight up, by the camera's own axes: right, down, forward.
  readonly along: Vector3
  readonly across: Vector3
  readonly up: Vector3
}

export interface Looking {
  readonly sight: Sight
  /// A value that it tells, with its u, 1 σ.
  readonly tell: (value: (sight: Sight) => number) => { readonly value: number; readonly u: number }
}

/// The sight line through a point of the picture, by the camera's axes, of length 1.
export function rayOf([x, y]: Point, { focal, middle: [cx, cy] }: Pick<Sight, 'focal' | 'middle'>): Vector3 {
  const L = Math.hypot(x - cx, y - cy, focal)
  return [(x - cx) / L, (y - cy) / L, focal / L]
}

export interface ElevationToPerson {
  readonly angle: AngleWithU
  /// What of the person the camera is looked up from: the middle of the hips, or, where they are not placed, of all that is.
  readonly to: 'hips' | 'body'
}

/// The camera's elevation above a person's horizon on a frame: the angle between level ground and the sight line to their hips.
/// Refused where nothing of the person is placed on the frame; with `unknown` where it is told too badly.
export function elevationTo(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  frame: number,
  { sight, tell }: Looking,
  unknown: ReasonCode,
): Result<ElevationToPerson, ReasonCode> {
  const place = bodyPlace(context, clip, subject, frame)
  if (!place) return refused('landmark-missing')
  const { value, u } = tell((other) => -toDegrees(Math.asin(dot3(rayOf(place.at, other), other.up))))
  // Straight above, where the angle itself turns back, its σ is that of the sight line's lean to either side.
  const leans = (['across', 'along'] as const).map((axis) => toDegrees(tell((other) => dot3(rayOf(place.at, other), other[axis])).u))
  const whole = value > OVERHEAD_DEG ? Math.max(u, Math.hypot(...leans)) : u
  // The person's own point lies its σ beside its place, across the sight line.
  const all = Math.hypot(whole, toDegrees(place.sigma / sight.focal))
  return all <= LARGEST_ELEVATION_U_DEG ? ok({ angle: { deg: value, u: all }, to: place.to }) : refused(unknown)
}

function bodyPlace(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  frame: number,
): { readonly at: Point; readonly sigma: number; readonly to: 'hips' | 'body' } | null {
  const hips = locate(context, clip, subject, 'hip.mid', frame)
  if (hips.ok) return { at: hips.value.at, sigma: sigmaOf(hips.value), to: 'hips' }
  const places = (context.breakdown.landmarks ?? [])
    .filter((l) => l.clip === clip.id && l.subject === subject && !isOfHall(l.point))
    .flatMap(({ point }) => {
      const found = locate(context, clip, subject, point, frame)
      return found.ok ? [found.value] : []
    })
  const mean = (axis: 0 | 1): number => places.reduce((s, p) => s + p.at[axis], 0) / places.length
  return places.length === 0 ? null : { at: [mean(0), mean(1)], sigma: Math.hypot(...places.map(sigmaOf)) / places.length, to: 'body' }
}

/// Which way a line on the ground goes, seen from the camera, degrees: 0 to the picture's right, square to the way to the camera; 90
/// towards it; 180 to the left. `way` and `towards` (to the camera) are by the ground's own axes, in which `across` and `along` are
/// the camera's.
export function facingOf(way: Point, towards: Point, { across, along }: Pick<Sight, 'across' | 'along'>): number {
  const square: Point = [-towards[1], towards[0]]
  const right = scaled(square, square[0] * across[0] + square[1] * along[0] < 0 ? -1 : 1)
  return toDegrees(Math.atan2(dot(way, towards), dot(way, right)))
}
