import type { Change, RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { AngleWithU } from '../../app/project/fields'
import type { Clip, View } from '../../app/project/film'
import { adding, removing, updating } from '../state/record-change'

/// A subject's views along a clip, one span after another, as changes for the gate.

type Stating = Omit<Change, 'selection'>
/// What is stated of a span; what is absent is not stated.
export type ViewParts = Pick<View, 'lead' | 'yaw' | 'elevation'>

export interface ViewSpan {
  /// Null: nothing is stated of these frames yet.
  readonly view: View | null
  readonly from: number
  readonly to: number
}

/// A clip's spans from its first frame to its last: those that are stated, and the gaps between them.
export function viewSpans(views: readonly View[], clip: Pick<Clip, 'id' | 'from' | 'to'>, subject: string): ViewSpan[] {
  const spans: ViewSpan[] = []
  let end = clip.from
  for (const view of views.filter((v) => v.clip === clip.id && v.subject === subject).sort((a, b) => a.from - b.from)) {
    if (end < view.from) spans.push({ view: null, from: end, to: view.from })
    spans.push({ view, from: view.from, to: view.to })
    end = view.to
  }
  if (end < clip.to) spans.push({ view: null, from: end, to: clip.to })
  return spans
}

export const spanOn = (spans: readonly ViewSpan[], frame: number): ViewSpan | null =>
  spans.find(({ from, to }) => from <= frame && frame < to) ?? null

/// States the view over a whole span, or from a frame inside it on: what was stated before that frame stays as it was.
export function stateView(
  state: ProjectState,
  clip: string,
  subject: string,
  span: ViewSpan,
  since: number,
  parts: ViewParts,
): RecordDiff[] {
  const stated: View = { clip, subject, from: since, to: span.to, ...parts }
  if (!span.view) return [adding(state, 'views', stated)]
  if (since <= span.from) return [updating('views', span.view, stated)]
  return [updating('views', span.view, { ...span.view, to: since }), adding(state, 'views', stated)]
}

/// What of the hall tells a view.
export type TellsView = 'floor' | 'lines'

/// Yaw or elevation as the hall tells it, stated of a whole span; what else is stated of it stays.
export function stateAngle(
  state: ProjectState,
  clip: string,
  subject: string,
  span: ViewSpan,
  name: 'yaw' | 'elevation',
  { deg, u }: AngleWithU,
  by: TellsView = 'floor',
): Stating {
  const tenth = (value: number): number => Math.round(value * 10) / 10
  const { lead, yaw, elevation } = span.view ?? {}
  const parts: ViewParts = {
    ...(lead ? { lead } : {}),
    ...(yaw ? { yaw } : {}),
    ...(elevation ? { elevation } : {}),
    [name]: { deg: tenth(deg), u: Math.max(0.1, tenth(u)) },
  }
  return { label: `Take the ${name} from the ${by}`, steps: [], diffs: stateView(state, clip, subject, span, span.from, parts) }
}

/// Takes a span's own statement away: the view before it goes on through it. Null where there is none right before it.
export function joinView(state: ProjectState, spans: readonly ViewSpan[], span: ViewSpan): Stating | null {
  const before = spans[spans.indexOf(span) - 1]?.view
  if (!span.view || !before) return null
  return {
    label: `View as before frame ${span.from}`,
    steps: [],
    diffs: [removing(state, 'views', span.view), updating('views', before, { ...before, to: span.to })],
  }
}

/// "left leads, yaw 5°, elevation 10°".
export function viewWords(view: View | null): string {
  const parts = view
    ? [view.lead && `${view.lead} leads`, view.yaw && `yaw ${view.yaw.deg}°`, view.elevation && `elevation ${view.elevation.deg}°`].filter(
        Boolean,
      )
    : []
  return parts.length > 0 ? parts.join(', ') : 'not stated'
}
