import { countCases } from '../../measure/count'
import { mayCallHabit, phraseFor } from '../../measure/phrase-ladder'
import type { Reading } from '../../measure/reading'
import type { Breakdown } from '../../project/breakdown'
import { measuresIn, type ClaimClass } from '../../project/claim'
import type { Measure } from '../../project/question'
import type { Readings } from '../spoken-form'
import type { FindingCode } from './finding'
import { comparisonStated, isRefusalLeftOpen, orderStated } from './left-open'
import type { RecordNames } from './record-names'
import type { StatedClaim } from './stated-claim'
import { ABOUT, ALL, ALWAYS, CERTAIN, comparedAs, ORDERING, saidIn, USUALLY, wordIn } from './word-lists'

/// `formerly`: the same problem as it was worded by ids (see `FindingDraft`).
export type AddFinding = (code: FindingCode, problem: string, wayOut: string, formerly?: string) => void

/// From this many cases "always" may be said, if all of them showed it [J].
const MANY = 10

/// Where a sentence says more than what it rests on: values that are missing or refused, and words firmer than their
/// verdicts, be they live in the sentence or given as its evidence. What is live says its own verdict where it stands; of
/// what only stands behind the sentence, its words have to.
export function strengthFindings(claim: StatedClaim, breakdown: Breakdown, readings: Readings, names: RecordNames, add: AddFinding): void {
  const { saying } = claim
  for (const id of saying.values) {
    const reading = readings.get(id)
    if (!reading) {
      add('value-missing', `a live value points to the measure ${id}, which is not there`, 'Measure it again, or take the value out.')
      continue
    }
    const refused = (name: string, why: string): string => `the value of ${name} cannot be given: ${why}`
    if (reading.verdict === 'refused')
      add(
        'value-refused',
        refused(names.measure(id), whyRefused(reading)),
        'Add what the measure lacks, or say what is seen without a number.',
        refused(id, reading.label),
      )
    certaintyFindings(saying.bare, reading, add)
    const stated = notResolved(reading) ? orderStated(claim, id, breakdown, readings) : null
    const ordering = stated === null ? null : wordIn(stated, ORDERING)
    if (ordering) orderFinding(`“${ordering}”`, add)
    if (reading.kind === 'by-eye' && !wordIn(saying.bare, ABOUT) && !/about|by eye/.test(reading.spoken))
      add('hedge-missing', 'a value judged by eye stands without “about”', 'Say “about”, or measure it.')
  }
  const behind = [...new Set(claim.evidence.flatMap(measuresIn))].filter((id) => !saying.values.includes(id))
  for (const id of behind) {
    const reading = readings.get(id)
    if (!reading) {
      add(
        'value-missing',
        `it rests on the measure ${id}, which is not there`,
        'Measure it again, or take it away from what the sentence rests on.',
      )
      continue
    }
    const refused = (name: string, why: string): string => `it rests on ${name}, which cannot be given: ${why}`
    const byEye = (name: string): string => `it rests on ${name}, judged by eye, and stands without “about”`
    if (
      reading.verdict === 'refused' &&
      !reading.reasons.includes('views-differ') &&
      !isRefusalLeftOpen(
        saying.bare,
        breakdown.measures?.find((measure) => measure.id === id),
        breakdown,
      )
    )
      add(
        'value-refused',
        refused(names.measure(id), whyRefused(reading)),
        'Add what the measure lacks, rest the sentence on something else, or say that it cannot be told.',
        refused(id, reading.label),
      )
    certaintyFindings(saying.bare, reading, add)
    const stated = notResolved(reading) ? orderStated(claim, id, breakdown, readings) : null
    const ordering = stated === null ? null : wordIn(stated, ORDERING)
    if (stated !== null && (ordering !== null || claim.classes.includes('C')))
      orderFinding(ordering === null ? spoken(claim, 'C') : `“${ordering}”`, add)
    if (reading.kind === 'by-eye' && (claim.classes.includes('B') || claim.classes.includes('E')) && !wordIn(saying.bare, ABOUT))
      add('hedge-missing', byEye(names.measure(id)), 'Say “about”, or measure it.', byEye(id))
  }
  for (const measure of breakdown.measures ?? []) {
    if (!saying.values.includes(measure.id) && !behind.includes(measure.id)) continue
    const reading = readings.get(measure.id)
    if (measure.kind === 'comparison' && reading && claim.classes.includes('E'))
      verdictFindings(claim, reading, comparisonStated(claim, measure, breakdown, readings), add)
    if (measure.kind === 'count') countFindings(saying.bare, measure, breakdown, add)
  }
}

