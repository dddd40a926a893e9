import type { ClaimClass } from '../../project/claim'
import { liesInCountOfThings } from './counted-things'
import { english } from './english/english'
import type { ClaimLanguage, ClaimWeights, Word } from './language'
import { learnedShares, type LearnedShares } from './learned-shares'
import { findPattern, readPattern, type Pattern } from './pattern'
import type { Spoken } from './traits'

/// Classes whose open findings hold a final film back, and F, which needs a reference: what a
/// sceptical viewer would ask "how do you know?" of. In the order in which they lead a sentence.
export const STRONG_CLASSES: readonly ClaimClass[] = ['J', 'I', 'G', 'F', 'D', 'E', 'C', 'B']
const OTHERS: readonly ClaimClass[] = ['K', 'M', 'H', 'L', 'A']

export interface Suggestion {
  /// The first leads: the one that is hardest to back.
  readonly classes: readonly [ClaimClass, ...ClaimClass[]]
  /// The words that speak for each class, as they stand.
  readonly because: ReadonlyMap<ClaimClass, string>
}

interface ReadRule {
  readonly class: ClaimClass
  readonly when: readonly (readonly [string, Pattern])[]
  readonly unless: readonly Pattern[]
  readonly not: readonly ClaimClass[]
}

/// A rule that a learned class speaks for as well leads beside it from this share on.
const HEARD = 0.1
/// Up to so many words, weights alone decide nothing; nor of one more where none is a verb, as in a title.
const FEW = 3
/// A medical statement that a rule tells is taken back by weights only below this share.
const NEVER = 0.05

interface ReadPatterns {
  readonly rules: readonly ReadRule[]
  readonly guards: readonly ReadRule[]
  readonly kept: readonly { readonly class: ClaimClass; readonly pattern: Pattern; readonly over: readonly ClaimClass[] }[]
}
const read = new WeakMap<ClaimLanguage, ReadPatterns>()

function patternsOf(language: ClaimLanguage): ReadPatterns {
  const known = read.get(language)
  if (known) return known
  const reads = (list: readonly string[] = []): [string, Pattern][] => list.map((text) => [text, readPattern(text, language.lists)])
  const unless = (list?: readonly string[]): Pattern[] => reads(list).map(([, pattern]) => pattern)
  const made = {
    rules: language.rules.map((rule) => ({ class: rule.class, when: reads(rule.when), unless: unless(rule.unless), not: [] })),
    kept: (language.kept ?? []).map(({ class: letter, when, over }) => ({
      class: letter,
      pattern: readPattern(when, language.lists),
      over,
    })),
    guards: language.guards.map((guard) => ({ class: guard.class, when: reads(guard.when), unless: unless(guard.unless), not: guard.not })),
  }
  read.set(language, made)
  return made
}

/// The rules and guards of `language` that speak of these words.
export function spokenRules(words: readonly Word[], language: ClaimLanguage): readonly Spoken[] {
  const { rules, guards } = patternsOf(language)
  return [...guards.flatMap((guard) => firstFound(guard, words, true)), ...rules.flatMap((rule) => firstFound(rule, words, false))]
}

const wordsAt = (words: readonly Word[], { from, to }: { readonly from: number; readonly to: number }): string =>
  words
    .slice(from, to)
    .map((word) => word.text)
    .join(' ')

/// What rules and guards alone say, with the words that speak for it: a guard's class, and a rule's that no guard takes back.
function ruledClasses(words: readonly Word[], spoken: readonly Spoken[]): Map<ClaimClass, string> {
  const because = new Map<ClaimClass, string>()
  const barred = new Set(spoken.flatMap(({ not }) => not))
  for (const { class: letter, guards, from, to } of [...spoken.filter((each) => !each.guards), ...spoken.filter((each) => each.guards)]) {
    if (!because.has(letter) && (guards || !barred.has(letter))) because.set(letter, wordsAt(words, { from, to }))
  }
  return because
}

