import type { Reading } from '../../measure/reading'
import type { Breakdown } from '../../project/breakdown'
import type { Inline, Mark, Paragraph, Shot } from '../../project/picture'
import { sentencesOf } from '../sentences'
import { MISSING_VALUE, type Readings } from '../spoken-form'
import type { Finding } from './finding'
import { typedNumbersOf } from './typed-numbers'
import { CERTAIN, OPEN, ORDERING } from './word-lists'

export type { Finding } from './finding'

/// Open findings on what a script claims, in the script's order. `spoken`, where given, holds the readings as they
/// were when the script or its takes were last confirmed: a value that says something else now is
/// named. Deterministic; never throws on a breakdown that its schema vouches for.
export function findingsOf(breakdown: Breakdown, readings: Readings, spoken?: Readings): Finding[] {
  const findings: Finding[] = []
  for (const [index, entry] of breakdown.script.entries()) {
    if (!('text' in entry)) {
      for (const typed of typedNumbersOf(entry.chapter)) findings.push(typedNumber(`script[${index}].chapter`, '', entry.chapter, typed.text))
      continue
    }
    findings.push(...textFindings(entry, `script[${index}].text`, breakdown, readings, spoken))
    for (const [i, shot] of (entry.shots ?? []).entries()) findings.push(...shotFindings(shot, `script[${index}].shots[${i}]`, entry.id, breakdown, readings))
  }
  return findings
}

/// A sentence of a paragraph with the live values in it.
interface ClaimedSentence {
  /// Live values stand as one character each.
  readonly bare: string
  readonly shown: string
  readonly values: readonly string[]
  readonly cues: readonly string[]
}

const VALUE = '\uFFFC'

function textFindings(paragraph: Paragraph, place: string, breakdown: Breakdown, readings: Readings, spoken: Readings | undefined): Finding[] {
  const events = new Set((breakdown.events ?? []).map((event) => event.id))
  return claimedSentences(paragraph.text, readings).flatMap((sentence) => {
    const found: Finding[] = []
    const add = (code: Finding['code'], problem: string, wayOut: string): void => void found.push({ code, place, paragraph: paragraph.id, sentence: sentence.shown, problem, wayOut })
    for (const typed of typedNumbersOf(sentence.bare)) found.push(typedNumber(place, paragraph.id, sentence.shown, typed.text))
    for (const cue of sentence.cues) if (!events.has(cue)) add('cue-missing', `a cue points to the event ${cue}, which is not there`, 'Mark the event again, or take the cue off the word.')
    for (const id of sentence.values) {
      const reading = readings.get(id)
      if (!reading) {
        add('value-missing', `a live value points to the measure ${id}, which is not there`, 'Measure it again, or take the value out.')
        continue
      }
      if (reading.verdict === 'refused') add('value-refused', `the value of ${id} cannot be given: ${reading.label}`, 'Add what the measure lacks, or say what is seen without a number.')
      const before = spoken?.get(id)
      if (before && before.plate.value !== reading.plate.value) add('value-changed', `the value of ${id} was ${before.plate.value} and is now ${reading.plate.value}`, 'Read the sentence again with the new value, and record its take again.')
      found.push(...strengthFindings(sentence, reading, place, paragraph.id))
    }
    return found
  })
}

function typedNumber(place: string, paragraph: string, sentence: string, text: string): Finding {
  return {
    code: 'typed-number',
    place,
    paragraph,
    sentence,
    problem: `“${text}” is typed, and no reading stands behind it`,
    wayOut: 'Measure it and put the live value in its place, or say it without a number.',
  }
}

const wordIn = (text: string, words: readonly string[]): string | null => words.find((word) => new RegExp(`(?<![\\p{L}])${word}(?![\\p{L}])`, 'iu').test(text)) ?? null

