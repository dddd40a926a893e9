import { BODY_PARTS, CASE_NOUNS } from './english/direction-words'
import { BETWEEN, HAPPENING, LEADING_IN, SUPPOSED, UNSTATED } from './english/order-words'
import type { Word } from './language'
import { actOf, mentionsOf, type Mention, type NamedThing } from './named-thing'

/// Whether a clause states what it says: not taken back, supposed, wished for or asked.
export const isStated = (words: readonly Word[]): boolean =>
  !words.some(({ text, root, tags }) => UNSTATED.has(text) || UNSTATED.has(root) || tags.has('Modal') || tags.has('Negative'))

/// Whether a sentence speaks of what somebody thinks, of what is usual, or of another film.
export const isSupposed = (words: readonly Word[]): boolean =>
  words.some(({ text, root }, i) => (SUPPOSED.has(text) || SUPPOSED.has(root)) && !(text === 'look' && i === 0))

export interface SaidOrder {
  /// Which of the two is put first.
  readonly first: 0 | 1
  /// The word that does so.
  readonly word: string
  /// "The hip turns first": the other is not named.
  readonly alone: boolean
}

/// Which of two things a clause puts first; null where it names no order of the two that can be read for sure. The words must be
/// a statement whose every word of order speaks of the two, and whose verbs are what the two do.
export function saidOrder(words: readonly Word[], things: readonly [NamedThing, NamedThing]): SaidOrder | null {
  if (!isStated(words)) return null
  const found = things.map((thing) => mentionsOf(thing, words))
  if (found.some((each) => each.length > 1 || each.includes(null)) || found.every((each) => each.length === 0)) return null
  const mentions = found.map(([mention]) => mention ?? null) as unknown as readonly [Mention | null, Mention | null]
  if (!areTheirActs(words, things, mentions)) return null
  const votes = words.map((_, at) => voteAt(words, at, mentions)).filter((vote) => vote !== undefined)
  const [one] = votes
  if (!one || !votes.every((vote) => vote !== null && vote.first === one.first)) return null
  const [only, other] = mentions[0] ? [mentions[0], mentions[1]] : [mentions[1], mentions[0]]
  if (other || !only) return { ...one, alone: false }
  return words.some((word, at) => BODY_PARTS.has(word.root) && actOf(word) < 0 && (at < only.from || at >= only.to))
    ? null
    : { ...one, alone: true }
}

/// Whether every verb is of the two, and whatever stands between them (and one word behind) has its place in naming an order:
/// "the hip bends before", "the hip moves before the knee and the shoulder" are of other things.
function areTheirActs(words: readonly Word[], things: readonly [NamedThing, NamedThing], mentions: readonly (Mention | null)[]): boolean {
  const acts = new Set(things.flatMap((thing) => [...thing.acts]))
  const named = mentions.flatMap((mention) => mention ?? [])
  const from = Math.min(...named.map((mention) => mention.from))
  const to = Math.max(...named.map((mention) => mention.to))
  return words.every((word, at) => {
    if (named.some((mention) => at >= mention.from && at < mention.to)) return true
    const act = actOf(word)
    if (act >= 0) return acts.has(act)
    if (happens(word) || LEADING_IN.has(word.text) || BETWEEN.has(word.text) || (at < from && CASE_NOUNS.has(word.root))) return true
    const within = at >= from && at <= to && word.apart === 'no'
    return within ? word.tags.has('Adverb') || word.tags.has('Possessive') : !word.tags.has('Verb')
  })
}

const happens = (word: Word): boolean => HAPPENING.has(word.root) || HAPPENING.has(word.text)

type Vote = { readonly first: 0 | 1; readonly word: string }

