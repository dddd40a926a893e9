import type { Breakdown } from '../project/breakdown'
import type { Clip } from '../project/film'
import type { Measure } from '../project/question'
import { checkClaims } from './claim-checking'
import { problemOfFileName } from './document-file-name'
import { placeWithin, quoted, type ProblemList } from './problem-list'
import { checkScript } from './script-checking'

/// What the records promise each other. All of it holds in a breakdown that was read, and every
/// edit keeps it:
/// - ids are unique within their table; a landmark within (clip, subject, point), a cue's time
///   within (paragraph, event), a view's span crosses no other of its clip and subject
/// - what is named is there: footage, clip, subject, event, measure, paragraph
/// - spans are not empty; earliest ≤ latest; every frame lies in its clip
/// - a landmark's samples stand in the order of their frames (repeats on one frame keep theirs)
/// - measures that build on measures, and capture factors that come from another clip's, do so
///   without going round; a clip and its events that a factor comes from are there
/// - evidence and cites name what is there; a correction belongs to a release, whose words name its
///   own values, events and stills
/// - file names stay inside the document's folder
export interface Index {
  readonly clips: ReadonlyMap<string, Clip>
  readonly events: ReadonlyMap<string, { readonly clip: string }>
  readonly measures: ReadonlySet<string>
  readonly subjects: ReadonlySet<string>
}

export interface CheckingOptions {
  /// Whether a script's value, cue or mark may name a measure or event that is gone.
  readonly dangling: 'refuse' | 'keep'
}

/// Adds every broken promise to `problems`, with its place.
export function checkBreakdown(b: Breakdown, problems: ProblemList, options: CheckingOptions): void {
  const footage = uniqueIds(b.footage, 'footage', problems)
  const index: Index = {
    subjects: new Set(uniqueIds(b.subjects, 'subjects', problems).keys()),
    clips: uniqueIds(b.clips, 'clips', problems),
    events: uniqueIds(b.events ?? [], 'events', problems),
    measures: new Set(uniqueIds(b.measures ?? [], 'measures', problems).keys()),
  }
  b.footage.forEach((f, i) => checkFile(f.file, `footage[${i}].file`, problems))
  if (b.sound?.roomTone !== undefined) checkFile(b.sound.roomTone, 'sound.roomTone', problems)
  b.clips.forEach((clip, i) => {
    if (!footage.has(clip.footage)) problems.add(`clips[${i}].footage`, notThere('footage', clip.footage))
    checkOrder(clip, `clips[${i}]`, problems)
    if (clip.hall) checkMeasureFields(clip.hall, clip, `clips[${i}].hall`, index, [], problems)
  })
  checkLinks(b.clips, index, problems)
  checkViews(b, index, problems)
  b.events?.forEach((event, i) => {
    const place = `events[${i}]`
    const clip = findClip(event.clip, `${place}.clip`, index, problems)
    checkFrame(event.earliest, clip, `${place}.earliest`, problems)
    checkFrame(event.latest, clip, `${place}.latest`, problems)
    if (event.earliest > event.latest) problems.add(`${place}.latest`, `${event.latest} is before earliest, ${event.earliest}`)
    for (const [which, marking] of Object.entries(event.markings ?? {})) {
      checkFrame(marking.earliest, clip, `${place}.markings.${which}.earliest`, problems)
      checkFrame(marking.latest, clip, `${place}.markings.${which}.latest`, problems)
      if (marking.earliest > marking.latest)
        problems.add(`${place}.markings.${which}.latest`, `${marking.latest} is before earliest, ${marking.earliest}`)
    }
  })
  checkLandmarks(b, index, problems)
  checkMeasures(b.measures ?? [], index, problems)
  checkScript(b, index, problems, options)
  checkClaims(b, index, problems, options)
}

/// The records by id; an id that is met again is a problem.
export function uniqueIds<R extends { readonly id: string }>(records: readonly R[], table: string, problems: ProblemList): Map<string, R> {
  const byId = new Map<string, R>()
  records.forEach((record, i) => {
    if (byId.has(record.id)) problems.add(`${table}[${i}].id`, `${quoted(record.id)} is taken by an earlier entry`)
    else byId.set(record.id, record)
  })
  return byId
}

