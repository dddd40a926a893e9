import { backgroundName, isBackground, isOfHall } from '../../app/body/landmark-name'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Breakdown } from '../../app/project/breakdown'
import type { Clip, Sample } from '../../app/project/film'
import type { Background, BackgroundPlan } from '../../app/track/background'
import { changeSamples, samplesOf } from './placing'
import { LONGEST_RUN } from './track-plan'

/// What of the hall is to be followed, and what was found as one change for the gate.

/// The clip's frames, or as many of them about `frame` as a run may have.
export function backgroundPlan(breakdown: Breakdown, clip: Clip, frame: number): BackgroundPlan {
  const from = Math.max(clip.from, Math.min(frame - LONGEST_RUN / 2, clip.to - 1 - LONGEST_RUN))
  return { from, last: Math.min(clip.to - 1, from + LONGEST_RUN), people: peopleOn(breakdown, clip) }
}

/// About each person's points on a frame, a head and a reach more: so much of the points' own height.
const MORE = 0.25
/// A person with fewer points on a frame is not bounded by them.
const LEAST_POINTS = 4

function peopleOn(breakdown: Breakdown, clip: Clip): BackgroundPlan['people'] {
  const points = new Map<string, { readonly frame: number; readonly xs: number[]; readonly ys: number[] }>()
  for (const landmark of breakdown.landmarks ?? []) {
    if (landmark.clip !== clip.id || isOfHall(landmark.point)) continue
    for (const { frame, at } of landmark.samples) {
      const key = `${landmark.subject} ${frame}`
      const here = points.get(key) ?? { frame, xs: [], ys: [] }
      points.set(key, here)
      here.xs.push(at[0])
      here.ys.push(at[1])
    }
  }
  return [...points.values()].flatMap(({ frame, xs, ys }) => {
    if (xs.length < LEAST_POINTS) return []
    const [left, top, right, foot] = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
    const more = MORE * Math.max(foot - top, right - left)
    return [{ frame, area: [left - more, top - more, right - left + 2 * more, foot - top + 2 * more] as const }]
  })
}

/// What was found, as one change: it takes the place of what an earlier run left. Null where nothing differs.
export function keepBackground(
  state: ProjectState,
  breakdown: Breakdown,
  { clip, subject }: { readonly clip: string; readonly subject: string },
  found: Background,
): Omit<Change, 'selection'> | null {
  const before = (breakdown.landmarks ?? [])
    .filter((landmark) => landmark.clip === clip && landmark.subject === subject && isBackground(landmark.point))
    .map(({ point }) => point)
  const names = found.points.map((_, i) => backgroundName(i))
  const changes = [...new Set([...before, ...names])].flatMap((point) => {
    const of = { clip, subject, point }
    const places = found.points[names.indexOf(point)]?.places ?? []
    const next = places.map(({ frame, at, sigma }): Sample => ({
      frame,
      at: [rounded(at[0]), rounded(at[1])],
      sigma: rounded(sigma),
      origin: 'tracked',
    }))
    return changeSamples(state, samplesOf(breakdown, of), of, next, '') ?? []
  })
  return changes.length === 0 ? null : { label: 'Follow the background', steps: [], diffs: changes.flatMap(({ diffs }) => diffs) }
}

/// What a run says for itself.
export function backgroundWords({ from, last }: BackgroundPlan, { frames, residual, stopped, points }: Background): string {
  if (points.length === 0) return 'Too little of the hall can be followed here: place points of it, and follow them.'
  const agree = `Places of the hall agree on ${frames} frames${residual === null ? '' : `, to ${residual.toFixed(1)} pixels`}.`
  return stopped && stopped.frame !== last
    ? `${agree} On frame ${stopped.frame} only ${stopped.agreed} of ${stopped.followed} agreed, so the camera’s motion is known from ${from} to ${stopped.frame - 1}.`
    : agree
}

const rounded = (value: number): number => Math.round(value * 1000) / 1000
