import type { Breakdown } from '../project/breakdown'
import type { ClaimClass, Evidence } from '../project/claim'
import type { Release } from '../project/release'
import { eventsOfMeasure, evidenceStills, type EvidenceStill } from './evidence-still'

/// One thing that a sentence rests on, as the project has it now.
export interface Support {
  readonly of: 'value' | 'event' | 'frame' | 'reference' | 'film' | 'view'
  /// Of the measure, event or reference; of a frame, its clip's; else empty.
  readonly id: string
  /// The evidence that names it; null where the words themselves do, or what it is beneath.
  readonly evidence: Evidence | null
  /// What of the sentence's it stands beneath: the measure that is built on it or lies between it and another; null: nothing.
  readonly beneath: string | null
  /// It is named and is not there any more.
  readonly gone: boolean
  /// Its pictures: a measure's own frame with its lines, both ends of an event's bracket.
  readonly stills: readonly EvidenceStill[]
}

interface Resting {
  readonly values: readonly string[]
  readonly cites: readonly string[]
  readonly evidence: readonly Evidence[]
}

/// Everything that a sentence rests on, each thing once: the values in its words and what was stated beneath them, each
/// followed by what it is built on; then references, earlier films and that it is the analyst's view.
export function supportsOf({ values, cites, evidence }: Resting, breakdown: Breakdown): Support[] {
  const measures = new Map((breakdown.measures ?? []).map((measure) => [measure.id, measure]))
  const events = new Set((breakdown.events ?? []).map(({ id }) => id))
  const clips = new Set(breakdown.clips.map(({ id }) => id))
  const references = new Set((breakdown.references ?? []).map(({ id }) => id))
  const found = new Map<string, Support>()
  const add = (of: Support['of'], id: string, by: Evidence | null, rest: Pick<Support, 'beneath' | 'gone' | 'stills'>): boolean => {
    const key = of === 'frame' || of === 'film' ? JSON.stringify(by) : `${of}/${id}`
    const known = found.get(key)
    if (!known) found.set(key, { of, id, evidence: by, ...rest })
    else if (known.evidence === null && by !== null) found.set(key, { ...known, evidence: by, beneath: null })
    return !known
  }
  const stills = (needs: { measure?: string; event?: string; frame?: { clip: string; frame: number } }): EvidenceStill[] =>
    evidenceStills(breakdown, {
      measures: new Set(needs.measure === undefined ? [] : [needs.measure]),
      events: new Set(needs.event === undefined ? [] : [needs.event]),
      claims: needs.frame
        ? [{ id: 'frame', on: { part: 'title', words: '-' }, classes: ['A'], state: 'suggested', evidence: [needs.frame] }]
        : [],
    })
  const addEvent = (id: string, by: Evidence | null, beneath: string | null): boolean =>
    add('event', id, by, { beneath, gone: !events.has(id), stills: stills({ event: id }) })
  const addValue = (id: string, by: Evidence | null, beneath: string | null): void => {
    const measure = measures.get(id)
    if (!add('value', id, by, { beneath, gone: !measure, stills: stills({ measure: id }) }) || !measure) return
    if ('measures' in measure) for (const each of measure.measures) addValue(each, null, id)
    for (const event of eventsOfMeasure(measure)) addEvent(event, null, id)
  }
  for (const id of values) addValue(id, null, null)
  for (const each of evidence) {
    if (each === 'opinion') continue
    if ('reading' in each) addValue(each.reading, each, null)
    else if ('readings' in each) for (const id of each.readings) addValue(id, each, null)
    else if ('count' in each) addValue(each.count, each, null)
    else if ('events' in each) for (const id of each.events) addEvent(id, each, null)
    else if ('frame' in each) add('frame', each.clip, each, { beneath: null, gone: !clips.has(each.clip), stills: stills({ frame: each }) })
  }
  for (const id of cites) add('reference', id, null, { beneath: null, gone: !references.has(id), stills: [] })
  for (const each of evidence) {
    if (each === 'opinion') add('view', '', each, { beneath: null, gone: false, stills: [] })
    else if ('reference' in each)
      add('reference', each.reference, each, { beneath: null, gone: !references.has(each.reference), stills: [] })
    else if ('film' in each) add('film', '', each, { beneath: null, gone: false, stills: [] })
  }
  return [...found.values()]
}

/// A sentence's evidence without one of the things that it rests on: one of several events alone, two readings together.
export const withoutSupport = (evidence: readonly Evidence[], { of, id, evidence: by }: Support): Evidence[] =>
  evidence.flatMap((each) => {
    if (JSON.stringify(each) !== JSON.stringify(by)) return [each]
    if (of !== 'event' || each === 'opinion' || !('events' in each) || each.events.length < 2) return []
    return [{ events: each.events.filter((event) => event !== id) }]
  })

/// What each class asks for, in words; null: nothing has to stand behind it.
const WANTED: Readonly<Record<ClaimClass, string | null>> = {
  A: 'a frame that shows it',
  B: 'a reading of what it measures',
  C: 'two events whose brackets lie apart, or a value between them',
  D: 'a count over a stated set',
  E: 'a comparison of two readings',
  F: 'a reference, with whom it holds for and how far',
  G: 'a reference, with words as careful as it is, or that it is your view',
  H: null,
  I: 'that it is your view',
  J: 'a public medical statement, as a reference',
  K: 'the earlier film, and the time in it',
  L: null,
  M: null,
}

/// What is missing behind a sentence of these classes that rests on nothing, in words; empty where nothing has to stand
/// behind it.
export const wantedBehind = (classes: readonly ClaimClass[]): string[] => classes.flatMap((letter) => WANTED[letter] ?? [])

/// A still that a published version kept.
export interface KeptStill {
  readonly release: Release
  readonly name: string
  /// Second of the film's own time at which it stands, where the version kept it.
  readonly at_s: number | undefined
}

/// The same picture as some version kept it, the latest first, for when its film is not there; null where none did.
export function keptStill(still: EvidenceStill, breakdown: Pick<Breakdown, 'releases' | 'clips' | 'footage'>): KeptStill | null {
  const clip = breakdown.clips.find(({ id }) => id === still.clip)
  const sha256 = breakdown.footage.find(({ id }) => id === clip?.footage)?.sha256
  for (const release of [...(breakdown.releases ?? [])].reverse()) {
    const file = release.files.find(
      ({ name, still: kept }) =>
        kept?.clip === still.clip &&
        kept.frame === still.frame &&
        (kept.footageSha256 === undefined || sha256 === undefined || kept.footageSha256 === sha256) &&
        name.endsWith(`/${still.name}.jpg`),
    )
    if (file) return { release, name: file.name, at_s: file.still?.at_s }
  }
  return null
}