export const notThere = (table: string, id: string): string => `${table} ${quoted(id)} is not in the document`

export function checkFile(file: string, place: string, problems: ProblemList): void {
  const problem = problemOfFileName(file)
  if (problem) problems.add(place, `${quoted(file)} ${problem}`)
}

/// The clip, or null after noting that it is not there.
export function findClip(id: string, place: string, index: Index, problems: ProblemList): Clip | null {
  const clip = index.clips.get(id)
  if (!clip) problems.add(place, notThere('clip', id))
  return clip ?? null
}

export function checkSubject(id: string, place: string, index: Index, problems: ProblemList): void {
  if (!index.subjects.has(id)) problems.add(place, notThere('subject', id))
}

/// Notes a frame outside its clip. With `end`, the clip's own end is allowed: it is excluded there too.
export function checkFrame(frame: number, clip: Clip | null, place: string, problems: ProblemList, end?: 'end'): void {
  if (!clip) return
  const past = end ? frame > clip.to : frame >= clip.to
  if (frame < clip.from || past) problems.add(place, `${frame} is outside clip ${clip.id} (${clip.from}–${clip.to})`)
}

export function checkOrder(span: { readonly from: number; readonly to: number }, place: string, problems: ProblemList): void {
  if (span.from >= span.to) problems.add(`${place}.to`, `${span.to} is not after from, ${span.from}`)
}

/// A clip whose capture factor comes from another's: that clip and the shared events are there, and
/// no factor comes from itself.
function checkLinks(clips: readonly Clip[], index: Index, problems: ProblemList): void {
  const uses = new Map<string, string[]>()
  clips.forEach((clip, i) => {
    const link = clip.capture === 'unknown' ? undefined : clip.capture.link
    if (!link) return
    const place = `clips[${i}].capture.link`
    const shared = findClip(link.shared, `${place}.shared`, index, problems)
    link.pairs.forEach(([here, there], j) => {
      checkEvent(here, clip, `${place}.pairs[${j}][0]`, index, problems)
      checkEvent(there, shared, `${place}.pairs[${j}][1]`, index, problems)
    })
    uses.set(clip.id, [link.shared])
  })
  clips.forEach((clip, i) => {
    if (goesRound(clip.id, uses)) problems.add(`clips[${i}].capture.link`, `the factor of ${quoted(clip.id)} comes from itself`)
  })
}

function checkViews(b: Breakdown, index: Index, problems: ProblemList): void {
  const spans = new Map<string, { from: number; to: number; at: number }[]>()
  b.views?.forEach((view, i) => {
    const place = `views[${i}]`
    const clip = findClip(view.clip, `${place}.clip`, index, problems)
    checkSubject(view.subject, `${place}.subject`, index, problems)
    checkFrame(view.from, clip, `${place}.from`, problems)
    checkFrame(view.to, clip, `${place}.to`, problems, 'end')
    checkOrder(view, place, problems)
    const key = `${view.clip}/${view.subject}`
    spans.set(key, [...(spans.get(key) ?? []), { from: view.from, to: view.to, at: i }])
  })
  for (const list of spans.values()) {
    list.sort((a, b) => a.from - b.from || a.at - b.at)
    let last = list[0]
    for (const span of list.slice(1)) {
      if (last && span.from < last.to) {
        const [earlier, later] = span.at > last.at ? [last, span] : [span, last]
        problems.add(
          `views[${later.at}]`,
          `its span ${later.from}–${later.to} crosses that of views[${earlier.at}], ${earlier.from}–${earlier.to}`,
        )
      }
      if (!last || span.to > last.to) last = span
    }
  }
}

