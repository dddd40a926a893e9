import type { Breakdown } from '../../project/breakdown'
import type { Measure, MeasureKind } from '../../project/question'
import type { Readings } from '../spoken-form'
import { bodyNamed, isTrunk } from './body-words'
import { caseMentions, type CaseMention } from './case-names'
import { DIRECTIONS, EITHER_OF_TRUNK, MOMENT_WORDS, OF_ANYTHING, OF_TIME, PEOPLE } from './english/direction-words'
import type { Word } from './language'
import { namedIn } from './measured-things'
import { measuredPairs, type MeasuredPair } from './measured-pair'
import { actOf, namedThing } from './named-thing'
import { isOfNoCase } from './order-findings'
import { statementsOf } from './openness'
import type { RecordNames } from './record-names'
import { rememberedWords } from './remembered-words'
import { saidDirection, type SaidMore } from './said-direction'
import { isSupposed } from './said-order'
import { VALUE } from './saying'
import type { StatedClaim } from './stated-claim'
import type { AddFinding } from './strength-findings'

/// A sentence that says of one case that it is more, or less, than another, or that it is not, and rests on values that read the other way. Only where
/// its words name the case, where they have one meaning for that kind of measure, and where the two are known to differ.
export function directionFindings(claim: StatedClaim, breakdown: Breakdown, readings: Readings, names: RecordNames, add: AddFinding): void {
  if (isOfNoCase(claim, 'E')) return
  const pairs = measuredPairs(claim, breakdown, readings)
  if (pairs.length === 0) return
  const text = claim.saying.bare.replaceAll(VALUE, ' ')
  if (text.includes('?') || isSupposed(statementsOf(text).flatMap(rememberedWords))) return
  for (const clause of statementsOf(text)) {
    const words = rememberedWords(clause)
    const meant = pairs.flatMap((pair) => {
      const said = saidOf(words, clause, pair, breakdown)
      return said ? [{ pair, said }] : []
    })
    const [first] = meant
    if (!first || !meant.every(({ pair, said }) => (said.more === pair.more) === said.denied)) continue
    const { pair, said } = first
    const [x, y] = said.of === 0 ? ([0, 1] as const) : ([1, 0] as const)
    const name = (i: 0 | 1): string => names.measure(pair.measures[i].id)
    add(
      'comparison-reversed',
      `“${said.words}” is said of ${name(x)} against ${name(y)}, and they read the other way round: ${pair.reads[x]} against ${pair.reads[y]} (${DIRECTIONS[pair.measures[0].kind]?.says ?? 'as they stand'})`,
      'Turn the words round, or look again at what was measured and which is which.',
    )
    return
  }
}

function saidOf(words: readonly Word[], clause: string, { measures }: MeasuredPair, breakdown: Breakdown): SaidMore | null {
  const mentions = caseMentions(words, measures, breakdown)
  if (!mentions || !isOfTheirMoment(clause, measures, breakdown)) return null
  const body = bodyNamed(words, measures, mentions, breakdown)
  const said = body === null ? null : saidDirection(words, measures[0].kind, mentions)
  if (!said || !hasOneMeaning(said, clause, measures, breakdown)) return null
  return body === 'named' || isPlain(said, words, mentions, measures) ? said : null
}

const TIMED: ReadonlySet<MeasureKind> = new Set<MeasureKind>(['time-between', 'frame-count', 'speed', 'angular-rate', 'peak-time'])

/// Whether it is plain what is meant though no part of the body is named: "the second is steeper". A person who is bent may be bent
/// anywhere; one who leans leans with the trunk.
function isPlain(
  { words }: SaidMore,
  clause: readonly Word[],
  mentions: readonly CaseMention[],
  measures: readonly [Measure, Measure],
): boolean {
  const timed = TIMED.has(measures[0].kind)
  if (words.split(' ').some((word) => OF_ANYTHING.has(word))) return timed && clause.some(({ root }) => OF_TIME.has(root))
  const ofSomebody =
    mentions.some((mention) => mention.as === 'name') || clause.some(({ text, root }) => PEOPLE.has(text) || PEOPLE.has(root))
  return timed || !ofSomebody || measures.every(isTrunk)
}

/// Whether a clause names no moment, or that of the measures: an event that they stand for, run from or to, or lie at.
function isOfTheirMoment(clause: string, measures: readonly [Measure, Measure], { events }: Breakdown): boolean {
  const named = (events ?? []).filter(({ clip, name }) => measures.some((measure) => measure.clip === clip) && isNamed(name, clause))
  return measures.every((measure) => {
    const here = named.filter(({ clip }) => clip === measure.clip)
    return (
      here.length === 0 ||
      here.some(
        ({ id, earliest, latest }) =>
          ('event' in measure && measure.event === id) ||
          ('from' in measure && (measure.from === id || measure.to === id)) ||
          ('frame' in measure && earliest <= measure.frame && measure.frame <= latest),
      )
    )
  })
}

function isNamed(name: string, clause: string): boolean {
  const thing = namedThing(name)
  if (!thing || namedIn(clause, [thing]) === 0) return false
  const words = rememberedWords(clause)
  return thing.acts.size === 0 || words.some((word) => thing.acts.has(actOf(word)))
}

/// Words that turn with what they are said of: a steep trunk; "the turn comes later" of the time from the turn on.
function hasOneMeaning({ words }: SaidMore, clause: string, measures: readonly [Measure, Measure], breakdown: Breakdown): boolean {
  if (words.split(' ').some((word) => EITHER_OF_TRUNK.has(word)))
    return !measures.some(isTrunk) && !/(?<!\p{L})(?:lean|tilt)/iu.test(clause)
  if (!MOMENT_WORDS.has(words)) return true
  return measures.every((measure) => {
    if (!('from' in measure)) return measure.kind === 'peak-time'
    const from = namedThing(breakdown.events?.find(({ id }) => id === measure.from)?.name ?? '')
    return from === null || namedIn(clause, [from]) === 0
  })
}
