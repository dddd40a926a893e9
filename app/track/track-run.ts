import { length, minus } from '../geometry/vector'
import type { Point } from '../project/fields'
import { beginFollowing, followOn, type Followed, type Stop } from './follow-point'
import type { GreyPicture } from './grey-picture'
import { bridgedSigma, CIRCLE_95, MOST_RADIUS, oneWaySigma, UNSURE_BRIDGED, UNSURE_ONE_WAY, type Trackable } from './tracked-error'

/// Points followed over many frames: from where a hand placed them, to where it placed them next, or as far as it is sure.

/// What is to be followed. Backward where `last` lies before `from`.
export interface TrackPlan {
  readonly from: number
  /// The last frame that is looked at.
  readonly last: number
  readonly points: readonly PlannedPoint[]
  /// Height of the figure on the picture, px; null where it is not known.
  readonly figureHeight: number | null
  /// Real frames a second: of the file, where the capture factor is not known.
  readonly rate: number
}

export interface PlannedPoint {
  readonly point: string
  /// A joint lies beneath what is followed; a mark is what is followed.
  readonly kind: Trackable['kind']
  readonly at: Point
  /// The next frame on the way on which a hand placed it: it is then reached from both sides.
  readonly to: { readonly frame: number; readonly at: Point } | null
}

/// One place that was found. `sigma`: 1 σ per axis of the following alone, px.
export interface TrackedPlace {
  readonly frame: number
  readonly at: Point
  readonly sigma: number
  /// To be looked at by a person.
  readonly unsure: boolean
}

export interface TrackedPoint {
  readonly point: string
  /// In the order of their frames; without the placed ones at either end.
  readonly places: readonly TrackedPlace[]
  /// Where it was let go, and why; null where it reached its end.
  readonly stopped: { readonly frame: number; readonly why: Stop } | null
  /// The frame on which placing it would help most; null where it is sure throughout.
  readonly ask: number | null
}

/// The picture of a frame; null ends the run there.
export type GreyFrames = (frame: number) => Promise<GreyPicture | null>

interface Step {
  readonly frame: number
  readonly followed: Followed
  readonly sigma: number
}
interface Start {
  readonly point: string
  readonly kind: Trackable['kind']
  readonly at: Point
  readonly frame: number
  readonly end: number
  readonly velocity: Point
}
interface Leg {
  readonly steps: ReadonlyMap<number, Step>
  readonly stopped: { readonly frame: number; readonly why: Stop } | null
}

/// Both runs must come out within this of the other's placing, px, to be joined: beyond it at least one of them left the point.
const MOST_CLOSING = 8

/// Follows every point of a plan. Pictures are asked for one after another, first onward, then, for points that are
/// bridged, back. `onFrame` hears of each; where `goesOn` says no, null is answered and nothing is kept.
export async function trackPoints(
  plan: TrackPlan,
  pictures: GreyFrames,
  goesOn: () => boolean,
  onFrame: (done: number) => void,
): Promise<readonly TrackedPoint[] | null> {
  const way = plan.last >= plan.from ? 1 : -1
  let done = 0
  const leg = async (starts: readonly Start[], direction: number): Promise<Map<string, Leg> | null> => {
    const legs = new Map<string, Leg>()
    const active = new Map<string, { steps: Map<number, Step>; followed: Followed | null; end: number; kind: Trackable['kind'] }>()
    const first = starts.reduce((at, { frame }) => (direction * (frame - at) < 0 ? frame : at), starts[0]!.frame)
    for (let frame = first; ; frame += direction) {
      if (!goesOn()) return null
      const picture = await pictures(frame)
      if (!picture) break
      for (const [point, run] of active) {
        const next: Followed | Stop = run.followed ? followOn(run.followed, picture) : 'no-structure'
        const stop = (why: Stop): void => {
          legs.set(point, { steps: run.steps, stopped: { frame, why } })
          active.delete(point)
        }
        if (typeof next === 'string') {
          stop(next)
          continue
        }
        const sigma = oneWaySigma(
          { frames: next.frames, speed: length(next.velocity), checks: next.checks },
          { kind: run.kind, figureHeight: plan.figureHeight, rate: plan.rate },
        )
        if (sigma * CIRCLE_95 > MOST_RADIUS) {
          stop('too-uncertain')
          continue
        }
        run.followed = next
        run.steps.set(frame, { frame, followed: next, sigma })
        if (frame === run.end) {
          legs.set(point, { steps: run.steps, stopped: null })
          active.delete(point)
        }
      }
      for (const start of starts)
        if (start.frame === frame)
          active.set(start.point, {
            steps: new Map(),
            followed: beginFollowing(picture, start.at, start.velocity),
            end: start.end,
            kind: start.kind,
          })
      onFrame(++done)
      if (active.size === 0 && !starts.some((start) => direction * (start.frame - frame) > 0)) break
    }
    for (const [point, run] of active) legs.set(point, { steps: run.steps, stopped: null })
    return legs
  }
  if (plan.points.length === 0) return []
  const between = ({ at, to }: PlannedPoint): Point =>
    to ? [(to.at[0] - at[0]) / Math.abs(to.frame - plan.from), (to.at[1] - at[1]) / Math.abs(to.frame - plan.from)] : [0, 0]
  const onward = await leg(
    plan.points.map((p) => ({
      point: p.point,
      kind: p.kind,
      at: p.at,
      frame: plan.from,
      end: p.to?.frame ?? plan.last,
      velocity: between(p),
    })),
    way,
  )
  if (!onward) return null
  const bridged = plan.points.flatMap((p) =>
    p.to
      ? [
          {
            point: p.point,
            kind: p.kind,
            at: p.to.at,
            frame: p.to.frame,
            end: plan.from,
            velocity: [-between(p)[0], -between(p)[1]] as Point,
          },
        ]
      : [],
  )
  const back = bridged.length > 0 ? await leg(bridged, -way) : new Map<string, Leg>()
  if (!back) return null
  return plan.points.map((point) => joined(plan, point, onward.get(point.point), back.get(point.point)))
}

