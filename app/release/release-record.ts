import type { DrawContext } from '../marks/draw-context'
import { reasons as reasonTable, type ReasonCode } from '../measure/reason'
import type { Reading } from '../measure/reading'
import type { Caption } from '../programme/caption'
import type { Programme } from '../programme/programme'
import type { TimedSentence } from '../programme/sentence-time'
import type { Breakdown } from '../project/breakdown'
import { measuresIn, type Claim, type ClaimClass, type Evidence } from '../project/claim'
import type { Measure } from '../project/question'
import type { Release, ReleasedFile, Said, SaidEvent, SaidReference, SaidValue } from '../project/release'
import { filmLabels, wordsOf } from '../safety/film-label'
import type { StatedClaim } from '../script/claims/stated-claim'
import { headingValues } from '../script/heading-text'
import { placedValues, spokenText } from '../script/spoken-form'
import { toNumber } from '../time/rational'
import { secondsOf } from '../time/ticks'
import { bracketFrames, eventsOfMeasure, framesOfMeasure, type EvidenceStill } from './evidence-still'
import type { ReportedReference } from './reported-reference'
import { oneLine } from './plain-text'

/// What a sentence is taken to claim: what a person confirmed, or stated of words that it came from (`to-confirm`), else
/// what the rules suggest.
export interface SentenceClass {
  readonly classes: readonly ClaimClass[]
  readonly state: StatedClaim['state']
  readonly evidence: readonly Evidence[]
  readonly byHand: StatedClaim['byHand']
}

export interface ReleaseInput {
  readonly breakdown: Breakdown
  readonly programme: Programme
  readonly readings: ReadonlyMap<string, Reading>
  readonly sentences: readonly TimedSentence[]
  readonly captions: readonly Caption[]
  readonly context: DrawContext
  readonly classOf: (sentence: TimedSentence) => SentenceClass | null
  readonly stills: readonly EvidenceStill[]
  /// Names of the stills' files by the stills' names, as they lie in the release's folder.
  readonly stillFile: (still: EvidenceStill) => string
  readonly id: string
  readonly version: string
  /// ISO 8601, by the day.
  readonly date: string
  readonly where?: string | undefined
  readonly projectVersion: number
  readonly files: readonly ReleasedFile[]
  /// References as they are printed.
  readonly references: readonly ReportedReference[]
  readonly footageSha256: ReadonlyMap<string, string>
  readonly document?: string | undefined
  readonly description?: string | undefined
}

/// What a film's evidence must hold: every measure and event that its words, pictures and claims use, and those beneath them.
export function evidenceNeeds(
  breakdown: Breakdown,
  sentences: readonly TimedSentence[],
  classOf: ReleaseInput['classOf'],
): { measures: Set<string>; events: Set<string>; claims: Claim[] } {
  const known = new Map((breakdown.measures ?? []).map((measure) => [measure.id, measure]))
  const measures = new Set<string>()
  const events = new Set<string>()
  const claims = [...(breakdown.claims ?? [])]
  const take = (id: string): void => {
    const measure = known.get(id)
    if (!measure || measures.has(id)) return
    measures.add(id)
    for (const event of eventsOfMeasure(measure)) events.add(event)
    if ('measures' in measure) measure.measures.forEach(take)
  }
  const rests = (evidence: readonly Evidence[]): void => {
    for (const each of evidence) {
      if (typeof each !== 'object') continue
      if ('reading' in each) take(each.reading)
      else if ('readings' in each) each.readings.forEach(take)
      else if ('count' in each) take(each.count)
      else if ('events' in each) for (const event of each.events) events.add(event)
    }
  }
  for (const sentence of sentences) {
    sentence.values.forEach(take)
    for (const event of sentence.events) events.add(event)
    rests(classOf(sentence)?.evidence ?? [])
  }
  for (const row of breakdown.script)
    if ('chapter' in row) headingValues(row).forEach(take)
    else
      for (const shot of row.shots ?? []) {
        if ('card' in shot && shot.card === 'curve') [shot.measure, ...(shot.beside === undefined ? [] : [shot.beside])].forEach(take)
        for (const mark of 'marks' in shot ? (shot.marks ?? []) : [])
          take(typeof mark === 'string' ? mark : 'plate' in mark ? mark.plate : '')
      }
  for (const claim of claims) rests(claim.evidence ?? [])
  return { measures, events, claims }
}

