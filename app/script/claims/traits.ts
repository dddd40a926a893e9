import type { ClaimClass } from '../../project/claim'
import type { ClaimLanguage, Word } from './language'

/// What the learned part of the class rules looks at in a sentence: traits, each with the words it
/// stands on. By kind: `word` as written, its root (`turn*`) and its root with its part of speech
/// (`turn/past`); `pair` of neighbours; `lists` that a word or two neighbours stand in; `piece`, four
/// letters of a word; `rule`, a rule or guard that speaks; `both`, an opinion, advice or a note on the
/// film together with what else is in the sentence; `shape`, how it begins and ends; `meaning`, a word
/// that weights know by what it is near to in meaning.
export interface Trait {
  readonly name: string
  readonly kind: TraitKind
  /// Words `from` to `to` (excluded).
  readonly from: number
  readonly to: number
}

/// How much each kind counts; found by cross-validation over writers (docs/decisions/0110).
export const TRAIT_KINDS = { word: 1.5, pair: 1, lists: 1, piece: 1.5, rule: 0.7, both: 0.7, shape: 0.5, meaning: 1 } as const
export type TraitKind = keyof typeof TRAIT_KINDS

/// A rule or guard that speaks: which pattern of it, and where that is found.
export interface Spoken {
  readonly class: ClaimClass
  readonly guards: boolean
  readonly pattern: string
  /// Classes that it takes back.
  readonly not: readonly ClaimClass[]
  readonly from: number
  readonly to: number
}

const USES: readonly (readonly [string, string])[] = [
  ['Value', 'number'],
  ['ProperNoun', 'name'],
  ['Pronoun', 'pronoun'],
  ['Possessive', 'possessive'],
  ['Determiner', 'determiner'],
  ['Preposition', 'preposition'],
  ['Conjunction', 'conjunction'],
  ['Modal', 'modal'],
  ['Copula', 'be'],
  ['Auxiliary', 'auxiliary'],
  ['Comparative', 'more'],
  ['Superlative', 'most'],
  ['Gerund', 'ing'],
  ['PastTense', 'past'],
  ['PresentTense', 'present'],
  ['Infinitive', 'plain'],
  ['Verb', 'verb'],
  ['Plural', 'nouns'],
  ['Noun', 'noun'],
  ['Adverb', 'adverb'],
  ['Adjective', 'adjective'],
]
/// Uses whose words say what the talk is of; the rest hold a sentence together.
const CONTENT: ReadonlySet<string> = new Set([
  'noun',
  'nouns',
  'name',
  'number',
  'adjective',
  'adverb',
  'verb',
  'ing',
  'past',
  'present',
  'plain',
  'more',
  'most',
])
/// Uses that make an opinion, advice or a note on the film a claim after all.
const TELLING: ReadonlySet<string> = new Set(['number', 'more', 'most', 'past'])
const MANNERS: ReadonlySet<ClaimClass> = new Set(['H', 'K', 'L', 'M'])
const OPEN: ReadonlySet<string> = new Set(['number', 'name'])

const useOf = (word: Word): string => USES.find(([tag]) => word.tags.has(tag))?.[1] ?? 'other'

const listed = new WeakMap<ClaimLanguage['lists'], ReadonlyMap<string, readonly (readonly [string, readonly string[]])[]>>()

/// Entries of all lists by their first word.
function entriesOf(lists: ClaimLanguage['lists']): ReadonlyMap<string, readonly (readonly [string, readonly string[]])[]> {
  const known = listed.get(lists)
  if (known) return known
  const made = new Map<string, [string, string[]][]>()
  for (const [name, entries] of Object.entries(lists)) {
    for (const entry of entries) {
      const words = entry.split(' ')
      const first = words[0] ?? ''
      made.set(first, [...(made.get(first) ?? []), [name, words]])
    }
  }
  listed.set(lists, made)
  return made
}

/// How long a text is, by its words.
const LENGTHS = [
  { most: 5, name: 'short' },
  { most: 12, name: 'middling' },
  { most: 22, name: 'long' },
]