const NOTHING: Leg = { steps: new Map(), stopped: null }

function joined(plan: TrackPlan, planned: PlannedPoint, onward: Leg = NOTHING, back: Leg = NOTHING): TrackedPoint {
  const { point, at, to } = planned
  const end = to?.frame ?? null
  const closing = to && [apart(onward.steps.get(to.frame), to.at), apart(back.steps.get(plan.from), at)]
  const closes = closing !== null && closing.every((gap) => gap <= MOST_CLOSING)
  const frames = [...new Set([...onward.steps.keys(), ...back.steps.keys()])]
    .filter((frame) => frame !== plan.from && frame !== end)
    .sort((a, b) => a - b)
  const places = frames.flatMap((frame): TrackedPlace[] => {
    const [there, here] = [onward.steps.get(frame), back.steps.get(frame)]
    if (closes && there && here && to) return [bridge(plan, planned.kind, to.frame, Math.max(...closing), there, here)]
    const nearer = there && here ? (there.sigma <= here.sigma ? there : here) : ((there ?? here) as Step)
    const other = nearer === there ? here : there
    const disagrees =
      other !== undefined && length(minus(other.followed.at, nearer.followed.at)) > CIRCLE_95 * Math.hypot(other.sigma, nearer.sigma)
    const unsure = disagrees || nearer.sigma * CIRCLE_95 > UNSURE_ONE_WAY
    // Two placings that do not come together say that a run left the point somewhere: only what is sure by itself is kept.
    return to && unsure ? [] : [{ frame, at: nearer.followed.at, sigma: nearer.sigma, unsure }]
  })
  const stopped = onward.stopped && (!back.steps.has(onward.stopped.frame) || !closes) ? onward.stopped : null
  return { point, places, stopped, ask: askAt(plan.from, end, places, stopped?.frame ?? null) }
}

/// Either run weighs the more the nearer its own placing is.
function bridge(plan: TrackPlan, kind: Trackable['kind'], to: number, closing: number, there: Step, here: Step): TrackedPlace {
  const gone = Math.abs(there.frame - plan.from)
  const share = gone / Math.abs(to - plan.from)
  const [p, q] = [there.followed.at, here.followed.at]
  const sigma = bridgedSigma(
    {
      frames: Math.min(gone, Math.abs(to - there.frame)),
      stretch: Math.max(there.followed.checks.stretch, here.followed.checks.stretch),
      closing,
    },
    { kind, figureHeight: plan.figureHeight, rate: plan.rate },
  )
  return {
    frame: there.frame,
    at: [p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])],
    sigma,
    unsure: sigma * CIRCLE_95 > UNSURE_BRIDGED,
  }
}

const apart = (step: Step | undefined, at: Point): number => (step ? length(minus(step.followed.at, at)) : Infinity)

/// The middle of the longest stretch between two placings that is missing or unsure; from one placing alone, where it stopped.
function askAt(from: number, to: number | null, places: readonly TrackedPlace[], stopped: number | null): number | null {
  if (to === null) return stopped
  const sure = new Set(places.filter(({ unsure }) => !unsure).map(({ frame }) => frame))
  let best = { length: 0, middle: null as number | null }
  let begun: number | null = null
  const [low, high] = [Math.min(from, to), Math.max(from, to)]
  for (let frame = low + 1; frame <= high; frame++) {
    const open = frame < high && !sure.has(frame)
    if (open) begun ??= frame
    else if (begun !== null) {
      if (frame - begun > best.length) best = { length: frame - begun, middle: Math.floor((begun + frame - 1) / 2) }
      begun = null
    }
  }
  return best.middle
}