/// A published version of a film, frozen: everything in it is a copy.
export function releaseRecord(input: ReleaseInput): Release {
  const { breakdown, readings, sentences, classOf } = input
  const needs = evidenceNeeds(breakdown, sentences, classOf)
  const measures = new Map((breakdown.measures ?? []).map((measure) => [measure.id, measure]))
  const said = [...spoken(input), ...shown(input), ...around(input)]
  const cited = new Set(said.flatMap(({ references = [] }) => references))
  const used = new Set(
    input.programme.shots.flatMap(({ panels }) => panels.map(({ clip }) => clip)).concat(input.stills.map(({ clip }) => clip)),
  )
  return {
    id: input.id,
    film: oneLine(breakdown.title),
    version: oneLine(input.version),
    date: input.date,
    ...(input.where ? { where: oneLine(input.where) } : {}),
    project: input.projectVersion,
    ...(input.document ? { document: input.document } : {}),
    files: [...input.files],
    footage: breakdown.footage.map(({ id, file, source }) => ({
      id,
      file: oneLine(file),
      ...(input.footageSha256.has(id) ? { sha256: input.footageSha256.get(id)! } : {}),
      ...(sourceLine(source) ? { source: sourceLine(source) } : {}),
    })),
    clips: breakdown.clips
      .filter(({ id }) => used.has(id))
      .map(({ id, name, footage }) => ({ id, name: oneLine(name ?? '') || id, footage })),
    references: input.references.filter(({ id }) => cited.has(id)).map(saidReference),
    values: [...needs.measures].flatMap((id) => {
      const [reading, measure] = [readings.get(id), measures.get(id)]
      return reading && measure ? [saidValue(reading, measure)] : []
    }),
    events: (breakdown.events ?? [])
      .filter((event) => needs.events.has(event.id))
      .map(({ id, clip, name, earliest, latest }): SaidEvent => ({ id, clip, name, earliest, latest })),
    said,
  }
}

const sourceLine = (source: Breakdown['footage'][number]['source']): string =>
  [source?.credit ?? source?.owner, source?.where, source?.when]
    .map((part) => oneLine(part ?? ''))
    .filter(Boolean)
    .join(', ')
    .slice(0, 1000)

/// A reference as a version keeps it: what is not noted is not there.
const saidReference = ({ id, text, finding, population, limits, setting }: ReportedReference): SaidReference => ({
  id,
  text,
  ...(finding ? { finding } : {}),
  ...(population ? { population } : {}),
  ...(limits ? { limits } : {}),
  ...(setting.length > 0 ? { setting: [...setting] } : {}),
})

function saidValue(reading: Reading, measure: Measure): SaidValue {
  return {
    measure: reading.id,
    kind: reading.kind,
    value: oneLine(reading.plate.value),
    what: oneLine(reading.plate.what),
    spoken: oneLine(reading.spoken),
    verdict: reading.verdict,
    number: reading.value,
    U: reading.U,
    low: reading.low,
    high: reading.high,
    unit: reading.unit,
    clip: reading.clip,
    frame: reading.frame ?? framesOfMeasure(measure)[0]?.frame ?? null,
    parts: reading.parts.slice(0, 100).map(({ name, U, key }) => ({ name, U, ...(key === undefined ? {} : { key }) })),
    reasons: reading.reasons.map((code) => reasonTable[code as ReasonCode]?.wording ?? code),
    events: eventsOfMeasure(measure).slice(0, 20),
    ...('measures' in measure ? { measures: [...measure.measures] } : {}),
  }
}

const WORDS_MOST = 20_000
const cut = (text: string): string => (text.length <= WORDS_MOST ? text : `${text.slice(0, WORDS_MOST - 1)}…`)

function spoken(input: ReleaseInput): Said[] {
  const takes = new Map(input.programme.paragraphs.map((paragraph) => [paragraph.id, paragraph.take]))
  const sentences = input.sentences.map((sentence): Said => {
    const claim = input.classOf(sentence)
    const measures = measuresOf(sentence, claim)
    const events = [
      ...new Set([
        ...sentence.events,
        ...(claim?.evidence ?? []).flatMap((e) => (typeof e === 'object' && 'events' in e ? e.events : [])),
        ...(input.breakdown.measures ?? []).filter((m) => measures.includes(m.id)).flatMap(eventsOfMeasure),
      ]),
    ]
    const references = [
      ...new Set([
        ...sentence.references,
        ...(claim?.evidence ?? []).flatMap((e) => (typeof e === 'object' && 'reference' in e ? [e.reference] : [])),
      ]),
    ]
    const stills = stillsOf(input, measures, events, claim?.evidence ?? [])
    const take = takes.get(sentence.paragraph)
    return {
      as: 'sentence',
      words: cut(sentence.shown),
      from_s: sentence.from_s,
      to_s: sentence.to_s,
      paragraph: sentence.paragraph,
      ...(sentence.words
        ? {
            on: {
              part: 'sentence',
              paragraph: sentence.paragraph,
              words: cut(sentence.words),
              ...(sentence.nth > 0 ? { nth: sentence.nth } : {}),
            },
          }
        : {}),
      ...(claim ? { classes: [...claim.classes], evidence: [...claim.evidence] } : {}),
      ...(claim?.byHand ? { byHand: { ...claim.byHand, suggested: [...claim.byHand.suggested] } } : {}),
      ...listed({ values: measures, events, references, stills }),
      ...(take ? { take } : {}),
    }
  })
  const rows = new Map(input.breakdown.script.flatMap((row) => ('text' in row ? [[row.id, row] as const] : [])))
  const captions = input.captions.map((caption): Said => {
    const [from_s, to_s] = [toNumber(secondsOf(caption.from)), toNumber(secondsOf(caption.to))]
    const words = caption.lines.join('\n')
    const [row, line] = [rows.get(caption.paragraph), caption.lines.join(' ')]
    const there = (row ? placedValues(row, input.readings) : []).flatMap(({ value, shown }) =>
      [shown, input.readings.get(value)?.plate.value].some((text) => text && line.includes(oneLine(text))) ? [value] : [],
    )
    const under = input.sentences.flatMap((s, i) =>
      s.paragraph === caption.paragraph && s.from_s < to_s && s.to_s > from_s ? [{ live: s.values, said: sentences[i] }] : [],
    )
    const values = under.flatMap(({ live, said }) => (said?.values ?? []).filter((id) => there.includes(id) || !live.includes(id)))
    return {
      as: 'caption',
      words: cut(words),
      from_s,
      to_s,
      paragraph: caption.paragraph,
      ...listed({ values: [...new Set(values)], events: [...new Set(under.flatMap(({ said }) => said?.events ?? []))] }),
    }
  })
  const said = input.breakdown.script.flatMap((row): Said[] => {
    if (!('text' in row) || row.take === undefined || row.text.length === 0) return []
    const laid = input.programme.paragraphs.find((paragraph) => paragraph.id === row.id)
    const values = row.text.flatMap((inline) => (typeof inline === 'object' && 'value' in inline ? [inline.value] : []))
    return [
      {
        as: 'take',
        words: cut(spokenText(row, input.readings)),
        paragraph: row.id,
        take: row.take,
        ...(laid ? { from_s: toNumber(secondsOf(laid.words.from)), to_s: toNumber(secondsOf(laid.words.to)) } : {}),
        ...listed({ values: [...new Set(values)] }),
      },
    ]
  })
  return [...sentences, ...captions, ...said]
}

