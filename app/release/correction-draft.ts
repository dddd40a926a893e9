import type { Readings } from '../script/spoken-form'
import type { Breakdown } from '../project/breakdown'
import type { Correction, Release, Said, SaidEvent, SaidValue } from '../project/release'

/// What a published version said that no longer holds, and the note that says so.
export interface OvertakenRelease {
  readonly release: Release
  readonly changes: readonly OvertakenChange[]
  /// Ready to be added: dated, in the state "draft". Its id is the caller's to give.
  readonly draft: Omit<Correction, 'id'>
}

export interface OvertakenChange {
  readonly of: 'value' | 'event'
  /// The measure's or event's id.
  readonly id: string
  readonly was: string
  readonly now: string
  /// Everything that the version said with it, in its order: sentences, captions, labels, takes, chapters.
  readonly said: readonly Said[]
}

/// Every published version that used a value or an event that is another one now, newest last. What a
/// correction of that version has said already (published or drafted, the same `now`) is left out.
/// `date` is the note's, ISO 8601 by the day. A value counts as changed when its plate or its verdict
/// differs, an event when its bracket does; a measure or event that is gone counts too.
export function overtakenReleases(breakdown: Breakdown, readings: Readings, date: string): OvertakenRelease[] {
  return (breakdown.releases ?? []).flatMap((release) => {
    const known = (breakdown.corrections ?? []).filter((correction) => correction.release === release.id).flatMap((correction) => correction.changes)
    const changes = [...release.values.flatMap((value) => valueChange(value, release, readings)), ...release.events.flatMap((event) => eventChange(event, release, breakdown))].filter(
      (change) => !known.some((each) => each.of === change.of && each.id === change.id && each.now === change.now),
    )
    if (changes.length === 0) return []
    return [{ release, changes, draft: draftOf(release, changes, date) }]
  })
}

function valueChange(value: SaidValue, release: Release, readings: Readings): OvertakenChange[] {
  const reading = readings.get(value.measure)
  if (reading && reading.plate.value === value.value && reading.verdict === value.verdict) return []
  const now = reading ? `${reading.plate.value}${reading.verdict === value.verdict ? '' : ` (${reading.verdict})`}` : 'no longer measured'
  return [{ of: 'value', id: value.measure, was: `${value.value}${value.what === '' ? '' : ` (${value.what})`}`, now, said: release.said.filter((each) => each.values?.includes(value.measure)) }]
}

function eventChange(event: SaidEvent, release: Release, breakdown: Breakdown): OvertakenChange[] {
  const found = breakdown.events?.find((each) => each.id === event.id)
  if (found && found.clip === event.clip && found.earliest === event.earliest && found.latest === event.latest) return []
  const between = (e: Pick<SaidEvent, 'earliest' | 'latest'>): string => (e.earliest === e.latest ? `frame ${e.earliest}` : `frames ${e.earliest} to ${e.latest}`)
  const measured = new Set(release.values.filter((value) => value.events.includes(event.id)).map((value) => value.measure))
  const said = release.said.filter((each) => each.events?.includes(event.id) || each.values?.some((id) => measured.has(id)))
  return [{ of: 'event', id: event.id, was: `${event.name}: ${between(event)}`, now: found ? `${found.name}: ${between(found)}` : 'no longer marked', said }]
}

function draftOf(release: Release, changes: readonly OvertakenChange[], date: string): Omit<Correction, 'id'> {
  const lines = changes.map((change) => {
    const times = timesOf(change.said)
    return `${times.length === 0 ? 'In the film' : `At ${times.map(clock).join(', ')}`}: we said ${change.was}; it is now ${change.now}.`
  })
  return {
    release: release.id,
    date,
    state: 'draft',
    note: [`Correction, ${date}, to “${release.film}” (version ${release.version}, ${release.date}).`, ...lines].join('\n').slice(0, 100_000),
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
