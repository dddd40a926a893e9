import type { Breakdown } from '../../project/breakdown'
import type { Claim, ClaimClass, Evidence } from '../../project/claim'
import type { MeasureKind } from '../../project/question'
import type { Readings } from '../spoken-form'
import { HOLDING_CLASSES } from './finding'
import { onlyNames } from './only-names'
import { rememberedClasses, rememberedStrong } from './remembered-classes'
import { sayingsOf, VALUE, type Saying } from './saying'
import { STRONG_CLASSES, type Suggestion } from './suggest-classes'

/// A saying with what it claims. Claims quote words (see `Quoted`), so what edits do to them follows
/// from the words alone: unchanged words, wherever they are moved, keep their claim; changed words
/// keep classes and evidence, to be confirmed anew, and take on what the rules find strong in them; both
/// halves of a split get them; a merge takes the stronger class and all evidence; undoing brings the
/// confirmation back. So does a value that reads again what it read then.
export interface StatedClaim {
  readonly saying: Saying
  /// The first leads.
  readonly classes: readonly [ClaimClass, ...ClaimClass[]]
  readonly evidence: readonly Evidence[]
  /// `to-confirm`: a person stated it of other words, or while its values read otherwise.
  readonly state: 'confirmed' | 'suggested' | 'to-confirm'
  /// Records that it comes from: none for what the rules alone suggest.
  readonly records: readonly Claim[]
  /// Whether its records were stated of other words: what a person said of those is not said of these.
  readonly carried: boolean
  /// Values that read otherwise now than when it was confirmed.
  readonly changed: readonly ValueChange[]
  /// The words that speak for each class, where the rules suggest it.
  readonly because: ReadonlyMap<ClaimClass, string>
  /// Where a person stated of these very words other classes than the rules suggest, and a class that can hold the film
  /// back is not among them; else null.
  readonly byHand: ChangedByHand | null
}

export interface ChangedByHand {
  /// What the rules suggest of the words, the leading class first.
  readonly suggested: readonly [ClaimClass, ...ClaimClass[]]
  /// Who stated it and when, as text; empty where that was not kept.
  readonly by: string
  readonly when: string
}

export interface ValueChange {
  readonly measure: string
  /// As on its plate.
  readonly was: string
  readonly now: string
}

export interface StatedClaims {
  readonly claims: readonly StatedClaim[]
  /// Claims whose words are gone.
  readonly lost: readonly Claim[]
}

const CLASS_OF_KIND: Partial<Record<MeasureKind, ClaimClass>> = {
  'time-between': 'C',
  'frame-count': 'C',
  order: 'C',
  'peak-order': 'C',
  'peak-time': 'C',
  count: 'D',
  comparison: 'E',
}

/// What everything that the film says claims, in the script's order.
export function statedClaims(breakdown: Breakdown, readings: Readings): StatedClaims {
  const sayings = sayingsOf(breakdown, readings)
  const names = onlyNames(breakdown)
  const given = new Map<Saying, Claim[]>()
  const open = new Set(breakdown.claims ?? [])
  const give = (saying: Saying, claim: Claim): void => {
    given.set(saying, [...(given.get(saying) ?? []), claim])
    open.delete(claim)
  }
  const free = (saying: Saying): boolean => !given.has(saying)
  const kinds = new Map((breakdown.measures ?? []).map((measure) => [measure.id, measure.kind]))
  const byPlace = new Map<string, Saying[]>()
  for (const saying of sayings) byPlace.set(placeOf(saying.on), [...(byPlace.get(placeOf(saying.on)) ?? []), saying])
  const exact = new Set<Saying>()

  for (const claim of [...open]) {
    const found = (byPlace.get(placeOf(claim.on)) ?? []).find(
      (saying) => saying.on.words === claim.on.words && (saying.on.nth ?? 0) === (claim.on.nth ?? 0),
    )
    if (found) exact.add(found)
    if (found) give(found, claim)
  }
  // Moved as they are: to another paragraph, or before another of the same words.
  for (const claim of [...open]) {
    const found = sayings.find((saying) => free(saying) && saying.on.part === claim.on.part && saying.on.words === claim.on.words)
    if (found) exact.add(found)
    if (found) give(found, claim)
  }
  const lost = new Set(open)
  for (const claim of [...open]) {
    const near = byPlace.get(placeOf(claim.on)) ?? []
    const changed = [...near, ...sayings.filter((saying) => saying.on.part === claim.on.part && !near.includes(saying))].filter(
      (saying) => !exact.has(saying) && shares(claim.on.words, saying.on.words, near.includes(saying)),
    )
    for (const saying of changed) given.set(saying, [...(given.get(saying) ?? []), claim])
    if (changed.length > 0) lost.delete(claim)
  }
  return {
    claims: sayings.map((saying) => {
      const records = given.get(saying) ?? []
      const of = saying.values.flatMap((id): ClaimClass[] => {
        const kind = kinds.get(id)
        return kind === undefined ? [] : [CLASS_OF_KIND[kind] ?? 'B']
      })
      const spoken = rememberedClasses(saying.bare.replaceAll(VALUE, ' '), of)
      // Who and where somebody is shown is no claim of what they do.
      const suggested: Suggestion = spoken.because.size === 0 && names(saying.bare) ? { ...spoken, classes: ['L'] } : spoken
      const stated = [...new Set(records.flatMap((claim) => claim.classes))]
      const carried = records.length > 1 || (records.length === 1 && !exact.has(saying))
      const brought = carried ? broughtIn(saying, records, suggested.because) : suggested.because
      const more = carried ? STRONG_CLASSES.filter((letter) => brought.has(letter) && !stated.includes(letter)) : []
      const [first, ...rest] = records.length > 1 || more.length > 0 ? merged([...stated, ...more]) : stated
      const changed = carried ? [] : changedValues(records, readings)
      return {
        saying,
        classes: first === undefined ? suggested.classes : [first, ...rest],
        evidence: distinct(records.flatMap((claim) => claim.evidence ?? [])),
        state: records.length === 0 ? 'suggested' : carried || changed.length > 0 ? 'to-confirm' : (records[0]?.state ?? 'suggested'),
        records,
        carried,
        changed,
        because: brought,
        byHand: carried || records.length === 0 ? null : changedByHand(records, stated, suggested.classes),
      }
    }),
    lost: [...lost],
  }
}

