import type { ClaimClass } from '../../project/claim'
import type { ClaimLanguage, ClaimWeights, Word } from './language'
import { strengthsOf, traitsOf, type Spoken, type Trait } from './traits'

/// What labelled sentences teach of a text.
export interface LearnedShares {
  /// How likely each class is, by the weights; they sum to 1.
  readonly shares: ReadonlyMap<ClaimClass, number>
  /// The words `from` to `to` (excluded) that speak loudest for a class; null where none does.
  loudest(letter: ClaimClass): { readonly from: number; readonly to: number } | null
}

const LEVELS = 28
const NOUGHT = 63

/// A weight as its character, and back: see `ClaimWeights`.
export const writeWeight = (weight: number, scale: number): string =>
  String.fromCharCode(NOUGHT + Math.sign(weight) * Math.min(LEVELS, Math.round(Math.sqrt(Math.abs(weight) / scale) * LEVELS)))
function readWeight(character: number, scale: number): number {
  const level = character - NOUGHT
  return (Math.sign(level) * level * level * scale) / (LEVELS * LEVELS)
}

/// What the traits of a text's words teach of it: their strengths times the weights of each class, as shares (softmax).
export function learnedShares(
  words: readonly Word[],
  spoken: readonly Spoken[],
  asks: boolean,
  lists: ClaimLanguage['lists'],
  weights: ClaimWeights,
): LearnedShares {
  const letters = [...weights.classes] as ClaimClass[]
  const scores = [...weights.bias]
  const meanings = weights.traits['meaning'] ?? {}
  const traits = traitsOf(words, spoken, lists, asks, (word) => Object.hasOwn(meanings, word))
  const strengths = strengthsOf(traits)
  const loudest = new Map<ClaimClass, { readonly part: number; readonly trait: Trait }>()
  traits.forEach((trait, at) => {
    const codes = weights.traits[trait.kind]?.[trait.name]
    if (codes === undefined) return
    letters.forEach((letter, one) => {
      const part = (strengths[at] ?? 0) * readWeight(codes.charCodeAt(one), weights.scale)
      scores[one] = (scores[one] ?? 0) + part
      if (part > (loudest.get(letter)?.part ?? 0)) loudest.set(letter, { part, trait })
    })
  })
  const most = Math.max(...scores)
  const grown = scores.map((score) => Math.exp(score - most))
  const sum = grown.reduce((a, b) => a + b, 0)
  return {
    shares: new Map(letters.map((letter, one) => [letter, (grown[one] ?? 0) / sum])),
    loudest: (letter) => loudest.get(letter)?.trait ?? null,
  }
}
