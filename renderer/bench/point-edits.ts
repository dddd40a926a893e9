import { sayPoint, type Side } from '../../app/body/landmark-name'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Breakdown } from '../../app/project/breakdown'
import type { Point } from '../../app/project/fields'
import type { Sample, Seen } from '../../app/project/film'
import type { SuggestedPoint } from '../../app/track/suggester'
import { beforeOf, turnOf, type Guide } from './guide'
import { changeSamples, isByHand, moved, samplesOf, withHandChanged, withoutHand, withPlacing, withSample } from './placing'

/// What a hand does to points, as changes for the gate. Null where there is nothing to do.

type Placing = Omit<Change, 'selection'> | null
interface On {
  readonly clip: string
  readonly subject: string
  readonly frame: number
}

/// Places the point in the guide's turn; one that was placed in this round already is placed there instead. What stands
/// behind the placings of earlier rounds is read when the change is made, so that an undo meanwhile is heeded.
export const placePoint = (state: ProjectState, breakdown: Breakdown | null, guide: Guide, at: Point, lead: Side | null): Placing => {
  const { point } = turnOf(guide)
  const placing: Sample = {
    frame: guide.frame,
    at: [at[0], at[1]],
    origin: 'placed',
    ...(guide.seen === 'seen' ? {} : { seen: guide.seen }),
    ...(guide.blur === undefined ? {} : { blur: guide.blur }),
  }
  return change(state, breakdown, guide, point, `Place ${sayPoint(point, lead)}`, (samples) =>
    withPlacing(samples, placing, beforeOf(guide)),
  )
}

/// How the guide's point is seen, and how long it is blurred, where it was placed in this round.
export const seePoint = (
  state: ProjectState,
  breakdown: Breakdown | null,
  guide: Guide,
  seen: Seen,
  blur: number | undefined,
  lead: Side | null,
): Placing => {
  const { point } = turnOf(guide)
  return change(
    state,
    breakdown,
    guide,
    point,
    `${seen === 'occluded' ? 'Hidden' : seen === 'blurred' ? 'Blurred' : 'Seen'}: ${sayPoint(point, lead)}`,
    (samples) =>
      withHandChanged(samples, guide.frame, beforeOf(guide), ({ blur: _blur, ...sample }) => ({
        ...sample,
        seen,
        ...(blur === undefined ? {} : { blur }),
      })),
  )
}

/// Takes the guide's point of this round back.
export const takeBack = (state: ProjectState, breakdown: Breakdown | null, guide: Guide, lead: Side | null): Placing => {
  const { point } = turnOf(guide)
  return change(state, breakdown, guide, point, `Remove ${sayPoint(point, lead)}`, (samples) =>
    withoutHand(samples, guide.frame, beforeOf(guide)),
  )
}

export const movePoint = (state: ProjectState, breakdown: Breakdown | null, on: On, point: string, by: Point, lead: Side | null): Placing =>
  change(state, breakdown, on, point, `Move ${sayPoint(point, lead)}`, (samples) => moved(samples, on.frame, by[0], by[1]))

/// How long a point is blurred on a frame, px, for all its placings by hand; null: called blurred, of no stated length.
export const blurPoint = (
  state: ProjectState,
  breakdown: Breakdown | null,
  on: On,
  point: string,
  blur: number | null,
  lead: Side | null,
): Placing =>
  change(state, breakdown, on, point, `Blurred: ${sayPoint(point, lead)}`, (samples) =>
    samples.map((sample) => {
      if (sample.frame !== on.frame || !isByHand(sample)) return sample
      const { blur: _blur, ...rest } = sample
      return { ...rest, seen: sample.seen === 'occluded' ? 'occluded' : 'blurred', ...(blur === null ? {} : { blur }) }
    }),
  )

export const removePoint = (state: ProjectState, breakdown: Breakdown | null, on: On, point: string, lead: Side | null): Placing =>
  change(state, breakdown, on, point, `Remove ${sayPoint(point, lead)}`, (samples) => samples.filter((s) => s.frame !== on.frame))

