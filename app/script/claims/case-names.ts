import type { Breakdown } from '../../project/breakdown'
import type { Measure } from '../../project/question'
import { ANOTHER, HAPPENING, SIDES } from './english/order-words'
import { EMPTY } from './english/open-words'
import { CASE_LEADS, CASE_NOUNS, DETERMINERS, DIRECTIONS, THROWN } from './english/direction-words'
import type { Word } from './language'
import { rememberedWords } from './remembered-words'
import { shownOrder } from './speaks-of'

/// Where words name one of two measures' cases: whose it is, its clip, what it is called, its event; "the first", "the second".
export interface CaseMention {
  readonly which: 0 | 1
  readonly from: number
  readonly to: number
  /// What it is: somebody's or something's name; "the second"; what is thrown, as what the clause speaks of ("the second right
  /// hand is", and not "in the second right hand the knee is").
  readonly as: 'name' | 'ordinal' | 'thrown'
}

/// The names by which each of two measures can be told from the other, as words.
export function caseNames(
  measures: readonly [Measure, Measure],
  breakdown: Breakdown,
): readonly [readonly (readonly Word[])[], readonly (readonly Word[])[]] {
  const [a, b] = measures.map((measure) => namesOf(measure, breakdown)) as unknown as readonly [readonly string[], readonly string[]]
  const apart = (own: readonly string[], others: readonly string[]): readonly (readonly Word[])[] =>
    own
      .filter((name) => !others.includes(name))
      .map((name) => rememberedWords(name))
      .filter((words) => words.length > 0)
  return [apart(a, b), apart(b, a)]
}

function namesOf(measure: Measure, { subjects, clips, events }: Breakdown): readonly string[] {
  const clip = clips.find(({ id }) => id === measure.clip)
  const parts = [clip?.name, clip?.bout, measure.label].flatMap((name) => name?.split(',') ?? [])
  const subject = 'subject' in measure ? subjects.find(({ id }) => id === measure.subject) : undefined
  const event = 'event' in measure ? events?.find(({ id }) => id === measure.event) : undefined
  return [...parts, ...(subject ? [subject.name, ...subject.name.split(/\s+/u)] : []), ...(event ? [event.name] : [])]
    .map((name) => name.trim().toLowerCase())
    .filter((name) => name !== '' && !ANOTHER.has(name) && !EMPTY.has(name) && name.length > 1)
}

/// Where words name a case; null where they name one that may be another than the two.
export function caseMentions(
  words: readonly Word[],
  measures: readonly [Measure, Measure],
  breakdown: Breakdown,
): readonly CaseMention[] | null {
  const found: CaseMention[] = []
  const names = caseNames(measures, breakdown)
  const ordinals = inFilmOrder(measures, breakdown)
  for (let at = 0; at < words.length; at++) {
    const which = ([0, 1] as const).filter((i) => names[i].some((name) => stands(name, words, at)))
    const [only, both] = which
    if (only !== undefined && both === undefined) {
      const to = at + Math.max(...names[only].filter((name) => stands(name, words, at)).map((name) => name.length))
      found.push({ which: only, from: at, to, as: 'name' })
      at = to - 1
      continue
    }
    if (!ANOTHER.has(words[at]!.text)) continue
    const place = words[at]!.text === 'first' ? 0 : words[at]!.text === 'second' ? 1 : null
    if (place === null || !ordinals || !DETERMINERS.has(words[at - 1]?.text ?? '')) return null
    let to = at + 1
    while (words[to]?.apart === 'no' && SIDES.has(words[to]!.text)) to++
    const noun = words[to]
    const called = noun?.apart === 'no' && CASE_NOUNS.has(noun.root)
    if (noun?.apart === 'no' && !called && !goesOn(noun, measures)) return null
    const within = CASE_LEADS.has(words[at - 2]?.text ?? '') || words[at - 2]?.text === 'than'
    // A film or a bout that is longer or slower is no movement that is.
    if (called && !within && !THROWN.has(noun.root) && noun.root !== 'one') return null
    found.push({ which: place, from: at - 1, to: called ? to + 1 : at + 1, as: called && !within ? 'thrown' : 'ordinal' })
    at = called ? to : at
  }
  return found
}

/// What may follow "the second" without saying which second thing is meant.
const GOING_ON: readonly string[] = ['Determiner', 'Pronoun', 'Possessive', 'Preposition', 'Conjunction', 'Adverb', 'Copula', 'Auxiliary']
function goesOn(word: Word, [{ kind }]: readonly [Measure, Measure]): boolean {
  const { moreUp = [], moreDown = [] } = DIRECTIONS[kind] ?? {}
  return (
    GOING_ON.some((tag) => word.tags.has(tag)) || HAPPENING.has(word.text) || moreUp.includes(word.root) || moreDown.includes(word.root)
  )
}

const stands = (name: readonly Word[], words: readonly Word[], at: number): boolean =>
  name.every((wanted, i) => words[at + i]?.text === wanted.text || words[at + i]?.root === wanted.text)

/// Whether the first of two measures is the first for who sees the film as well: by what they are called, by the frames of one
/// clip, by which clip the script shows first.
export function inFilmOrder([a, b]: readonly [Measure, Measure], breakdown: Breakdown): boolean {
  const called = (measure: Measure, word: RegExp): boolean => word.test(measure.label ?? '')
  if (called(a, /\bsecond\b/iu) || called(b, /\bfirst\b/iu)) return false
  if (a.clip === undefined || b.clip === undefined) return false
  if (a.clip === b.clip) {
    const [x, y] = [startOf(a, breakdown), startOf(b, breakdown)]
    return x !== null && y !== null && x < y
  }
  const order = shownOrder(breakdown)
  return order.indexOf(a.clip) < order.indexOf(b.clip)
}

function startOf(measure: Measure, { events }: Breakdown): number | null {
  if ('frame' in measure) return measure.frame
  if ('fromFrame' in measure) return measure.fromFrame
  return 'from' in measure ? (events?.find(({ id }) => id === measure.from)?.earliest ?? null) : null
}