/// A refused reading's label without what it is of.
const whyRefused = ({ label, plate }: Reading): string => (label.startsWith(`${plate.what}: `) ? label.slice(plate.what.length + 2) : label)

const notResolved = ({ kind, verdict }: Reading): boolean => (kind === 'order' || kind === 'peak-order') && verdict === 'range'

const orderFinding = (words: string, add: AddFinding): void =>
  add(
    'stronger-than-verdict',
    `${words} puts one event before the other, but their order is not resolved`,
    'Say that the order cannot be told here, or narrow the events’ brackets.',
  )

/// The words that speak for a class, quoted.
export const spoken = ({ because }: StatedClaim, letter: ClaimClass): string =>
  because.get(letter) ? `“${because.get(letter) ?? ''}”` : 'the sentence'

function certaintyFindings(words: string, reading: Reading, add: AddFinding): void {
  const certain = wordIn(words, CERTAIN)
  const unsure = reading.verdict === 'range' || (reading.unit === '°' && (reading.U ?? 0) > 20)
  if (certain && unsure)
    add('stronger-than-verdict', `“${certain}” claims more than ${reading.label}`, `Leave “${certain}” out, or measure more closely.`)
}

/// What the words say of two readings, against the comparison's verdict on them. `stated`: what of them leaves nothing open.
function verdictFindings(claim: StatedClaim, { reasons }: Reading, stated: string | null, add: AddFinding): void {
  const { bare } = claim.saying
  const said = comparedAs(bare)
  if (reasons.includes('cannot-tell')) {
    const words =
      wordIn(bare, CERTAIN) ??
      (stated === null ? null : ((stated === bare ? null : comparedAs(stated)?.words) ?? spoken(claim, 'E').replace(/[“”]/gu, '')))
    if (words !== null)
      add(
        'stronger-than-verdict',
        `“${words}” says more than the comparison: cannot tell apart at this precision`,
        'Say that the two cannot be told apart here, or measure more closely.',
      )
  } else if (said?.as === 'alike' && reasons.includes('differs')) {
    add(
      'stronger-than-verdict',
      `“${said.words}” says that the two are alike, and the comparison says that they differ`,
      'Say that they differ, or that they are alike by eye, as your view.',
    )
  } else if (said?.as === 'unlike' && reasons.includes('similar')) {
    add(
      'stronger-than-verdict',
      `“${said.words}” says that the two differ, and the comparison says that they are similar`,
      'Say that they are similar, and within what margin.',
    )
  }
}

/// Words for all cases or most, against how many were counted.
function countFindings(words: string, measure: Measure & { readonly kind: 'count' }, breakdown: Breakdown, add: AddFinding): void {
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const { k, n, unusable } = countCases(measure.cases, { clip: (id) => clips.get(id) ?? null })
  if (n === 0) return
  const seen = { k, n, unusable, selectionStated: measure.set.trim() !== '' }
  const way = saidIn(words, USUALLY)
  const every = way ? null : saidIn(words, ALWAYS)
  const all = way || every ? null : saidIn(words, ALL)
  const tooMuch = way
    ? !mayCallHabit(seen) && !wordIn(words, ['looks like']) && way
    : every
      ? (n < MANY || (k < n && !(k === 0 && every === 'never'))) && every
      : k < n && all
  if (!tooMuch) return
  const phrase = phraseFor(seen)
  add(
    'stronger-than-verdict',
    `“${tooMuch}” says more than ${k} of ${n}${unusable > 0 ? ` (${unusable} not usable)` : ''}`,
    `${phrase ? `Say “${phrase}”` : 'Say what was counted'}, or count more cases.`,
  )
}