/// The classes that a text of one sentence (or few) suggests, by the rules of `language` and by what
/// has been learned from labelled sentences: learned weights decide whether it is a strong claim and
/// which class is likeliest; rules that they agree with stand beside it. What a rule takes for a
/// medical statement stays one unless the weights are next to sure that it is none, and what the language keeps (`kept`)
/// stays whatever they say. A number of things ("two right hands") is no comparison by itself. Class A where nothing speaks. `of` names
/// classes that live values in it bring, by their kinds of measure. Deterministic.
export function suggestClasses(text: string, of: readonly ClaimClass[] = [], language: ClaimLanguage = english): Suggestion {
  const words = language.analyse(text)
  const spoken = spokenRules(words, language)
  const ruled = ruledClasses(words, spoken)
  const because = language.weights && words.length > 0 ? weighed(text, words, spoken, ruled, of, language, language.weights) : ruled
  for (const letter of of) if (!because.has(letter)) because.set(letter, '')
  const [first, ...rest] = [...STRONG_CLASSES, ...OTHERS].filter((letter) => because.has(letter))
  if (first === undefined) return { classes: ['A'], because }
  return { classes: [first, ...rest], because }
}

/// Strong classes that the rules alone find in words, what weights say apart, with the words that speak for each.
export function strongByRules(text: string, language: ClaimLanguage = english): ReadonlyMap<ClaimClass, string> {
  const words = language.analyse(text)
  return new Map([...ruledClasses(words, spokenRules(words, language))].filter(([letter]) => STRONG_CLASSES.includes(letter)))
}

function weighed(
  text: string,
  words: readonly Word[],
  spoken: readonly Spoken[],
  ruled: ReadonlyMap<ClaimClass, string>,
  of: readonly ClaimClass[],
  language: ClaimLanguage,
  weights: ClaimWeights,
): Map<ClaimClass, string> {
  const learned = learnedShares(words, spoken, asksOf(text), language.lists, weights)
  const shares = comparesNothing(words, spoken, learned) ? sharesWithout('E', learned.shares) : learned.shares
  const share = (letter: ClaimClass): number => shares.get(letter) ?? 0
  const strong = STRONG_CLASSES.reduce((sum, letter) => sum + share(letter), 0) >= weights.threshold
  // Too little to weigh by itself: a word or two, or what is left around live values.
  const bare = of.length > 0 || words.length <= FEW || (words.length === FEW + 1 && !words.some(isVerb))
  const likeliest = (strong ? STRONG_CLASSES : OTHERS).reduce((best, letter) => (share(letter) > share(best) ? letter : best))
  const because = new Map<ClaimClass, string>()
  if (!bare || (ruled.has(likeliest) && share(likeliest) >= HEARD))
    because.set(likeliest, ruled.get(likeliest) ?? wordsAt(words, learned.loudest(likeliest) ?? { from: 0, to: 0 }))
  const kept = new Set(
    patternsOf(language).kept.flatMap(({ class: letter, pattern, over }) =>
      over.includes(likeliest) && findPattern(pattern, words) ? [letter] : [],
    ),
  )
  for (const [letter, phrase] of ruled) {
    const stays =
      kept.has(letter) || (letter === 'J' && share(letter) >= NEVER) || (share(letter) >= HEARD && (strong || OTHERS.includes(letter)))
    if (stays) because.set(letter, phrase)
  }
  return because
}

/// Whether nothing but a number of things makes a comparison of a text: no rule tells one, and no other word is louder for it.
function comparesNothing(words: readonly Word[], spoken: readonly Spoken[], learned: LearnedShares): boolean {
  const loudest = learned.loudest('E')
  return loudest !== null && liesInCountOfThings(words, loudest) && !spoken.some((each) => each.class === 'E')
}

/// What is likely of the other classes where one is out of the question.
function sharesWithout(letter: ClaimClass, shares: LearnedShares['shares']): LearnedShares['shares'] {
  const rest = 1 - (shares.get(letter) ?? 0)
  return new Map([...shares].map(([each, share]) => [each, each === letter || rest <= 0 ? 0 : share / rest]))
}

const VERBS: readonly string[] = ['Verb', 'PastTense', 'PresentTense', 'Gerund', 'Infinitive', 'Copula', 'Auxiliary', 'Modal']
const isVerb = (word: Word): boolean => VERBS.some((tag) => word.tags.has(tag))

/// Whether a text ends as a question.
export const asksOf = (text: string): boolean => text.trimEnd().endsWith('?')

export const isStrong = (classes: readonly ClaimClass[]): boolean => classes.some((letter) => STRONG_CLASSES.includes(letter))

function firstFound(rule: ReadRule, words: readonly Word[], guards: boolean): Spoken[] {
  if (rule.unless.some((pattern) => findPattern(pattern, words))) return []
  for (const [pattern, parts] of rule.when) {
    const found = findPattern(parts, words)
    if (found) return [{ class: rule.class, guards, pattern, not: rule.not, ...found }]
  }
  return []
}
