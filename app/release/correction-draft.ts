import { beneathMeasure } from './beneath-measure'
import type { Readings } from '../script/spoken-form'
import type { Breakdown } from '../project/breakdown'
import { settingWords } from '../project/reference'
import type { Correction, Release, Said, SaidEvent, SaidReference, SaidValue } from '../project/release'
import type { ReportedReference } from './reported-reference'

/// What a published version said that no longer holds, and the note that says so.
export interface OvertakenRelease {
  readonly release: Release
  readonly changes: readonly OvertakenChange[]
  /// Ready to be added: dated, in the state "draft". Its id is the caller's to give.
  readonly draft: Omit<Correction, 'id'>
}

export interface OvertakenChange {
  readonly of: 'value' | 'event' | 'reference'
  /// The measure's, event's or reference's id.
  readonly id: string
  readonly was: string
  readonly now: string
  /// Everything that the version said with it or that rested on it, in its order: sentences, captions, labels, takes, chapters.
  readonly said: readonly Said[]
  /// Whether the version gave it in words or on the picture; else what it said only rested on it.
  readonly spoken: boolean
}

/// Every published version that used a value, an event or a reference that is another one now, newest last. What the
/// film said nothing with, and rested nothing on, is left out (a claim whose words were gone before it went out). What its latest
/// correction (published or drafted) has said already is left out; what has changed again since is told from what
/// that correction said. `date` is the note's, ISO 8601 by the day. A value counts as changed when its plate or its
/// verdict differs, an event when its bracket does, a reference when its printed text, its population, its limits or its setting do
/// (`references`: as they are now); one that is gone counts too. `unread`: clips whose
/// film is not there or not read yet; what is measured on them is not judged, for without frame times it reads otherwise.
export function overtakenReleases(
  breakdown: Breakdown,
  readings: Readings,
  date: string,
  unread: ReadonlySet<string> = new Set(),
  references: readonly ReportedReference[] = [],
): OvertakenRelease[] {
  const judged = (value: SaidValue): boolean => !hangsOn(value.measure, unread, breakdown)
  return (breakdown.releases ?? []).flatMap((release) => {
    const told = (breakdown.corrections ?? [])
      .filter((correction) => correction.release === release.id)
      .flatMap((correction) => correction.changes)
    const changes = [
      ...release.values.filter(judged).map((value) => valueNow(value, release, breakdown, readings)),
      ...release.events.map((event) => eventNow(event, release, breakdown)),
      ...(release.references ?? []).map((reference) => referenceNow(reference, release, references)),
    ].flatMap(({ now, ...change }): OvertakenChange[] => {
      if (change.said.length === 0) return []
      const last = told.findLast((each) => each.of === change.of && each.id === change.id)
      if (!last) return now === null ? [] : [{ ...change, now }]
      const today = now ?? `${change.was}, as first published`
      return last.now === today ? [] : [{ ...change, was: last.now, now: today }]
    })
    return changes.length === 0 ? [] : [{ release, changes, draft: draftOf(release, changes, date) }]
  })
}

/// Whether a measure, or one that it builds on, asks about one of these clips.
function hangsOn(id: string, clips: ReadonlySet<string>, breakdown: Breakdown, depth = 0): boolean {
  const measure = breakdown.measures?.find((each) => each.id === id)
  if (!measure || clips.size === 0 || depth > 20) return false
  if (measure.clip !== undefined && clips.has(measure.clip)) return true
  return 'measures' in measure && measure.measures.some((each) => hangsOn(each, clips, breakdown, depth + 1))
}

/// `now` null: as it was published.
type Held = Omit<OvertakenChange, 'now'> & { readonly now: string | null }

function valueNow(value: SaidValue, release: Release, breakdown: Breakdown, readings: Readings): Held {
  const reading = readings.get(value.measure)
  const above = builtOn([value.measure], release, breakdown)
  const said = release.said.filter((each) => each.values?.some((id) => above.has(id)))
  const as = {
    of: 'value' as const,
    id: value.measure,
    was: `${value.value}${value.what === '' ? '' : ` (${value.what})`}`,
    said,
    spoken: wasSpoken('value', value.measure, release),
  }
  if (!reading) return { ...as, now: 'no longer measured' }
  if (reading.plate.value === value.value && reading.verdict === value.verdict) return { ...as, now: null }
  return { ...as, now: `${reading.plate.value}${reading.verdict === value.verdict ? '' : ` (${VERDICTS[reading.verdict]})`}` }
}