/// Traits of a text's words, each name once. `asks`: it ends as a question; `meant`: whether a word's
/// meaning is known. Deterministic.
export function traitsOf(
  words: readonly Word[],
  spoken: readonly Spoken[],
  lists: ClaimLanguage['lists'],
  asks: boolean,
  meant: (word: string) => boolean,
): readonly Trait[] {
  const found = new Map<string, Trait>()
  const add = (kind: TraitKind, name: string, from: number, to: number): void => {
    const key = `${kind} ${name}`
    if (!found.has(key)) found.set(key, { name, kind, from, to })
  }
  const entries = entriesOf(lists)
  const uses = words.map(useOf)
  const plain = words.map((word, i) => (OPEN.has(uses[i] ?? '') ? `#${uses[i] ?? ''}` : word.root))
  const groups = words.map((): Set<string> => new Set())
  words.forEach((word, at) => {
    for (const start of word.root === word.text ? [word.text] : [word.text, word.root]) {
      for (const [list, entry] of entries.get(start) ?? []) {
        if (!entry.every((wanted, i) => i === 0 || words[at + i]?.text === wanted || words[at + i]?.root === wanted)) continue
        for (let i = 0; i < entry.length; i++) groups[at + i]?.add(`@${list}`)
        add('lists', `@${list}`, at, at + entry.length)
      }
    }
  })
  const kinds = words.map((word, i): readonly string[] =>
    [...(groups[i] ?? [])].slice(0, 3).concat(CONTENT.has(uses[i] ?? '') ? [`#${uses[i] ?? ''}`] : [word.text]),
  )
  words.forEach((word, at) => {
    const root = plain[at] ?? ''
    if (!OPEN.has(uses[at] ?? '')) {
      add('word', word.text, at, at + 1)
      const padded = `_${word.text}_`
      for (let i = 0; i + 4 <= padded.length; i++) add('piece', padded.slice(i, i + 4), at, at + 1)
    }
    const meaning = [word.text, word.root].find(meant)
    if (meaning !== undefined) add('meaning', meaning, at, at + 1)
    add('word', `${root}*`, at, at + 1)
    add('word', `${root}/${uses[at] ?? ''}`, at, at + 1)
    const before = at === 0 || word.apart === 'sentence' ? '^' : word.apart === 'clause' ? ',' : null
    if (before !== null) add('pair', `${before} ${root}`, at, at + 1)
    if (before !== null) for (const kind of kinds[at] ?? []) add('lists', `${before} ${kind}`, at, at + 1)
    if (at > 0 && before !== '^') {
      add('pair', `${plain[at - 1] ?? ''} ${root}`, at - 1, at + 1)
      for (const one of kinds[at - 1] ?? []) for (const two of kinds[at] ?? []) add('lists', `${one} ${two}`, at - 1, at + 1)
    }
    if (at === words.length - 1 || words[at + 1]?.apart === 'sentence') add('pair', `${root} $`, at, at + 1)
  })
  for (const { class: letter, guards, pattern, from, to } of spoken) {
    add('rule', `${guards ? 'guard ' : ''}${letter}`, from, to)
    add('rule', pattern, from, to)
  }
  const within = [...found.values()].filter(
    ({ kind, name }) => (kind === 'lists' && !name.includes(' ')) || (kind === 'rule' && /^[B-GIJ]$/u.test(name)),
  )
  words.forEach((_, at) => {
    if (TELLING.has(uses[at] ?? '')) within.push({ name: `#${uses[at] ?? ''}`, kind: 'both', from: at, to: at + 1 })
  })
  for (const manner of new Set(spoken.map((each) => each.class).filter((letter) => MANNERS.has(letter)))) {
    for (const { name, from, to } of within) add('both', `${manner} ${name}`, from, to)
  }
  const end = words.length
  if (asks) add('shape', 'asks', end - 1, end)
  if (end > 0) {
    add('shape', `begins ${words[0]?.text ?? ''}`, 0, 1)
    add('shape', `begins ${uses.slice(0, 2).join(' ')}`, 0, Math.min(2, end))
    add('shape', `ends ${uses.slice(-2).join(' ')}`, Math.max(0, end - 2), end)
    add('shape', LENGTHS.find(({ most }) => end <= most)?.name ?? 'very long', 0, end)
  }
  return [...found.values()]
}

/// How strongly a trait counts in its text: 1 over the root of how many of its kind the text has, times its kind's own weight.
export function strengthsOf(traits: readonly Trait[]): readonly number[] {
  const count = new Map<TraitKind, number>()
  for (const { kind } of traits) count.set(kind, (count.get(kind) ?? 0) + 1)
  return traits.map(({ kind }) => TRAIT_KINDS[kind] / Math.sqrt(count.get(kind) ?? 1))
}