function strengthFindings(sentence: ClaimedSentence, reading: Reading, place: string, paragraph: string): Finding[] {
  const about = { place, paragraph, sentence: sentence.shown }
  const certain = wordIn(sentence.bare, CERTAIN)
  const unsure = reading.verdict === 'range' || (reading.unit === '°' && (reading.U ?? 0) > 20)
  const found: Finding[] = []
  if (certain && unsure) found.push({ ...about, code: 'stronger-than-verdict', problem: `“${certain}” claims more than ${reading.label}`, wayOut: `Leave “${certain}” out, or measure more closely.` })
  const ordering = wordIn(sentence.bare, ORDERING)
  if (reading.kind === 'order' && reading.verdict === 'range' && ordering && !wordIn(sentence.bare, OPEN))
    found.push({ ...about, code: 'stronger-than-verdict', problem: `“${ordering}” puts one event before the other, but their order is not resolved`, wayOut: 'Say that the order cannot be told here, or narrow the events’ brackets.' })
  if (reading.kind === 'by-eye' && !/(?<!\p{L})(?:about|roughly|around|by eye|looks like|estimate)(?!\p{L})/iu.test(sentence.bare) && !/about|by eye/.test(reading.spoken))
    found.push({ ...about, code: 'hedge-missing', problem: 'a value judged by eye stands without “about”', wayOut: 'Say “about”, or measure it.' })
  return found
}

function claimedSentences(inlines: readonly Inline[], readings: Readings): ClaimedSentence[] {
  let bare = ''
  const values: { at: number; id: string }[] = []
  const cues: { at: number; event: string }[] = []
  for (const inline of inlines) {
    if (typeof inline === 'string') bare += inline
    else if ('value' in inline) {
      values.push({ at: bare.length, id: inline.value })
      bare += VALUE
    } else if ('cue' in inline) {
      cues.push({ at: bare.length, event: inline.cue })
      bare += inline.word
    }
  }
  return sentencesOf(bare).map(({ from, to, text }) => {
    const inside = values.filter(({ at }) => at >= from && at < to)
    let next = 0
    return {
      bare: text,
      shown: text.replaceAll(VALUE, () => readings.get(inside[next++]?.id ?? '')?.plate.value ?? MISSING_VALUE).trim(),
      values: inside.map(({ id }) => id),
      cues: cues.filter(({ at }) => at >= from && at < to).map(({ event }) => event),
    }
  })
}

function shotFindings(shot: Shot, place: string, paragraph: string, breakdown: Breakdown, readings: Readings): Finding[] {
  if ('card' in shot) return (shot.lines ?? []).flatMap((line) => typedNumbersOf(line).map((typed) => typedNumber(place, paragraph, line, typed.text)))
  const clips = new Set(breakdown.clips.map((clip) => clip.id))
  const events = new Set((breakdown.events ?? []).map((event) => event.id))
  const found: Finding[] = []
  const missing = (code: 'shot-missing' | 'mark-missing', problem: string, wayOut: string): void => void found.push({ code, place, paragraph, sentence: '', problem, wayOut })
  const shown = 'pair' in shot ? shot.pair.map((member) => member.clip) : ['run' in shot ? shot.run : shot.hold]
  for (const clip of shown) if (!clips.has(clip)) missing('shot-missing', `the shot shows the clip ${clip}, which is not there`, 'Choose another clip, or take the shot out.')
  for (const mark of shot.marks ?? []) {
    const measure = measureOf(mark)
    if (measure !== null && !readings.has(measure)) missing('mark-missing', `a mark shows the measure ${measure}, which is not there`, 'Measure it again, or take the mark off.')
    const event = typeof mark === 'string' ? undefined : mark.on
    if (event !== undefined && !events.has(event)) missing('mark-missing', `a mark waits for the event ${event}, which is not there`, 'Mark the event again, or let the mark stand for the whole shot.')
    if (typeof mark === 'object' && 'word' in mark) for (const typed of typedNumbersOf(mark.word)) found.push(typedNumber(place, paragraph, mark.word, typed.text))
  }
  return found
}

const measureOf = (mark: Mark): string | null => (typeof mark === 'string' ? mark : 'plate' in mark ? mark.plate : null)