function checkLandmarks(b: Breakdown, index: Index, problems: ProblemList): void {
  const seen = new Map<string, number>()
  b.landmarks?.forEach((landmark, i) => {
    const place = `landmarks[${i}]`
    const clip = findClip(landmark.clip, `${place}.clip`, index, problems)
    checkSubject(landmark.subject, `${place}.subject`, index, problems)
    const key = `${landmark.clip}/${landmark.subject}/${landmark.point}`
    const earlier = seen.get(key)
    if (earlier !== undefined)
      problems.add(
        `${place}.point`,
        `${landmark.point} of ${landmark.subject} in ${landmark.clip} is given by landmarks[${earlier}] already`,
      )
    else seen.set(key, i)
    let last = -1
    landmark.samples.forEach((sample, j) => {
      checkFrame(sample.frame, clip, `${place}.samples[${j}].frame`, problems)
      if (sample.frame < last)
        problems.add(`${place}.samples[${j}].frame`, `${sample.frame} stands after ${last}; samples go in the order of their frames`)
      last = sample.frame
    })
  })
}

/// Measures are checked by the names of their fields, whatever their kind: `clip`, `subject`,
/// `frame` (of the nearest `clip`), `from`, `to` and `event` (events, of that clip), `measure`,
/// `a` and `b` (measures) and lists of these in the plural.
const fieldRefersTo: Readonly<Record<string, 'clip' | 'subject' | 'event' | 'measure'>> = {
  clip: 'clip',
  subject: 'subject',
  event: 'event',
  events: 'event',
  from: 'event',
  to: 'event',
  measure: 'measure',
  measures: 'measure',
  a: 'measure',
  b: 'measure',
}

/// Notes what measures name that is not there, or lies outside its clip; a measure that builds on itself.
export function checkMeasures(measures: readonly Measure[], index: Index, problems: ProblemList): void {
  const uses = new Map<string, string[]>()
  measures.forEach((measure, i) => {
    const used: string[] = []
    checkMeasureFields(measure, null, `measures[${i}]`, index, used, problems)
    uses.set(measure.id, used)
  })
  measures.forEach((measure, i) => {
    if (goesRound(measure.id, uses)) problems.add(`measures[${i}]`, `measure ${quoted(measure.id)} builds on itself`)
  })
}

function checkMeasureFields(object: object, around: Clip | null, place: string, index: Index, used: string[], problems: ProblemList): void {
  const fields = new Map<string, unknown>(Object.entries(object))
  const named = fields.get('clip')
  const clip = typeof named === 'string' ? findClip(named, `${place}.clip`, index, problems) : around
  for (const [key, value] of fields) {
    const at = placeWithin(place, key)
    const kind = fieldRefersTo[key]
    const refer = (id: string, where: string): void => {
      if (kind === 'subject') checkSubject(id, where, index, problems)
      else if (kind === 'event') checkEvent(id, clip, where, index, problems)
      else if (kind === 'measure') {
        used.push(id)
        if (!index.measures.has(id)) problems.add(where, notThere('measure', id))
      }
    }
    if (typeof value === 'string') refer(value, at)
    else if (typeof value === 'number' && /^(frame|.*Frame)$/.test(key)) checkFrame(value, clip, at, problems)
    else if (Array.isArray(value))
      value.forEach((v: unknown, i) => {
        if (typeof v === 'string') refer(v, placeWithin(at, i))
        else if (typeof v === 'object' && v !== null) checkMeasureFields(v, clip, placeWithin(at, i), index, used, problems)
      })
    else if (typeof value === 'object' && value !== null) checkMeasureFields(value, clip, at, index, used, problems)
  }
}

/// Notes an event that is not there, or belongs to another clip than `clip` (null: any).
export function checkEvent(id: string, clip: Clip | null, place: string, index: Index, problems: ProblemList): void {
  const event = index.events.get(id)
  if (!event) problems.add(place, notThere('event', id))
  else if (clip && event.clip !== clip.id) problems.add(place, `event ${quoted(id)} belongs to clip ${event.clip}, not to ${clip.id}`)
}

function goesRound(start: string, uses: ReadonlyMap<string, readonly string[]>): boolean {
  const seen = new Set<string>()
  const waiting = [...(uses.get(start) ?? [])]
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    if (id === start) return true
    if (seen.has(id)) continue
    seen.add(id)
    waiting.push(...(uses.get(id) ?? []))
  }
  return false
}
