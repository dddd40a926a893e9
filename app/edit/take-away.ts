import { checkMeasures, type Index } from '../exchange/breakdown-checking'
import { ProblemList } from '../exchange/problem-list'
import type { Breakdown } from '../project/breakdown'
import { clipsOfShot } from '../project/clips-of-shot'
import type { Clip, Event, Landmark } from '../project/film'
import type { Measure } from '../project/question'
import { usesOf, type Use } from '../release/where-used'
import type { Readings } from '../script/spoken-form'
import type { RecordDiff } from './edit'
import type { ProjectState } from './project-state'
import { landmarkKey, packSamples, tables, type Records, type TableName } from './records'

/// A film, a clip or an event that is to go.
export interface Goes {
  readonly table: 'footage' | 'clips' | 'events'
  readonly id: string
}

/// What goes with it, for a person to read before it does.
export interface TakenAway {
  readonly clips: readonly Clip[]
  readonly events: readonly Event[]
  readonly views: number
  /// Body points of which places were set, and how many places.
  readonly points: number
  readonly placings: number
  readonly measures: readonly Measure[]
  /// Counts that lose cases, and stay.
  readonly counts: readonly Measure[]
  /// Clips whose speed was found from what goes; they keep the factor as it was found.
  readonly links: readonly Clip[]
  /// Paragraphs with a shot that shows it: while there is one, nothing may go.
  readonly shownIn: readonly string[]
  /// Sentences, headings, labels, cards and claims that name what goes, and then say that it is gone.
  readonly uses: readonly Use[]
}

/// What hangs on a film, a clip or an event: on a film its clips; on a clip its views, points and events, the cases of
/// counts; on an event and on all of these every measure that cannot be asked without it. `breakdown` is the project's, samples
/// read in.
export function whatGoes(breakdown: Breakdown, readings: Readings, goes: Goes): TakenAway {
  const clips = breakdown.clips.filter((clip) =>
    goes.table === 'footage' ? clip.footage === goes.id : goes.table === 'clips' && clip.id === goes.id,
  )
  const gone = new Set(clips.map(({ id }) => id))
  const events = (breakdown.events ?? []).filter((event) => gone.has(event.clip) || (goes.table === 'events' && event.id === goes.id))
  const goneEvents = new Set(events.map(({ id }) => id))
  const landmarks = (breakdown.landmarks ?? []).filter(({ clip }) => gone.has(clip))
  const counted = (breakdown.measures ?? []).map((measure) => withoutCases(measure, gone))
  const measures = measuresWithout(
    breakdown,
    counted.filter((measure) => measure !== null),
    gone,
    goneEvents,
  )
  const goneMeasures = new Set(
    (breakdown.measures ?? []).filter((measure, i) => counted[i] === null || measures.has(measure.id)).map(({ id }) => id),
  )
  const uses = [
    ...[...goneEvents].flatMap((id) => usesOf('event', id, breakdown, readings)),
    ...[...goneMeasures].flatMap((id) => usesOf('measure', id, breakdown, readings)),
    ...framesCited(breakdown, gone),
  ]
  return {
    clips,
    events: events.filter(({ id }) => goes.table !== 'events' || id !== goes.id),
    views: (breakdown.views ?? []).filter(({ clip }) => gone.has(clip)).length,
    points: landmarks.filter(({ samples }) => samples.length > 0).length,
    placings: landmarks.reduce((sum, { samples }) => sum + samples.length, 0),
    measures: (breakdown.measures ?? []).filter(({ id }) => goneMeasures.has(id)),
    counts: counted.filter((measure, i): measure is Measure => measure !== null && measure !== breakdown.measures?.[i]),
    links: breakdown.clips.filter((clip) => !gone.has(clip.id) && withoutLink(clip, gone, goneEvents) !== clip),
    shownIn: breakdown.script.flatMap((row) =>
      'text' in row &&
      row.shots?.some(
        (shot) => clipsOfShot(shot).some((id) => gone.has(id)) || ('pair' in shot && shot.pair.some(({ event }) => goneEvents.has(event))),
      )
        ? [row.id]
        : [],
    ),
    uses: uses.filter(
      ({ as, place, words }, i) =>
        TOLD.has(as) && uses.findIndex((other) => other.as === as && other.place === place && other.words === words) === i,
    ),
  }
}

/// What of a use is told: a caption and a take say what their sentence says, and a measure goes itself.
const TOLD: ReadonlySet<Use['as']> = new Set(['sentence', 'chapter', 'label', 'card', 'evidence'])