/// These measures, and those of the version that build on them.
function builtOn(measures: readonly string[], release: Release, breakdown: Breakdown): Set<string> {
  const above = new Set(measures)
  for (let before = -1; before < above.size;) {
    before = above.size
    for (const { measure } of release.values)
      if (beneathMeasure(measure, release, breakdown).some((id) => above.has(id))) above.add(measure)
  }
  return above
}

/// Whether a version gave a value in words or on its picture; an event's bracket is never spoken, nor what a reference says.
export function wasSpoken(of: string, id: string, release: Release): boolean {
  const value = of === 'value' ? release.values.find(({ measure }) => measure === id) : undefined
  return value !== undefined && release.said.some((each) => gives(each, value))
}

/// Whether words give a value, rather than rest on it: a sentence by its live values; a caption by the value's own text, for
/// it stands for a sentence and its evidence; all else names only what it shows.
function gives(said: Said, { measure, value, spoken }: SaidValue): boolean {
  if (said.as !== 'caption' && (said.as !== 'sentence' || said.on !== undefined))
    return said.as === 'sentence' ? (said.on?.words.includes(`{${measure}}`) ?? false) : (said.values?.includes(measure) ?? false)
  const words = said.words.replaceAll('\n', ' ')
  return [value, spoken].some((text) => text !== '' && words.includes(text))
}

const VERDICTS: Readonly<Record<SaidValue['verdict'], string>> = {
  good: 'measured',
  warned: 'with care',
  range: 'range only',
  refused: 'not measurable',
}

function eventNow(event: SaidEvent, release: Release, breakdown: Breakdown): Held {
  const found = breakdown.events?.find((each) => each.id === event.id)
  const between = (e: Pick<SaidEvent, 'earliest' | 'latest'>): string =>
    e.earliest === e.latest ? `frame ${e.earliest}` : `frames ${e.earliest} to ${e.latest}`
  const measured = builtOn(
    release.values.filter((value) => value.events.includes(event.id)).map((value) => value.measure),
    release,
    breakdown,
  )
  const as = {
    of: 'event' as const,
    id: event.id,
    was: `${event.name}: ${between(event)}`,
    said: release.said.filter((each) => each.events?.includes(event.id) || each.values?.some((id) => measured.has(id))),
    spoken: false,
  }
  if (found && found.clip === event.clip && found.earliest === event.earliest && found.latest === event.latest) return { ...as, now: null }
  return { ...as, now: found ? `${found.name}: ${between(found)}` : 'no longer marked' }
}

function referenceNow(reference: SaidReference, release: Release, references: readonly ReportedReference[]): Held {
  const now = references.find(({ id }) => id === reference.id)
  const told = ({
    text,
    population,
    limits,
    setting = [],
  }: Pick<SaidReference, 'text' | 'population' | 'limits' | 'setting'> | ReportedReference): string =>
    [text, population && `In: ${population}`, limits && `Limits: ${limits}`, setting.length > 0 && `Setting: ${settingWords(setting)}`]
      .filter(Boolean)
      .join(' ')
  const was = told(reference)
  const as = {
    of: 'reference' as const,
    id: reference.id,
    was,
    said: release.said.filter((each) => each.references?.includes(reference.id)),
    spoken: false,
  }
  if (!now) return { ...as, now: 'not among the references any more' }
  return { ...as, now: told(now) === was ? null : told(now) }
}

function draftOf(release: Release, changes: readonly OvertakenChange[], date: string): Omit<Correction, 'id'> {
  const lines = changes.map((change) => {
    const times = timesOf(change.said)
    return `${times.length === 0 ? 'In the film' : `At ${times.map(clock).join(', ')}`}: ${change.spoken ? 'we said' : 'it rested on'} ${change.was}; it is now ${change.now}.`
  })
  return {
    release: release.id,
    date,
    state: 'draft',
    note: [`Correction, ${date}, to “${release.film}” (version ${release.version}, ${release.date}).`, ...lines]
      .join('\n')
      .slice(0, 100_000),
    changes: changes.map((change) => {
      const at = timesOf(change.said)
      return { of: change.of, id: change.id, was: change.was, now: change.now, ...(at.length > 0 ? { at_s: at } : {}) }
    }),
  }
}

/// When sentences (or, where none has a time, anything) said it, each time once.
function timesOf(said: readonly Said[]): number[] {
  const timed = said.filter((each) => each.from_s !== undefined)
  const sentences = timed.filter((each) => each.as === 'sentence')
  return [...new Set((sentences.length > 0 ? sentences : timed).map((each) => each.from_s ?? 0))].sort((a, b) => a - b).slice(0, 1000)
}

const clock = (seconds: number): string => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, '0')}`
