import { eventFrame } from '../../app/programme/event-frame'
import type { Breakdown } from '../../app/project/breakdown'
import type { Event } from '../../app/project/film'
import type { Mark, Pair } from '../../app/project/picture'
import { samplesOn } from '../../app/project/samples-on'

/// Changes of a pair: who is in it, and how its pictures lie. What lies on what follows its members.

export const MOST_MEMBERS = 4

/// Two points of each clip, on the frame of its event, that can lie on one another.
export interface Layable {
  /// For each member, the subjects that have two of the points at least.
  readonly subjects: readonly (readonly string[])[]
  /// Points that every member's first subject has, or the one that is chosen for it.
  readonly points: readonly string[]
}

/// The pair with another clip in step; the same pair where it has as many as can be, or the event is gone.
export function withMemberAdded(pair: Pair, event: string, breakdown: Breakdown): Pair {
  const found = eventOf(breakdown, event)
  if (!found || pair.pair.length >= MOST_MEMBERS) return pair
  return fitted({ ...pair, pair: [...pair.pair, { clip: found.clip, event }] }, breakdown, [...chosen(pair), undefined])
}

/// The pair with another event, and its clip, in a member's place; its framing belonged to the picture before. The same pair where
/// it has no such member any more.
export function withMemberChanged(pair: Pair, at: number, event: string, breakdown: Breakdown): Pair {
  const found = eventOf(breakdown, event)
  if (!found || !pair.pair[at] || pair.pair[at].event === event) return pair
  return fitted({ ...pair, pair: pair.pair.with(at, { clip: found.clip, event }) }, breakdown, chosen(pair))
}

/// The pair without one of its clips, whose marks go with it; the same pair where only two are left.
export function withMemberTaken(pair: Pair, at: number, breakdown: Breakdown): Pair {
  if (pair.pair.length <= 2) return pair
  const { marks, ...rest } = pair
  const kept = (marks ?? []).flatMap((mark): Mark[] => {
    const panel = typeof mark === 'string' ? undefined : (mark.panel ?? 0)
    if (typeof mark === 'string' || panel === undefined || panel < at) return [mark]
    return panel === at ? [] : [{ ...mark, panel: panel - 1 }]
  })
  return fitted(
    { ...rest, ...(kept.length > 0 ? { marks: kept } : {}), pair: pair.pair.toSpliced(at, 1) },
    breakdown,
    chosen(pair).toSpliced(at, 1),
  )
}

/// The pair laid otherwise: over each other on the first two points that all its clips have, unless two are chosen already;
/// null where they have no two.
export function laidAs(pair: Pair, layout: Pair['layout'], breakdown: Breakdown): Pair | null {
  const laid = fitted({ ...pair, layout }, breakdown, chosen(pair))
  return laid.layout === layout ? laid : null
}

/// The pair with another subject of one of its clips lying on the others, or on another point; the same pair where it lies on none,
/// or has no such clip any more.
export function lyingOn(
  pair: Pair,
  change: { readonly subject: string; readonly of: number } | { readonly point: string; readonly of: 0 | 1 },
  breakdown: Breakdown,
): Pair {
  const { over } = pair
  if (!over) return pair
  if ('subject' in change && change.of >= over.subjects.length) return pair
  if ('subject' in change) return fitted(pair, breakdown, over.subjects.with(change.of, change.subject))
  const other = over.points[change.of === 0 ? 1 : 0]
  // A point that stands as the other one already changes places with it.
  const points: [string, string] = change.of === 0 ? [change.point, other] : [other, change.point]
  return {
    ...pair,
    over: { ...over, points: points[0] === points[1] ? [over.points[1], over.points[0]] : points } as NonNullable<Pair['over']>,
  }
}

/// What a pair's clips can lie on each other with; null where there are no two such points.
export function layable(pair: Pair, breakdown: Breakdown, wanted: readonly (string | undefined)[] = chosen(pair)): Layable | null {
  const placed = pair.pair.map(({ event }) => {
    const found = eventOf(breakdown, event)
    return found ? placedAt(found, breakdown) : new Map<string, readonly string[]>()
  })
  const subjects = placed.map((points) => [...points].flatMap(([subject, names]) => (names.length > 1 ? [subject] : [])))
  const picked = pickedOf(subjects, wanted)
  const lists = placed.map((points, i) => points.get(picked[i] ?? '') ?? [])
  const points = (lists[0] ?? []).filter((name) => lists.every((names) => names.includes(name)))
  return points.length < 2 ? null : { subjects, points }
}

const pickedOf = (subjects: Layable['subjects'], wanted: readonly (string | undefined)[]): (string | undefined)[] =>
  subjects.map((those, i) => those.find((subject) => subject === wanted[i]) ?? those[0])

const chosen = ({ over, pair }: Pair): readonly (string | undefined)[] => pair.map((_member, i) => over?.subjects[i])

/// What it lies on names its clips, as many as they are; laid over each other on nothing, they lie beside each other.
function fitted(pair: Pair, breakdown: Breakdown, wanted: readonly (string | undefined)[]): Pair {
  const { over, ...rest } = pair
  const can = rest.layout === 'over' ? layable(pair, breakdown, wanted) : null
  if (!can) return rest.layout === 'over' ? { ...rest, layout: 'beside' } : rest
  const kept = (over?.points ?? []).filter((point) => can.points.includes(point))
  const points = [...kept, ...can.points.filter((point) => !kept.includes(point))].slice(0, 2)
  return { ...rest, over: { subjects: pickedOf(can.subjects, wanted), points } as NonNullable<Pair['over']> }
}

/// Points that are placed on an event's frame, by subject.
function placedAt(event: Event, breakdown: Breakdown): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>()
  for (const { clip, subject, point, samples } of breakdown.landmarks ?? [])
    if (clip === event.clip && samplesOn(samples, eventFrame(event)).length > 0) found.set(subject, [...(found.get(subject) ?? []), point])
  return found
}

const eventOf = (breakdown: Breakdown, id: string): Event | undefined => breakdown.events?.find((event) => event.id === id)
