import type { Breakdown } from '../../project/breakdown'
import type { Mark, Paragraph, Shot } from '../../project/picture'
import { heardWords } from '../pauses'
import { olderValues } from '../older-take'
import type { Readings } from '../spoken-form'
import type { SharedByFilm } from '../../project/shared-pictures'
import { claimFindings } from './claim-findings'
import { countedTwice } from './counted-twice'
import { goneClaimFindings } from './gone-claims'
import { directionFindings } from './direction-findings'
import { withOverride, type Finding, type FindingDraft } from './finding'
import { orderFindings } from './order-findings'
import { recordNames, type RecordNames } from './record-names'
import { referenceFindings } from './reference-findings'
import { isSlow, speedFindings } from './speed-findings'
import { statedClaims, type StatedClaim } from './stated-claim'
import { strengthFindings, type AddFinding } from './strength-findings'
import { typedNumbersOf } from './typed-numbers'

export type { Finding } from './finding'

/// Findings on what a film says and shows, in the script's order, those that are let stand included.
/// `shared`: what films show that earlier ones show as well. Deterministic; never throws on a breakdown that its
/// schema vouches for.
export function findingsOf(breakdown: Breakdown, readings: Readings, shared: SharedByFilm = new Map()): Finding[] {
  const stated = statedClaims(breakdown, readings)
  const { claims } = stated
  const names = recordNames(breakdown, readings)
  const byPlace = new Map<string, StatedClaim[]>()
  for (const claim of claims) {
    const row = claim.saying.place.split('.')[0] ?? ''
    byPlace.set(row, [...(byPlace.get(row) ?? []), claim])
  }
  const of = (row: string): FindingDraft[] =>
    (byPlace.get(row) ?? []).flatMap((claim) => [
      ...sayingFindings(claim, breakdown, readings, names),
      ...countedTwice(claim, breakdown, shared),
    ])
  const drafts = [...of('title'), ...of('question')]
  for (const [index, row] of breakdown.script.entries()) {
    drafts.push(...of(`script[${index}]`))
    if ('chapter' in row) continue
    drafts.push(...takeFindings(row, index, readings, names))
    for (const [i, shot] of (row.shots ?? []).entries())
      drafts.push(...shotFindings(shot, `script[${index}].shots[${i}]`, row.id, breakdown, readings))
  }
  drafts.push(...speedFindings(breakdown), ...goneClaimFindings(stated))
  return drafts.map((draft) => withOverride(draft, breakdown.overrides ?? []))
}

function sayingFindings(claim: StatedClaim, breakdown: Breakdown, readings: Readings, names: RecordNames): FindingDraft[] {
  const { saying } = claim
  const events = new Set((breakdown.events ?? []).map((event) => event.id))
  const found: FindingDraft[] = []
  const add: AddFinding = (code, problem, wayOut, formerly) =>
    void found.push({
      code,
      place: saying.place,
      paragraph: saying.paragraph,
      sentence: saying.shown,
      problem,
      wayOut,
      on: saying.on,
      ...(formerly === undefined ? {} : { formerly }),
    })
  for (const typed of typedNumbersOf(saying.bare))
    add(
      'typed-number',
      `“${typed.text}” is typed, and no reading stands behind it`,
      'Measure it and put the live value in its place, or say it without a number.',
    )
  for (const cue of saying.cues)
    if (!events.has(cue))
      add('cue-missing', `a cue points to the event ${cue}, which is not there`, 'Mark the event again, or take the cue off the word.')
  for (const { measure, was, now } of claim.changed) {
    const problem = (name: string): string => `the value of ${name} was ${was} when this was confirmed, and is now ${now}`
    add('value-changed', problem(names.measure(measure)), 'Read the sentence again with the new value and confirm it.', problem(measure))
  }
  strengthFindings(claim, breakdown, readings, names, add)
  orderFindings(claim, breakdown, readings, add)
  directionFindings(claim, breakdown, readings, names, add)
  referenceFindings(claim, breakdown, add)
  const typed = found.some(({ code }) => code === 'typed-number')
  return [
    ...found,
    ...claimFindings(claim, breakdown, readings, isSlow(breakdown, saying.paragraph)).filter(
      (each) => !(typed && (each.code === 'not-measured' || each.code === 'order-open')),
    ),
  ]
}

