import { lineEnds } from '../../app/body/landmark-name'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Breakdown } from '../../app/project/breakdown'
import type { LineWay } from '../../app/geometry/line-camera'
import type { AngleWithU } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import type { Hall } from '../../app/project/hall'
import { Measure } from '../../app/project/question'
import { samplesOn } from '../../app/project/samples-on'
import { updating } from '../state/record-change'
import { changeSamples, samplesOf } from './placing'

/// What is known of the hall, as changes for the gate.

type Stating = Omit<Change, 'selection'>

/// A change of a clip as it is when its turn comes: what was stated of it just before may be on its way still.
export const ofClip =
  (id: string, change: (clip: Clip) => Stating) =>
  (now: ProjectState): Stating | null => {
    const clip = now.tables.clips.get(id)
    return clip ? change(clip) : null
  }

/// The same of a measure, while it is of this kind.
export const ofMeasure =
  <M extends Measure>(id: string, isOne: (measure: Measure) => measure is M, change: (measure: M) => Stating) =>
  (now: ProjectState): Stating | null => {
    const measure = now.tables.measures.get(id)
    return measure && isOne(measure) ? change(measure) : null
  }

/// The clip with this part of its hall stated, or, where it is undefined, no longer stated.
export function stateHall<K extends keyof Hall>(clip: Clip, part: K, value: Hall[K] | undefined, label: string): Stating {
  const { hall, ...rest } = clip
  const { [part]: _was, ...others } = hall ?? {}
  const next: Hall = value === undefined ? others : { ...others, [part]: value }
  return { label, steps: [], diffs: [updating('clips', clip, Object.keys(next).length > 0 ? { ...rest, hall: next } : rest)] }
}

export function stateRoll(clip: Clip, roll: AngleWithU, by: 'a line' | 'the lines' = 'a line'): Stating {
  const tenth = (deg: number): number => Math.round(deg * 10) / 10
  return {
    label: `Take the roll from ${by}`,
    steps: [],
    diffs: [updating('clips', clip, { ...clip, roll: { deg: tenth(roll.deg), u: Math.max(0.1, tenth(roll.u)) } })],
  }
}

/// Takes a line at right angles away: both ends, on every frame. Null where it is not drawn.
export function removeLine(
  state: ProjectState,
  breakdown: Breakdown | null,
  on: { readonly clip: string; readonly subject: string },
  way: LineWay,
  index: number,
): Stating | null {
  const label = `Take line ${index + 1} ${way} away`
  const diffs = lineEnds(way, index).flatMap((point) => {
    const before = breakdown ? samplesOf(breakdown, { ...on, point }) : []
    return before.length === 0 ? [] : (changeSamples(state, before, { ...on, point }, [], label)?.diffs ?? [])
  })
  return diffs.length === 0 ? null : { label, steps: [], diffs }
}

type JointAngle = Extract<Measure, { kind: 'joint-angle' }>
export const isJointAngle = (measure: Measure): measure is JointAngle => measure.kind === 'joint-angle'

/// A joint's angle as it stands in its limb's plane, or, without one, as it is drawn.
export function statePlane(measure: JointAngle, plane: AngleWithU | undefined): Stating {
  const { plane: _was, ...apparent } = measure
  return {
    label: plane ? 'State the limb’s plane' : 'Take the limb’s plane back',
    steps: [],
    diffs: [updating('measures', measure, plane ? { ...measure, plane } : apparent)],
  }
}

type Long = Extract<Measure, { kind: 'displacement' | 'path' | 'speed' | 'centre-of-mass' }>
/// A measure of a length that can be told in metres.
export const isLong = (measure: Measure): measure is Long =>
  measure.kind === 'displacement' || measure.kind === 'path' || measure.kind === 'speed' || measure.kind === 'centre-of-mass'

/// A measure told by the clip's own scale: without a unit of the body.
export function inMetres(measure: Long): Stating {
  const { unit: _unit, scale: _scale, ...rest } = measure
  return { label: 'Tell it in metres', steps: [], diffs: [updating('measures', measure, Measure.parse(rest))] }
}

/// A frame on which all these points are placed: the one in hand, else the first; null where there is none.
export function frameOf(breakdown: Breakdown, clip: string, subject: string, points: readonly string[], inHand: number): number | null {
  const tracks = points.map(
    (point) => breakdown.landmarks?.find((l) => l.clip === clip && l.subject === subject && l.point === point)?.samples ?? [],
  )
  if (tracks.every((samples) => samplesOn(samples, inHand).length > 0)) return inHand
  return tracks[0]?.find(({ frame }) => tracks.every((samples) => samplesOn(samples, frame).length > 0))?.frame ?? null
}