function measuresOf(sentence: TimedSentence, claim: SentenceClass | null): string[] {
  return [...new Set([...sentence.values, ...(claim?.evidence ?? []).flatMap(measuresIn)])]
}

/// Stills of measures and what they build on, of events' brackets and of named frames.
function stillsOf(input: ReleaseInput, measures: readonly string[], events: readonly string[], evidence: readonly Evidence[]): string[] {
  const known = new Map((input.breakdown.measures ?? []).map((measure) => [measure.id, measure]))
  const within = new Set<string>()
  const take = (id: string): void => {
    const measure = known.get(id)
    if (!measure || within.has(id)) return
    within.add(id)
    if ('measures' in measure) measure.measures.forEach(take)
  }
  measures.forEach(take)
  const wanted = (still: EvidenceStill): boolean => {
    if (still.measure !== null) return within.has(still.measure)
    if (evidence.some((e) => typeof e === 'object' && 'frame' in e && e.clip === still.clip && e.frame === still.frame)) return true
    return (input.breakdown.events ?? []).some(
      (event) => events.includes(event.id) && event.clip === still.clip && bracketFrames(event).includes(still.frame),
    )
  }
  return input.stills.filter(wanted).map(input.stillFile)
}

function shown(input: ReleaseInput): Said[] {
  const rate = toNumber(input.programme.rate)
  const values = [...input.readings.values()]
  return filmLabels(input.programme, input.context).flatMap((label): Said[] => {
    const words = label.texts.map((text) => text.text).join(' ')
    const time = { from_s: label.from / rate, to_s: label.to / rate }
    if (label.kind === 'card')
      return [{ as: 'card', words: cut(words), ...time, ...(label.measure === null ? {} : listed({ values: [label.measure] })) }]
    if (label.kind === 'name') return [{ as: 'name', words: cut(words), ...time }]
    if (label.kind !== 'value' && label.kind !== 'word') return []
    const own = label.measure === null ? [] : values.filter((reading) => reading.id === label.measure).map((reading) => reading.id)
    return [{ as: 'label', words: cut(words || wordsOf(label)), ...time, ...listed({ values: own }) }]
  })
}

function around(input: ReleaseInput): Said[] {
  const rate = toNumber(input.programme.rate)
  const { chapters } = input.programme
  return [
    { as: 'title', words: cut(input.breakdown.title) },
    ...chapters.map(({ title, frame, values }, i): Said => ({
      as: 'chapter',
      words: cut(title),
      from_s: frame / rate,
      to_s: (chapters[i + 1]?.frame ?? input.programme.frames) / rate,
      ...listed({ values: [...values] }),
    })),
    ...(input.description ? [{ as: 'description', words: cut(input.description) } as const] : []),
  ]
}

/// Only lists that hold something.
const listed = <L extends Readonly<Record<string, readonly string[]>>>(lists: L): { [K in keyof L]?: string[] } =>
  Object.fromEntries(Object.entries(lists).flatMap(([key, list]) => (list.length > 0 ? [[key, [...list].slice(0, 1000)]] : []))) as {
    [K in keyof L]?: string[]
  }