/// A take that says a value which is another one now, by the words it was recorded with; and one whose words are not known
/// though it should say values.
function takeFindings(paragraph: Paragraph, index: number, readings: Readings, names: RecordNames): FindingDraft[] {
  const values = [...new Set(paragraph.text.flatMap((inline) => (typeof inline === 'object' && 'value' in inline ? [inline.value] : [])))]
  const unread = (called: string): string => `what this take says is not known, so its values are not checked: ${called}`
  if (paragraph.take !== undefined && paragraph.narration?.words === undefined && values.length > 0)
    return [
      {
        code: 'take-unread',
        place: `script[${index}].take`,
        paragraph: paragraph.id,
        sentence: '',
        problem: unread(values.map(names.measure).join('; ')),
        formerly: unread(values.join(', ')),
        wayOut: 'Listen whether it says them as they are now, or record the paragraph here.',
        on: null,
      },
    ]
  const older = (name: string, now: string, said: string): string =>
    `the take does not say the value of ${name} as it is now, ${now} (“${said}”)`
  return olderValues(paragraph, readings).map(({ value, said, reading }) => ({
    code: 'take-older',
    place: `script[${index}].take`,
    paragraph: paragraph.id,
    sentence: heardWords(paragraph.narration ?? {}).join(' '),
    problem: older(names.measure(value), reading.plate.value, said),
    formerly: older(value, reading.plate.value, said),
    wayOut: 'Record the paragraph again.',
    on: null,
  }))
}

function shotFindings(shot: Shot, place: string, paragraph: string, breakdown: Breakdown, readings: Readings): FindingDraft[] {
  if ('card' in shot)
    return shot.card !== 'curve'
      ? []
      : [shot.measure, ...(shot.beside === undefined ? [] : [shot.beside])]
          .filter((id) => !readings.has(id))
          .map((id): FindingDraft => ({
            code: 'mark-missing',
            place,
            paragraph,
            sentence: '',
            problem: `a card shows the curve of the measure ${id}, which is not there`,
            wayOut: 'Measure it again, or take the card out.',
            on: null,
          }))
  const clips = new Set(breakdown.clips.map((clip) => clip.id))
  const events = new Set((breakdown.events ?? []).map((event) => event.id))
  const found: FindingDraft[] = []
  const missing = (code: 'shot-missing' | 'mark-missing', problem: string, wayOut: string): void =>
    void found.push({ code, place, paragraph, sentence: '', problem, wayOut, on: null })
  const shown = 'pair' in shot ? shot.pair.map((member) => member.clip) : ['run' in shot ? shot.run : shot.hold]
  for (const clip of shown)
    if (!clips.has(clip))
      missing('shot-missing', `the shot shows the clip ${clip}, which is not there`, 'Choose another clip, or take the shot out.')
  for (const mark of shot.marks ?? []) {
    const measure = measureOf(mark)
    if (measure !== null && !readings.has(measure))
      missing('mark-missing', `a mark shows the measure ${measure}, which is not there`, 'Measure it again, or take the mark off.')
    const event = typeof mark === 'string' ? undefined : mark.on
    if (event !== undefined && !events.has(event))
      missing(
        'mark-missing',
        `a mark waits for the event ${event}, which is not there`,
        'Mark the event again, or let the mark stand for the whole shot.',
      )
  }
  return found
}

const measureOf = (mark: Mark): string | null => (typeof mark === 'string' ? mark : 'plate' in mark ? mark.plate : null)
