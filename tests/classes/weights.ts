import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { writeWeight } from '../../app/script/claims/learned-shares'
import type { ClaimLanguage, ClaimWeights } from '../../app/script/claims/language'
import { asksOf, spokenRules, suggestClasses, isStrong } from '../../app/script/claims/suggest-classes'
import { strengthsOf, traitsOf, type Trait } from '../../app/script/claims/traits'
import { fitClasses, type Row } from './train'
import { LENGTH, wordVectors } from './word-vectors'

/// Sentences of one writer. `tuned`: the rules were tuned on them, so what the rules say of them is no
/// measure of what they say of others; they are learned from without it.
export interface Writer {
  readonly name: string
  readonly tuned: boolean
  readonly sentences: readonly Labelled[]
}

export interface Labelled {
  readonly text: string
  readonly class: string
  readonly strong: boolean
}

export const CLASSES = 'ABCDEFGHIJKLM'
/// Files `training-1.json` to `training-n.json`.
const TRAINING = 16
/// What one sentence's loss weighs against half the squared weights; how often a trait must occur; how many traits are kept.
const COST = 1
const OFTEN = 2
const KEPT = 15000
const ROUNDS = 60

export const labelled = (name: string): readonly Labelled[] =>
  JSON.parse(readFileSync(join(import.meta.dirname, '../data/claims', name), 'utf8')) as Labelled[]

/// Everything that is learned from, by writer.
export const writers = (): readonly Writer[] => [
  ...Array.from({ length: TRAINING }, (_, at) => `training-${String(at + 1)}.json`).map((name) => ({
    name,
    tuned: false,
    sentences: labelled(name),
  })),
  { name: 'seen.json, further.json', tuned: true, sentences: [...labelled('seen.json'), ...labelled('further.json')] },
]

interface Read {
  readonly traits: readonly Trait[]
  readonly strengths: readonly number[]
  readonly answer: number
  readonly tuned: boolean
}

/// Where both figures fall short of what was asked (≥ 90 % found, ≤ 5 % wrong) in proportion, on writers held out (docs/decisions/0110).
export const THRESHOLD = 0.65

const readings = new WeakMap<Writer, readonly Read[]>()

function readWriter(writer: Writer, language: ClaimLanguage): readonly Read[] {
  const known = readings.get(writer)
  if (known) return known
  const made = writer.sentences.map((sentence): Read => {
    const words = language.analyse(sentence.text)
    const traits = traitsOf(words, spokenRules(words, language), language.lists, asksOf(sentence.text), (word) => wordVectors().has(word))
    return { traits, strengths: strengthsOf(traits), answer: CLASSES.indexOf(sentence.class), tuned: writer.tuned }
  })
  readings.set(writer, made)
  return made
}