/// The changes that take it away with all that hangs on it. Words of the script stay, and so do values, cues and marks in
/// it that name what is gone: the script shows them as such. Empty while a shot shows it.
export function takeAway(state: ProjectState, breakdown: Breakdown, readings: Readings, goes: Goes): RecordDiff[] {
  const { clips, events, measures, shownIn } = whatGoes(breakdown, readings, goes)
  if (shownIn.length > 0) return []
  const gone = new Set(clips.map(({ id }) => id))
  const goneEvents = new Set([...events.map(({ id }) => id), ...(goes.table === 'events' ? [goes.id] : [])])
  const goneMeasures = new Set(measures.map(({ id }) => id))
  const diffs: RecordDiff[] = []
  const remove = <T extends TableName>(table: T, key: string, record: Records[T]): void =>
    void diffs.push({ table, key, change: 'removed', record, after: null } as RecordDiff)
  const update = <T extends TableName>(table: T, key: string, from: Records[T], to: Records[T]): unknown =>
    from !== to && diffs.push({ table, key, change: 'updated', from, to } as RecordDiff)
  for (const measure of state.tables.measures.list()) {
    if (goneMeasures.has(measure.id)) remove('measures', measure.id, measure)
    else update('measures', measure.id, measure, withoutCases(measure, gone) ?? measure)
  }
  for (const landmark of breakdown.landmarks ?? []) if (gone.has(landmark.clip)) removePoint(landmark, remove)
  for (const view of state.tables.views.list()) if (gone.has(view.clip)) remove('views', tables.views.keyOf(view), view)
  for (const event of state.tables.events.list()) if (goneEvents.has(event.id)) remove('events', event.id, event)
  for (const clip of state.tables.clips.list()) {
    if (gone.has(clip.id)) remove('clips', clip.id, clip)
    else update('clips', clip.id, clip, withoutLink(clip, gone, goneEvents))
  }
  const film = goes.table === 'footage' ? state.tables.footage.get(goes.id) : undefined
  if (film) remove('footage', film.id, film)
  return diffs
}

function removePoint(
  { samples, ...head }: Landmark,
  remove: <T extends TableName>(table: T, key: string, record: Records[T]) => void,
): void {
  for (const pack of packSamples(head, samples)) remove('packs', tables.packs.keyOf(pack), pack)
  remove('landmarks', landmarkKey(head), head)
}

/// A count without the cases of clips that are gone; null where none is left. Any other measure as it is.
function withoutCases(measure: Measure, gone: ReadonlySet<string>): Measure | null {
  if (measure.kind !== 'count' || !measure.cases.some(({ clip }) => gone.has(clip))) return measure
  const cases = measure.cases.filter(({ clip }) => !gone.has(clip))
  return cases.length > 0 ? { ...measure, cases } : null
}

/// A clip whose factor rests on no clip or event that is gone.
function withoutLink(clip: Clip, gone: ReadonlySet<string>, events: ReadonlySet<string>): Clip {
  const link = clip.capture === 'unknown' ? undefined : clip.capture.link
  if (!link || clip.capture === 'unknown') return clip
  const pairs = link.pairs.filter((pair) => !pair.some((id) => events.has(id)))
  if (!gone.has(link.shared) && pairs.length === link.pairs.length) return clip
  const { link: _link, ...found } = clip.capture
  return { ...clip, capture: found }
}

/// The measures that name what is gone, and those that build on them: what the check of the whole document would refuse.
function measuresWithout(
  breakdown: Breakdown,
  measures: readonly Measure[],
  gone: ReadonlySet<string>,
  events: ReadonlySet<string>,
): ReadonlySet<string> {
  const left = new Map(measures.map((measure) => [measure.id, measure]))
  const index = (): Index => ({
    clips: new Map(breakdown.clips.filter(({ id }) => !gone.has(id)).map((clip) => [clip.id, clip])),
    events: new Map((breakdown.events ?? []).filter(({ id }) => !events.has(id)).map((event) => [event.id, event])),
    subjects: new Set(breakdown.subjects.map(({ id }) => id)),
    measures: new Set(left.keys()),
  })
  for (let before = -1; before !== left.size;) {
    before = left.size
    const known = index()
    for (const measure of left.values()) {
      const problems = new ProblemList()
      checkMeasures([measure], known, problems)
      if (!problems.empty) left.delete(measure.id)
    }
  }
  return new Set(measures.filter(({ id }) => !left.has(id)).map(({ id }) => id))
}

/// Claims that rest on a frame of a clip that is gone.
const framesCited = (breakdown: Breakdown, gone: ReadonlySet<string>): Use[] =>
  (breakdown.claims ?? []).flatMap((claim, i): Use[] =>
    claim.evidence?.some((each) => typeof each === 'object' && 'frame' in each && gone.has(each.clip))
      ? [{ as: 'evidence', place: `claims[${i}]`, paragraph: claim.on.paragraph ?? '', words: claim.on.words }]
      : [],
  )
