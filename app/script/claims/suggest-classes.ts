import type { ClaimClass } from '../../project/claim'
import { english } from './english/english'
import type { ClaimLanguage, Word } from './language'
import { findPattern, readPattern, type Pattern } from './pattern'

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
  readonly when: readonly Pattern[]
  readonly unless: readonly Pattern[]
  readonly not: readonly ClaimClass[]
}

const read = new WeakMap<ClaimLanguage, { readonly rules: readonly ReadRule[]; readonly guards: readonly ReadRule[] }>()

function patternsOf(language: ClaimLanguage): { readonly rules: readonly ReadRule[]; readonly guards: readonly ReadRule[] } {
  const known = read.get(language)
  if (known) return known
  const reads = (list: readonly string[] = []): Pattern[] => list.map((text) => readPattern(text, language.lists))
  const made = {
    rules: language.rules.map((rule) => ({ class: rule.class, when: reads(rule.when), unless: reads(rule.unless), not: [] })),
    guards: language.guards.map((guard) => ({ class: guard.class, when: reads(guard.when), unless: reads(guard.unless), not: guard.not })),
  }
  read.set(language, made)
  return made
}

/// The classes that a text of one sentence (or few) suggests, by the rules of `language`. Class A
/// where none speaks. `of` names classes that live values in it bring, by their kinds of measure.
/// Deterministic.
export function suggestClasses(text: string, of: readonly ClaimClass[] = [], language: ClaimLanguage = english): Suggestion {
  const words = language.analyse(text)
  const { rules, guards } = patternsOf(language)
  const because = new Map<ClaimClass, string>()
  const guarding = guards.flatMap((guard) => {
    const found = firstFound(guard, words)
    return found === null ? [] : [{ ...guard, found }]
  })
  const barred = new Set(guarding.flatMap((guard) => guard.not))
  for (const rule of rules) {
    if (because.has(rule.class) || barred.has(rule.class)) continue
    const found = firstFound(rule, words)
    if (found !== null) because.set(rule.class, found)
  }
  for (const guard of guarding) if (!because.has(guard.class)) because.set(guard.class, guard.found)
  for (const letter of of) if (!because.has(letter)) because.set(letter, '')
  const order = [...STRONG_CLASSES, ...OTHERS].filter((letter) => because.has(letter))
  const [first, ...rest] = order
  if (first === undefined) return { classes: ['A'], because }
  return { classes: [first, ...rest], because }
}

export const isStrong = (classes: readonly ClaimClass[]): boolean => classes.some((letter) => STRONG_CLASSES.includes(letter))

function firstFound(rule: ReadRule, words: readonly Word[]): string | null {
  if (rule.unless.some((pattern) => findPattern(pattern, words))) return null
  for (const pattern of rule.when) {
    const found = findPattern(pattern, words)
    if (found) return words.slice(found.from, found.to).map((word) => word.text).join(' ')
  }
  return null
}