/// Weights for `language` from the writers' sentences: rarer traits weigh more (inverse document
/// frequency, as smoothed in common practice); the traits that say most (their largest weight
/// times the root of how often they occur) are kept and fitted again. Meanings are learned as weights of the word vectors' numbers, so that a word that no sentence
/// has gets its weights from words near to it.
export function weightsFrom(from: readonly Writer[], language: ClaimLanguage, threshold: number): ClaimWeights {
  const read = from.flatMap((writer) => readWriter(writer, language))
  const vectors = wordVectors()
  const meanings = read.map(({ traits, strengths }): Float64Array => {
    const sum = new Float64Array(LENGTH)
    traits.forEach(({ kind, name }, at) => {
      if (kind === 'meaning') vectors.get(name)?.forEach((value, k) => (sum[k] = (sum[k] ?? 0) + value * (strengths[at] ?? 0)))
    })
    return sum
  })
  const taught = read.map((each) =>
    each.traits
      .map((trait, at) => ({ key: `${trait.kind}\t${trait.name}`, strength: each.strengths[at] ?? 0, kind: trait.kind }))
      .filter(({ kind }) => kind !== 'meaning' && (!each.tuned || (kind !== 'rule' && kind !== 'both'))),
  )
  const count = new Map<string, number>()
  for (const traits of taught) for (const { key } of traits) count.set(key, (count.get(key) ?? 0) + 1)
  const rarity = (key: string): number => Math.log((1 + read.length) / (1 + (count.get(key) ?? 0))) + 1
  const fit = (keys: readonly string[]): { readonly weights: Float64Array; readonly folded: (key: number, one: number) => number } => {
    const column = new Map(keys.map((key, at) => [key, at]))
    const rares = keys.map(rarity)
    const numbers = Array.from({ length: LENGTH }, (_, k) => keys.length + 1 + k)
    const rows = taught.map((traits, row): Row => {
      const known = traits.flatMap(({ key, strength }) => {
        const at = column.get(key)
        return at === undefined ? [] : [[at, strength * (rares[at] ?? 0)] as const]
      })
      // After the traits' columns, the bias; then the meaning's numbers.
      return {
        columns: [...known.map(([at]) => at), keys.length, ...numbers],
        values: [...known.map(([, value]) => value), 5, ...(meanings[row] ?? [])],
      }
    })
    const weights = fitClasses(
      rows,
      read.map((each) => each.answer),
      keys.length + 1 + LENGTH,
      CLASSES.length,
      COST,
      ROUNDS,
    )
    return { weights, folded: (key, one) => (weights[key * CLASSES.length + one] ?? 0) * (rares[key] ?? 1) }
  }
  const places = [...CLASSES].map((_, one) => one)
  const all = [...count].filter(([, times]) => times >= OFTEN).map(([key]) => key)
  const first = fit(all)
  const size = all.map((key, at) => Math.sqrt(count.get(key) ?? 0) * Math.max(...places.map((one) => Math.abs(first.folded(at, one)))))
  const kept = all
    .map((key, at) => [key, size[at] ?? 0] as const)
    .sort((a, b) => b[1] - a[1])
    .slice(0, KEPT)
    .map(([key]) => key)
    .sort()
  const last = fit(kept)
  const meant = [...vectors].map(
    ([word, vector]) =>
      [
        word,
        places.map((one) =>
          vector.reduce((sum, value, k) => sum + value * (last.weights[(kept.length + 1 + k) * CLASSES.length + one] ?? 0), 0),
        ),
      ] as const,
  )
  const named = [
    ...kept.map((key, at) => [key, places.map((one) => last.folded(at, one))] as const),
    ...meant.map(([word, each]) => [`meaning\t${word}`, each] as const),
  ]
  const scale = Math.ceil(named.reduce((most, [, each]) => Math.max(most, ...each.map(Math.abs)), 0) * 10) / 10
  const traits: Record<string, Record<string, string>> = {}
  for (const [key, each] of named) {
    const [kind = '', name = ''] = key.split('\t')
    ;(traits[kind] ??= {})[name] = each.map((weight) => writeWeight(weight, scale)).join('')
  }
  const bias = places.map((one) => Number((5 * (last.weights[kept.length * CLASSES.length + one] ?? 0)).toFixed(3)))
  return { classes: CLASSES, threshold, scale, bias, traits }
}

/// Weights as their file has them.
export function writtenWeights(weights: ClaimWeights): string {
  const { traits, ...rest } = weights
  const kinds = Object.entries(traits).map(([kind, names]) => `  ${JSON.stringify(kind)}: ${JSON.stringify(names)}`)
  const heads = Object.entries(rest).map(([key, value]) => `  ${JSON.stringify(key)}: ${JSON.stringify(value)},\n`)
  return `{\n${heads.join('')}  "traits": {\n  ${kinds.join(',\n  ')}\n  }\n}\n`
}

/// What is told of a list of sentences: strong claims found, others wrongly called strong, and how often the first class is the labelled one.
export interface Told {
  readonly found: number
  readonly strong: number
  readonly wrong: number
  readonly others: number
  readonly right: number
}

export function toldOf(sentences: readonly Labelled[], language: ClaimLanguage): Told {
  const told = sentences.map((sentence) => ({ sentence, classes: suggestClasses(sentence.text, [], language).classes }))
  const count = (test: (each: (typeof told)[number]) => boolean): number => told.filter(test).length
  return {
    found: count(({ sentence, classes }) => sentence.strong && isStrong(classes)),
    strong: count(({ sentence }) => sentence.strong),
    wrong: count(({ sentence, classes }) => !sentence.strong && isStrong(classes)),
    others: count(({ sentence }) => !sentence.strong),
    right: count(({ sentence, classes }) => sentence.class === classes[0]),
  }
}

/// Each writer's sentences told by weights from the others', at each threshold.
export function toldAcross(
  all: readonly Writer[],
  language: ClaimLanguage,
  thresholds: readonly number[],
): readonly { readonly name: string; readonly told: readonly Told[] }[] {
  return all.map((writer) => {
    const weights = weightsFrom(
      all.filter((other) => other !== writer),
      language,
      0,
    )
    return {
      name: writer.name,
      told: thresholds.map((threshold) => toldOf(writer.sentences, { ...language, weights: { ...weights, threshold } })),
    }
  })
}
