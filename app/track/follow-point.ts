import type { Point } from '../project/fields'
import { regionAround, type GreyPicture, type Region } from './grey-picture'
import { findLook, lookAt, stretchOf, UNTURNED, type Look, type Turned } from './look'
import { flowOf, LEVELS, REACH } from './lucas-kanade'

/// One point followed from frame to frame. Each step is found twice: from the frame before (which copes with any change
/// that comes slowly), and against the look that a hand placed (which gathers no error). Where both do not agree, or the
/// step does not lead back to where it began, the point is let go: a wrong place is worse than none.

/// Why a point is no longer followed.
export type Stop = 'no-structure' | 'not-back' | 'looks-different' | 'left-the-picture' | 'too-uncertain'

export interface Followed {
  readonly at: Point
  /// Pixels a frame.
  readonly velocity: Point
  readonly region: Region
  /// How it looked where a hand placed it, and how that look is turned now.
  readonly look: Look
  readonly turned: Turned
  /// Frames since the placing.
  readonly frames: number
  readonly checks: Checks
}

export interface Checks {
  /// Distance between where it was and where there and back again led, px.
  readonly back: number
  /// Correlation with the look that was placed, after its turn.
  readonly likeness: number
  /// How far held against that look it moved from where the frame before had led, px.
  readonly pull: number
  /// By what share that look is stretched or squeezed: a part of the body that turns out of the picture's plane.
  readonly stretch: number
}

/// A step that leads back further away than this, px, is a wrong one: Kalal, Mikolajczyk & Matas 2010 (ICPR 2756–2759);
/// the figure is our own, from the drawn films.
const MOST_BACK = 0.5
const LEAST_LIKENESS = 0.75
const MOST_PULL = 2

/// Begins to follow a point at `at`, where a hand placed it; null where nothing there can be followed. `velocity`: its
/// likely way to the next picture.
export function beginFollowing(picture: GreyPicture, at: Point, velocity: Point = [0, 0]): Followed | null {
  const region = regionAround(picture, at[0], at[1], REACH, LEVELS)
  const look = lookAt(region, at[0], at[1])
  return look && { at, velocity, region, look, turned: UNTURNED, frames: 0, checks: { back: 0, likeness: 1, pull: 0, stretch: 0 } }
}

/// Follows to the next picture (the one before, when going backward).
export function followOn(followed: Followed, picture: GreyPicture): Followed | Stop {
  const {
    at: [x, y],
    velocity: [vx, vy],
    region,
    look,
    turned,
  } = followed
  const next = regionAround(picture, x + vx, y + vy, REACH, LEVELS)
  const there = flowOf(region, x, y, next, x + vx, y + vy)
  if (!there) return 'no-structure'
  if (there.x < 0 || there.y < 0 || there.x > picture.width || there.y > picture.height) return 'left-the-picture'
  const home = flowOf(next, there.x, there.y, region, there.x - vx, there.y - vy)
  const back = home ? Math.hypot(home.x - x, home.y - y) : Infinity
  if (back > MOST_BACK) return 'not-back'
  const held = findLook(look, next, there.x, there.y, turned)
  const pull = held ? Math.hypot(held.x - there.x, held.y - there.y) : Infinity
  if (!held || held.likeness < LEAST_LIKENESS || pull > MOST_PULL) return 'looks-different'
  const at: Point = [held.x, held.y]
  return {
    at,
    velocity: [held.x - x, held.y - y],
    region: next,
    look,
    turned: held.turned,
    frames: followed.frames + 1,
    checks: { back, likeness: held.likeness, pull, stretch: stretchOf(held.turned) },
  }
}