/// What the word at `at` says of the order: undefined where it is no word of order, null where it is one that is not understood.
function voteAt(words: readonly Word[], at: number, mentions: readonly [Mention | null, Mention | null]): Vote | null | undefined {
  const { text, root } = words[at]!
  if (mentions.some((mention) => mention && at >= mention.from && at < mention.to)) return undefined
  const next = words[at + 1]?.text
  const vote = (first: 0 | 1 | null, word = text): Vote | null => (first === null ? null : { first, word })
  const than = next === 'than'
  switch (text) {
    case 'before':
      return vote(against(words, at + 1, at, mentions, true))
    case 'after':
      return vote(against(words, at + 1, at, mentions, false))
    case 'ahead':
      return next === 'of' ? vote(against(words, at + 2, at, mentions, true), 'ahead of') : null
    case 'earlier':
    case 'sooner':
      return than ? vote(against(words, at + 2, at, mentions, true), `${text} than`) : vote(following(words, at, mentions, true))
    case 'later':
      return than ? vote(against(words, at + 2, at, mentions, false), 'later than') : vote(following(words, at, mentions, false))
    case 'then':
      return vote(following(words, at, mentions, false))
    case 'first':
      return isOrdinal(words, at) ? undefined : vote(standsFirst(words, at, mentions))
    case 'afterwards':
    case 'next':
    case 'last':
    case 'finally':
    case 'together':
    case 'subsequently':
    case 'previously':
    case 'already':
      return null
  }
  if (root === 'follow' || root === 'precede') {
    const by = next === 'by'
    if (root === 'follow' && standsAlone(words, at)) return vote(turned(behind(mentions, at)))
    return vote(against(words, at + (by ? 2 : 1), at, mentions, (root === 'precede') !== by), by ? `${text} by` : text)
  }
  if (text === 'leads' || text === 'led' || (text === 'lead' && behind(mentions, at) !== null)) {
    return vote(next === 'by' ? null : standsAlone(words, at) ? behind(mentions, at) : against(words, at + 1, at, mentions, true))
  }
  return undefined
}

const standsAlone = (words: readonly Word[], at: number): boolean =>
  words[at + 1] === undefined || words[at + 1]!.apart !== 'no' || words[at + 1]!.text === 'and'
/// The mention that ends right before a word.
const behind = (mentions: readonly (Mention | null)[], at: number): 0 | 1 | null =>
  oneOf(mentions.findIndex((mention) => mention?.to === at))
const turned = (which: 0 | 1 | null): 0 | 1 | null => (which === null ? null : which === 0 ? 1 : 0)
const oneOf = (index: number): 0 | 1 | null => (index === 0 || index === 1 ? index : null)

/// "The first", "at first", "in her first": no word of order.
const isOrdinal = (words: readonly Word[], at: number): boolean =>
  /^(?:the|at|a|an|his|her|their|this|that|my|your|its|in|on)$/u.test(words[at - 1]?.text ?? '')

/// The mention that begins at `from` or behind what may lead in to it.
function mentionFrom(
  words: readonly Word[],
  from: number,
  mentions: readonly (Mention | null)[],
  over: (word: Word) => boolean = () => false,
): 0 | 1 | null {
  for (let at = from; at < words.length; at++) {
    const which = mentions.findIndex((mention) => mention?.from === at)
    if (which >= 0) return oneOf(which)
    const word = words[at]!
    if (!LEADING_IN.has(word.text) && !word.tags.has('Possessive') && !over(word)) return null
  }
  return null
}

/// X before Y, or, at the head of the clause, "before Y, X": which of the two is first. `before`: the word puts what it speaks of last.
function against(
  words: readonly Word[],
  from: number,
  at: number,
  mentions: readonly [Mention | null, Mention | null],
  before: boolean,
): 0 | 1 | null {
  const object = mentionFrom(words, from, mentions, (word) => actOf(word) >= 0)
  if (object === null) return null
  const other = object === 0 ? 1 : 0
  const [spoken, subject] = [mentions[object], mentions[other]]
  if (!spoken || !subject) return null
  const apart = words.slice(spoken.to, subject.from + 1).some((word) => word.apart !== 'no')
  if (subject.from > at && !(apart && at <= 2)) return null
  return before ? other : object
}

/// "X, then Y", "X and a moment later Y".
function following(
  words: readonly Word[],
  at: number,
  mentions: readonly [Mention | null, Mention | null],
  earlier: boolean,
): 0 | 1 | null {
  const object = mentionFrom(words, at + 1, mentions, (word) => happens(word) || actOf(word) >= 0)
  if (object === null) return null
  const other = object === 0 ? 1 : 0
  const subject = mentions[other]
  return !subject || subject.from > at ? null : earlier ? object : other
}

/// "First the hip", "the hip first", "the hip turns first".
function standsFirst(words: readonly Word[], at: number, mentions: readonly [Mention | null, Mention | null]): 0 | 1 | null {
  const next = words[at + 1]
  const ends = next === undefined || next.apart !== 'no' || /^(?:and|then|before)$/u.test(next.text)
  const before = mentions.findIndex(
    (mention) =>
      mention &&
      mention.to <= at &&
      words.slice(mention.to, at).every((word) => word.apart === 'no' && (happens(word) || actOf(word) >= 0 || word.text === 'line')),
  )
  const alone = mentions.some((mention) => mention === null)
  // "Landing heel first" is a way to land.
  if (ends && before >= 0) return alone && mentions[before]?.to === at ? null : oneOf(before)
  return !alone && (words[at]!.apart !== 'no' || at === 0)
    ? mentionFrom(words, at + 1, mentions, (word) => happens(word) || actOf(word) >= 0)
    : null
}
