import { agreementOf } from '../geometry/agreement'
import { applySimilarity, type Similarity } from '../geometry/similarity'
import type { Point } from '../project/fields'
import { atEdge, cornersOf, type Area } from './corners'
import { beginFollowing, followOn, type Followed } from './follow-point'
import type { GreyPicture } from './grey-picture'
import type { GreyFrames } from './track-run'
import { oneWaySigma, type Trackable } from './tracked-error'

/// The hall behind the people, followed by itself: places of the background that all move as one, from which the camera's own
/// motion is then taken as from places that a person placed.

export interface BackgroundPlan {
  readonly from: number
  /// The last frame that is looked at; before `from`, going back.
  readonly last: number
  /// Where people are, as far as anything is placed on them: no place is chosen there. The nearest frame's hold.
  readonly people: readonly { readonly frame: number; readonly area: Area }[]
}

/// One place of the background, in the order of frames.
export interface BackgroundPoint {
  readonly places: readonly BackgroundPlace[]
}
export interface BackgroundPlace {
  readonly frame: number
  readonly at: Point
  /// 1 σ per axis, px.
  readonly sigma: number
}

export interface Background {
  readonly points: readonly BackgroundPoint[]
  /// Frames on which enough places agree, `from` among them.
  readonly frames: number
  /// Median over those frames of a place's σ about the common motion, px; null where there is one frame only.
  readonly residual: number | null
  /// The frame on which too few agreed, and of how many; null where the run came to its end.
  readonly stopped: { readonly frame: number; readonly agreed: number; readonly followed: number } | null
}

/// With fewer agreeing places a camera's motion is not told: four make a homography, and two more must bear it out.
export const LEAST_AGREEING = 6
/// Below so many, new places are looked for in empty cells of the picture.
const REFILL = 24
/// What drifts slowly with a person passes every step; held against where it was so many frames before it does not.
const LONG = 8
/// Places about a common motion wider than this, px, are no rigid background.
const MOST_SIGMA = 1
/// Error of a place on the frame on which it was chosen, px: nothing but the grid of the picture (the mark law's first term).
const LEAST_SIGMA = 0.12
const MARK: Trackable = { kind: 'mark', figureHeight: null, rate: 1 }
/// A place of a wall that looks less like itself than this is covered, or slides along an edge.
const LEAST_LIKENESS = 0.85
/// So many places at least are kept for every frame.
const KEPT = 10

interface Track {
  followed: Followed
  readonly places: Map<number, BackgroundPlace>
}

/// Follows the background. Where `goesOn` says no, null is answered; `onFrame` hears of each frame.
export async function followBackground(
  plan: BackgroundPlan,
  pictures: GreyFrames,
  goesOn: () => boolean,
  onFrame: (done: number) => void,
): Promise<Background | null> {
  const way = plan.last >= plan.from ? 1 : -1
  const all: Track[] = []
  let alive: Track[] = []
  const residuals: number[] = []
  const begin = (picture: GreyPicture, frame: number, motion: Similarity | null): void => {
    for (const at of cornersOf(
      picture,
      areasAt(plan, frame),
      alive.map(({ followed }) => followed.at),
    )) {
      const gone = motion ? applySimilarity(motion, at) : at
      const followed = beginFollowing(picture, at, [gone[0] - at[0], gone[1] - at[1]])
      if (!followed) continue
      const track: Track = { followed, places: new Map([[frame, { frame, at, sigma: LEAST_SIGMA }]]) }
      all.push(track)
      alive.push(track)
    }
  }
  const result = (frames: number, stopped: Background['stopped']): Background => ({
    points: chosen(all, Math.min(LONG, frames - 1)),
    frames,
    residual: residuals.length > 0 ? residuals.sort((a, b) => a - b)[residuals.length >> 1]! : null,
    stopped,
  })
  let frames = 0
  for (let frame = plan.from; way * (plan.last - frame) >= 0; frame += way) {
    if (!goesOn()) return null
    const picture = await pictures(frame)
    if (!picture) return result(frames, null)
    if (frame === plan.from) begin(picture, frame, null)
    else {
      const stepped = alive.flatMap((track) => {
        const next = followOn(track.followed, picture)
        return typeof next === 'string' ||
          next.checks.likeness < LEAST_LIKENESS ||
          atEdge(next.at, picture) ||
          covered(next.at, areasAt(plan, frame))
          ? []
          : [{ track, was: track.followed.at, next }]
      })
      const step = agreementOf(
        stepped.map(({ was }) => was),
        stepped.map(({ next }) => next.at),
        LEAST_AGREEING,
      )
      const agreed = step ? step.agreeing.map((k) => stepped[k]!) : []
      const old = agreed.filter(({ track }) => track.places.has(frame - way * LONG))
      const long = agreementOf(
        old.map(({ track }) => track.places.get(frame - way * LONG)!.at),
        old.map(({ next }) => next.at),
        LEAST_AGREEING,
      )
      const drifted = new Set(long ? old.filter((_, k) => !long.agreeing.includes(k)) : [])
      const kept = agreed.filter((each) => !drifted.has(each))
      // It slid away somewhere on the way here.
      for (const { track } of drifted) for (let back = 1; back <= LONG; back++) track.places.delete(frame - way * back)
      const sigma = Math.max(step?.sigma ?? 0, long?.sigma ?? 0)
      if (!step || kept.length < LEAST_AGREEING || sigma > MOST_SIGMA || (old.length >= 2 * LEAST_AGREEING && !long))
        return result(frames, { frame, agreed: long || old.length < 2 * LEAST_AGREEING ? kept.length : 0, followed: stepped.length })
      residuals.push(sigma)
      for (const { track, next } of kept) {
        track.followed = next
        const alone = oneWaySigma({ frames: next.frames, speed: 0, checks: next.checks }, MARK)
        track.places.set(frame, { frame, at: next.at, sigma: Math.hypot(alone, sigma) })
      }
      alive = kept.map(({ track }) => track)
      if (alive.length < REFILL) begin(picture, frame, step.map)
    }
    frames++
    onFrame(frames)
    if (alive.length < LEAST_AGREEING) return result(frames, { frame, agreed: alive.length, followed: alive.length })
  }
  return result(frames, null)
}

/// Long-lived places first, each kept where some frame of its own has fewer than enough; `least`: so many frames it was followed.
function chosen(tracks: readonly Track[], least: number): BackgroundPoint[] {
  const held = new Map<number, number>()
  return [...tracks]
    .filter(({ places }) => places.size > least)
    .sort((a, b) => b.places.size - a.places.size)
    .flatMap(({ places }) => {
      if ([...places.keys()].every((frame) => (held.get(frame) ?? 0) >= KEPT)) return []
      for (const frame of places.keys()) held.set(frame, (held.get(frame) ?? 0) + 1)
      return [{ places: [...places.values()].sort((a, b) => a.frame - b.frame) }]
    })
}

/// Where people are on a frame: everything that is said of the nearest frame of which something is said.
function areasAt({ people }: BackgroundPlan, frame: number): Area[] {
  const nearest = people.reduce<number | null>(
    (best, each) => (best === null || Math.abs(each.frame - frame) < Math.abs(best - frame) ? each.frame : best),
    null,
  )
  return people.filter((each) => each.frame === nearest).map(({ area }) => area)
}

const covered = ([x, y]: Point, areas: readonly Area[]): boolean =>
  areas.some(([left, top, wide, high]) => x >= left && x <= left + wide && y >= top && y <= top + high)
