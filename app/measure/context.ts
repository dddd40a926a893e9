import { figureHeightOf } from '../body/figure-height'
import type { Side } from '../body/landmark-name'
import { middle } from '../geometry/vector'
import type { Breakdown } from '../project/breakdown'
import type { Point } from '../project/fields'
import type { Clip, Event, Landmark, Sample, View } from '../project/film'
import type { Measure } from '../project/question'
import { samplesOn } from '../project/samples-on'
import type { FrameTable } from '../time/frame-table'

/// What the kinds of measure ask a breakdown, found once and kept. Made afresh for every version
/// of the breakdown; the answers are immutable.
export interface MeasureContext {
  readonly breakdown: Breakdown
  readonly clip: (id: string) => Clip | null
  readonly event: (id: string) => Event | null
  /// The events of a clip, in document order.
  readonly eventsOf: (clip: string) => readonly Event[]
  readonly measure: (id: string) => Measure | null
  /// The view card of a subject on a frame; null when there is none.
  readonly view: (clip: string, subject: string, frame: number) => View | null
  readonly lead: (clip: string, subject: string, frame: number) => Side | null
  /// Whether the point is placed anywhere in the clip.
  readonly isPlaced: (clip: string, subject: string, point: string) => boolean
  /// The placings of a point on one frame; empty when there is none.
  readonly samples: (clip: string, subject: string, point: string, frame: number) => readonly Sample[]
  /// Every placing of a point in a clip by frame, in frame order.
  readonly track: (clip: string, subject: string, point: string) => ReadonlyMap<number, readonly Sample[]>
  /// Median standing height of the subject over the clip's placed poses, pixels; null when no
  /// limb is placed.
  readonly figureHeight: (clip: string, subject: string) => number | null
  /// The frame times of the clip's film; null while they are not known.
  readonly table: (clip: Clip) => FrameTable | null
}

type Track = ReadonlyMap<number, readonly Sample[]>
const NOWHERE: Track = new Map()

/// Poses (about) that are asked for the median height; more would not move it.
const POSES = 60

/// Points that a standing height is judged from.
const HEIGHT_POINTS: readonly string[] = ['hip', 'knee', 'ankle', 'shoulder', 'elbow', 'wrist'].flatMap((place) =>
  ['left', 'right', 'mid'].map((side) => `${place}.${side}`),
)

const nested = <T extends { readonly clip: string; readonly subject: string }>(records: readonly T[]): Map<string, Map<string, T[]>> =>
  new Map([...grouped(records, (r) => r.clip)].map(([clip, ofClip]) => [clip, grouped(ofClip, (r) => r.subject)]))

function grouped<T, K>(items: Iterable<T>, keyOf: (item: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>()
  for (const item of items) {
    const key = keyOf(item)
    const group = groups.get(key)
    if (group) group.push(item)
    else groups.set(key, [item])
  }
  return groups
}

export function measureContext(breakdown: Breakdown, tableOf: (footageId: string) => FrameTable | null): MeasureContext {
  const clips = new Map(breakdown.clips.map((c) => [c.id, c]))
  const events = new Map((breakdown.events ?? []).map((e) => [e.id, e]))
  const eventsByClip = grouped(breakdown.events ?? [], (e) => e.clip)
  const measures = new Map((breakdown.measures ?? []).map((m) => [m.id, m]))
  const views = nested(breakdown.views ?? [])
  const points = new Map<string, Map<string, Map<string, Landmark[]>>>()
  for (const [clip, bySubject] of nested(breakdown.landmarks ?? []))
    points.set(clip, new Map([...bySubject].map(([subject, records]) => [subject, grouped(records, (l) => l.point)])))
  const ordered = new Map<readonly Landmark[], readonly Sample[]>()
  const tracks = new Map<readonly Landmark[], Track>()
  const heights = new Map<string, Map<string, number | null>>()
  const tables = new Map<string, FrameTable | null>()

  const recordsOf = (clip: string, subject: string, point: string): readonly Landmark[] | undefined =>
    points.get(clip)?.get(subject)?.get(point)
  const inOrder = (records: readonly Landmark[]): readonly Sample[] => {
    let known = ordered.get(records)
    if (!known) {
      const samples = records.length === 1 ? records[0]!.samples : records.flatMap((r) => r.samples)
      known = samples.every((s, i) => i === 0 || s.frame >= samples[i - 1]!.frame)
        ? samples
        : [...samples].sort((a, b) => a.frame - b.frame)
      ordered.set(records, known)
    }
    return known
  }
  const track = (clip: string, subject: string, point: string): Track => {
    const records = recordsOf(clip, subject, point)
    if (!records) return NOWHERE
    let known = tracks.get(records)
    if (!known) {
      known = grouped(inOrder(records), (s) => s.frame)
      tracks.set(records, known)
    }
    return known
  }
  const samples = (clip: string, subject: string, point: string, frame: number): readonly Sample[] => {
    const records = recordsOf(clip, subject, point)
    return records ? samplesOn(inOrder(records), frame) : []
  }
  const view = (clip: string, subject: string, frame: number): View | null =>
    views
      .get(clip)
      ?.get(subject)
      ?.find((v) => v.from <= frame && frame < v.to) ?? null

  const figureHeight = (clip: string, subject: string): number | null => {
    const known = heights.get(clip)?.get(subject)
    if (known !== undefined) return known
    const height = medianHeight(clip, subject)
    const ofClip = heights.get(clip) ?? new Map<string, number | null>()
    heights.set(clip, ofClip.set(subject, height))
    return height
  }
  const medianHeight = (clip: string, subject: string): number | null => {
    const frames = new Set<number>()
    for (const name of HEIGHT_POINTS) for (const { frame } of inOrder(recordsOf(clip, subject, name) ?? [])) frames.add(frame)
    const poses = [...frames].sort((a, b) => a - b)
    const step = Math.max(1, Math.floor(poses.length / POSES))
    const found: number[] = []
    for (let i = 0; i < poses.length; i += step) {
      const frame = poses[i]!
      const at = (name: string): Point | null => samples(clip, subject, name, frame)[0]?.at ?? null
      const placed = (name: string): Point | null => {
        const own = at(name)
        if (own || !name.endsWith('.mid')) return own
        const [left, right] = [at(name.replace(/mid$/, 'left')), at(name.replace(/mid$/, 'right'))]
        return left && right ? middle(left, right) : null
      }
      const height = figureHeightOf(placed, view(clip, subject, frame)?.elevation?.deg ?? null)
      if (height !== null) found.push(height)
    }
    return found.length === 0 ? null : found.sort((a, b) => a - b)[found.length >> 1]!
  }

  return {
    breakdown,
    clip: (id) => clips.get(id) ?? null,
    event: (id) => events.get(id) ?? null,
    eventsOf: (clip) => eventsByClip.get(clip) ?? [],
    measure: (id) => measures.get(id) ?? null,
    view,
    lead: (clip, subject, frame) => view(clip, subject, frame)?.lead ?? null,
    isPlaced: (clip, subject, point) => (recordsOf(clip, subject, point) ?? []).some((record) => record.samples.length > 0),
    samples,
    track,
    figureHeight,
    table: (clip) => {
      const known = tables.get(clip.footage)
      if (known !== undefined) return known
      const table = tableOf(clip.footage)
      tables.set(clip.footage, table)
      return table
    },
  }
}