/// Takes all that is placed of these points on a frame away, in one edit.
export function removePoints(state: ProjectState, breakdown: Breakdown | null, on: On, points: readonly string[], label: string): Placing {
  const diffs = points.flatMap(
    (point) => change(state, breakdown, on, point, label, (samples) => samples.filter((s) => s.frame !== on.frame))?.diffs ?? [],
  )
  return diffs.length === 0 ? null : { label, steps: [], diffs }
}

/// The subject's points of one frame on another where they are not placed, as suggestions: each is to be looked at.
export function copyPoints(state: ProjectState, breakdown: Breakdown | null, on: On, to: number): Placing {
  const changes = (breakdown?.landmarks ?? [])
    .filter((l) => l.clip === on.clip && l.subject === on.subject)
    .flatMap((landmark) => {
      const here = landmark.samples.filter((s) => s.frame === on.frame)
      if (here.length === 0 || landmark.samples.some((s) => s.frame === to)) return []
      const { seen } = here[0] as Sample
      const mean = (axis: 0 | 1): number => here.reduce((sum, s) => sum + s.at[axis], 0) / here.length
      return (
        changeSamples(
          state,
          landmark.samples,
          landmark,
          withSample(landmark.samples, { frame: to, at: [mean(0), mean(1)], origin: 'suggested', ...(seen ? { seen } : {}) }),
          '',
        ) ?? []
      )
    })
  return changes.length === 0 ? null : { label: `Copy points to frame ${to}`, steps: [], diffs: changes.flatMap(({ diffs }) => diffs) }
}

/// Takes one of a frame's placings away.
export const removePlacing = (
  state: ProjectState,
  breakdown: Breakdown | null,
  on: On,
  point: string,
  index: number,
  lead: Side | null,
): Placing =>
  change(state, breakdown, on, point, `Remove a placing of ${sayPoint(point, lead)}`, (samples) => {
    const here = samples.filter((s) => s.frame === on.frame)
    return samples.filter((sample) => sample !== here[index])
  })

/// Suggested points of a frame taken as one's own: looked at, and left where they are.
export function acceptPoints(state: ProjectState, breakdown: Breakdown | null, on: On, points: readonly string[]): Placing {
  const changes = points.flatMap((point) => {
    const of = { clip: on.clip, subject: on.subject, point }
    const before = breakdown ? samplesOf(breakdown, of) : []
    const next = before.map((sample): Sample =>
      sample.frame === on.frame && sample.origin === 'suggested' ? { ...sample, origin: 'placed' } : sample,
    )
    return changeSamples(state, before, of, next, '') ?? []
  })
  return changes.length === 0 ? null : { label: 'Accept what was suggested', steps: [], diffs: changes.flatMap(({ diffs }) => diffs) }
}

/// Points that a model suggested, taken as one's own: looked at, and left where they are. One edit.
export function placeSuggested(state: ProjectState, breakdown: Breakdown | null, on: On, points: readonly SuggestedPoint[]): Placing {
  const changes = points.flatMap(({ point, at }) => {
    const of = { clip: on.clip, subject: on.subject, point }
    const before = breakdown ? samplesOf(breakdown, of) : []
    if (before.some((sample) => sample.frame === on.frame)) return []
    return changeSamples(state, before, of, withSample(before, { frame: on.frame, at: [at[0], at[1]], origin: 'placed' }), '') ?? []
  })
  return changes.length === 0 ? null : { label: 'Accept what was suggested', steps: [], diffs: changes.flatMap(({ diffs }) => diffs) }
}

function change(
  state: ProjectState,
  breakdown: Breakdown | null,
  on: On,
  point: string,
  label: string,
  next: (samples: readonly Sample[]) => Sample[],
): Placing {
  if (!breakdown) return null
  const of = { clip: on.clip, subject: on.subject, point }
  const samples = samplesOf(breakdown, of)
  return changeSamples(state, samples, of, next(samples), label)
}