const placeOf = (on: Claim['on']): string => `${on.part}/${on.paragraph ?? ''}`

/// Classes that a clause typed to the end of a sentence must not bring in unheard.
const HARMFUL: ReadonlySet<ClaimClass> = new Set<ClaimClass>(['G', 'I', 'J'])

/// What the rules suggest of words that were changed since a person stated them, and causes, minds and injuries that the
/// rules alone find in them and did not find in the words as they were: weights look at a sentence as a whole, and a clause
/// put to the end of a long one is little of it.
function broughtIn(saying: Saying, records: readonly Claim[], suggested: ReadonlyMap<ClaimClass, string>): ReadonlyMap<ClaimClass, string> {
  const before = new Set(records.flatMap(({ on }) => [...rememberedStrong(on.words.replace(/\{[^{}]*\}/gu, ' ')).keys()]))
  const now = [...rememberedStrong(saying.bare.replaceAll(VALUE, ' '))].filter(([letter]) => HARMFUL.has(letter) && !before.has(letter))
  return new Map([...now, ...suggested])
}

function changedByHand(
  [record]: readonly Claim[],
  stated: readonly ClaimClass[],
  suggested: readonly [ClaimClass, ...ClaimClass[]],
): ChangedByHand | null {
  const dropped = suggested.some((letter) => HOLDING_CLASSES.has(letter) && !stated.includes(letter))
  return dropped ? { suggested, by: record?.by ?? '', when: record?.when ?? '' } : null
}

/// A measure that is not there any more, or not read yet, has not changed.
const changedValues = (records: readonly Claim[], readings: Readings): ValueChange[] =>
  records.flatMap(({ state, values }) =>
    (state === 'confirmed' ? (values ?? []) : []).flatMap(({ measure, reads }): ValueChange[] => {
      const now = readings.get(measure)?.plate.value
      return now === undefined || now === reads ? [] : [{ measure, was: reads, now }]
    }),
  )

const distinct = (evidence: readonly Evidence[]): Evidence[] => [...new Map(evidence.map((each) => [JSON.stringify(each), each])).values()]

/// Strongest first, each once.
function merged(classes: readonly ClaimClass[]): ClaimClass[] {
  const rank = (letter: ClaimClass): number => (STRONG_CLASSES.includes(letter) ? STRONG_CLASSES.indexOf(letter) : STRONG_CLASSES.length)
  return [...new Set(classes)].sort((a, b) => rank(a) - rank(b))
}

/// Whether words are so much of each other's that one came from the other: half of the shorter one's,
/// in its own paragraph; all of them, three at least, elsewhere.
function shares(a: string, b: string, near: boolean): boolean {
  const [x, y] = [wordsIn(a), wordsIn(b)]
  const [short, long] = x.length <= y.length ? [x, new Set(y)] : [y, new Set(x)]
  const same = short.filter((word) => long.has(word)).length
  return near ? short.length > 0 && same >= short.length / 2 : short.length >= 3 && same === short.length
}

const wordsIn = (text: string): string[] => text.toLowerCase().match(/[\p{L}\p{N}{}._:-]+/gu) ?? []
