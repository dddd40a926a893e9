import { definitionOf } from '../../app/body/body-points'
import { placeOf, sayPoint, type Side } from '../../app/body/landmark-name'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import { ANATOMICAL_SHARE, ASSUMED_HEIGHT_PX, CLICK_PX } from '../../app/measure/located'
import type { Breakdown } from '../../app/project/breakdown'
import { exact, type Point } from '../../app/project/fields'
import type { Clip, Sample } from '../../app/project/film'
import type { TrackedPoint, TrackPlan } from '../../app/track/track-run'
import { changeSamples, isByHand, samplesOf } from './placing'

/// What is to be followed from a frame, and what was found as one change for the gate.

/// A run is at most so many frames long.
export const LONGEST_RUN = 300
const MIDDLE_PLACES = ['neck', 'chin']

export interface From {
  readonly clip: Clip
  readonly subject: string
  readonly frame: number
  readonly way: 1 | -1
}

/// Follows those of `points` that a hand placed on the frame, each to where a hand placed it next, or to the clip's end.
/// Null where no hand placed any of them. `fileRate`: the film's frames a second.
export function trackPlan(
  breakdown: Breakdown,
  { clip, subject, frame, way }: From,
  points: readonly string[],
  figureHeight: number | null,
  fileRate: number,
): TrackPlan | null {
  const end = way > 0 ? Math.min(clip.to - 1, frame + LONGEST_RUN) : Math.max(clip.from, frame - LONGEST_RUN)
  const planned = points.flatMap((point) => {
    const samples = samplesOf(breakdown, { clip: clip.id, subject, point }).filter(isByHand)
    const at = placeOn(samples, frame)
    if (!at) return []
    const ahead = samples.map((s) => s.frame).filter((other) => way * (other - frame) > 0 && way * (end - other) >= 0)
    const next = ahead.length === 0 ? null : way > 0 ? Math.min(...ahead) : Math.max(...ahead)
    const there = next === null ? null : placeOn(samples, next)
    return [
      {
        point,
        kind: isJoint(point) ? ('joint' as const) : ('mark' as const),
        at,
        to: next === null || !there ? null : { frame: next, at: there },
      },
    ]
  })
  if (planned.length === 0) return null
  const last = planned.every(({ to }) => to) ? planned.reduce((far, { to }) => (way * (to!.frame - far) > 0 ? to!.frame : far), frame) : end
  const rate = clip.capture === 'unknown' ? fileRate : fileRate * ratio(clip.capture.factor)
  return { from: frame, last, points: planned, figureHeight, rate }
}

const ratio = (fraction: string): number => {
  const { n, d } = exact(fraction)
  return n / d
}

const isJoint = (point: string): boolean => definitionOf(point) !== null || MIDDLE_PLACES.includes(placeOf(point))

function placeOn(samples: readonly Sample[], frame: number): Point | null {
  const here = samples.filter((s) => s.frame === frame)
  return here.length === 0
    ? null
    : [here.reduce((sum, s) => sum + s.at[0], 0) / here.length, here.reduce((sum, s) => sum + s.at[1], 0) / here.length]
}

/// What was found, as one change. What an earlier run left between the same placings goes; what a hand placed stays. A kept
/// sample's σ holds everything: the following, the placing that it began with, and what lies under kit and skin.
export function keepTracked(
  state: ProjectState,
  breakdown: Breakdown,
  { clip, subject, way }: From,
  plan: TrackPlan,
  found: readonly TrackedPoint[],
  lead: Side | null,
): Omit<Change, 'selection'> | null {
  const changes = plan.points.flatMap(({ point, kind, to }) => {
    const track = found.find((each) => each.point === point)
    const of = { clip: clip.id, subject, point }
    const before = samplesOf(breakdown, of)
    const end = to?.frame ?? plan.last
    const isBetween = (frame: number): boolean => way * (frame - plan.from) > 0 && way * (end - frame) >= 0
    const placings = Math.max(1, before.filter((s) => s.frame === plan.from && isByHand(s)).length)
    const own = Math.hypot(
      CLICK_PX / Math.sqrt(placings),
      kind === 'joint' ? ANATOMICAL_SHARE * (plan.figureHeight ?? ASSUMED_HEIGHT_PX) : 0,
    )
    const kept = before.filter((sample) => isByHand(sample) || !isBetween(sample.frame))
    const byHand = new Set(kept.map(({ frame }) => frame))
    const added = (track?.places ?? [])
      .filter(({ frame }) => !byHand.has(frame))
      .map((place): Sample => ({
        frame: place.frame,
        at: [rounded(place.at[0]), rounded(place.at[1])],
        sigma: rounded(Math.hypot(place.sigma, own)),
        origin: 'tracked',
        ...(place.unsure ? { seen: 'blurred' } : {}),
      }))
    return changeSamples(state, before, of, [...kept, ...added], '') ?? []
  })
  if (changes.length === 0) return null
  const [first] = plan.points
  const what = plan.points.length === 1 && first ? sayPoint(first.point, lead) : `${plan.points.length} points`
  return { label: `Follow ${what}`, steps: [], diffs: changes.flatMap(({ diffs }) => diffs) }
}

const rounded = (value: number): number => Math.round(value * 1000) / 1000

/// What a run says for itself: how far it came, and where it asks to be helped.
export function trackWords(
  plan: TrackPlan,
  found: readonly TrackedPoint[],
  lead: Side | null,
): { readonly words: string; readonly ask: { readonly frame: number; readonly point: string } | null } {
  const kept = found.reduce((sum, { places }) => sum + places.length, 0)
  const asking = found.flatMap(({ point, ask, stopped }) => (ask === null ? [] : [{ point, frame: ask, why: stopped?.why ?? null }]))
  const nearest = asking.sort((a, b) => Math.abs(a.frame - plan.from) - Math.abs(b.frame - plan.from))[0] ?? null
  const came = `Followed to ${kept === 1 ? 'one place' : `${kept} places`}.`
  if (!nearest) return { words: came, ask: null }
  return {
    words: `${came} Please place the ${sayPoint(nearest.point, lead)} on frame ${nearest.frame}${nearest.why ? `: ${stops[nearest.why]}` : ''}.`,
    ask: { frame: nearest.frame, point: nearest.point },
  }
}

const stops = {
  'no-structure': 'there is nothing there to follow it by',
  'not-back': 'there and back again did not agree',
  'looks-different': 'it no longer looks like what was placed',
  'left-the-picture': 'it left the picture',
  'too-uncertain': 'its error has grown too large',
} as const
