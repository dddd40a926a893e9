import type { ClaimClass } from '../../project/claim'

/// A word of a sentence as a language's analyser gives it.
export interface Word {
  /// Lower case, contractions written out, without punctuation: "is", "isn't" as "is", "not".
  readonly text: string
  /// Its plain form ("turned": turn), the text itself where it has none.
  readonly root: string
  /// Parts of speech in the analyser's own names ("Noun", "Comparative", "Value").
  readonly tags: ReadonlySet<string>
  /// Whether a comma, colon, dash or the like, or a sentence's end, comes before it.
  readonly apart: 'no' | 'clause' | 'sentence'
}

/// A rule: where one of `when` is found and none of `unless`, the sentence is of `class`.
/// Patterns are read by `pattern.ts`.
export interface ClassRule {
  readonly class: ClaimClass
  readonly when: readonly string[]
  readonly unless?: readonly string[]
}

/// A guard: where one of `when` is found, words that look like a class of `not` are no claim of it,
/// and the sentence is (also) of `class`.
export interface ClassGuard {
  readonly class: ClaimClass
  readonly when: readonly string[]
  readonly unless?: readonly string[]
  readonly not: readonly ClaimClass[]
}

/// What has been learned from labelled sentences (docs/decisions/0110): a multinomial logistic
/// regression over the traits of `traits.ts`, made by `tests/classes/weights.ts`.
export interface ClaimWeights {
  /// Letters of the classes, in the order in which each trait's weights stand.
  readonly classes: string
  /// The sum of the strong classes' shares from which a sentence is held to be a strong claim, 0 to 1.
  readonly threshold: number
  /// The largest weight: the characters `#` to `[` stand for −28 to 28, whose squares over 28² are shares of it.
  readonly scale: number
  readonly bias: readonly number[]
  /// By kind, then by name without its kind: one character for each class.
  readonly traits: Readonly<Record<string, Readonly<Record<string, string>>>>
}

/// A language as the claim rules need it: data, and the analyser that gives words their forms.
export interface ClaimLanguage {
  /// BCP 47.
  readonly language: string
  /// Named lists that patterns call by `@name`; entries may be of several words.
  readonly lists: Readonly<Record<string, readonly string[]>>
  readonly rules: readonly ClassRule[]
  readonly guards: readonly ClassGuard[]
  /// Patterns that weights do not take back: where one is found and a rule says that the sentence is of its class, it is,
  /// though the weights hold it for one of `over`.
  readonly kept?: readonly { readonly class: ClaimClass; readonly when: string; readonly over: readonly ClaimClass[] }[]
  /// Without them, rules and guards alone decide.
  readonly weights?: ClaimWeights
  /// Words of a text of one or more sentences, in order.
  analyse(text: string): readonly Word[]
}
