import { ACTS, ANOTHER, BEING, NAME_FILLING, SIDES } from './english/order-words'
import type { Word } from './language'
import { rememberedWords } from './remembered-words'

/// A thing with a name of the project's, as a sentence may name it.
export interface NamedThing {
  /// Its words in their order, without its side and what it does: "foot" of "lead foot plant". Where nothing else is in the
  /// name, what happens: "contact".
  readonly words: readonly Word[]
  readonly sides: ReadonlySet<string>
  /// What it does, each by its place among the acts.
  readonly acts: ReadonlySet<number>
}

/// Where a thing stands among words: from, and to (excluded), its side and article left out.
export interface Mention {
  readonly from: number
  readonly to: number
}

/// Which act a word stands for; −1 for none.
export const actOf = (word: Word): number => ACTS.findIndex((forms) => forms.includes(word.text) || forms.includes(word.root))

const sameWord = (a: Word, b: Word): boolean => a.text === b.text || a.root === b.root || a.root === b.text || a.text === b.root

/// The thing of a name; null where the name has no words to know it by.
export function namedThing(name: string): NamedThing | null {
  const words = rememberedWords(name).filter(({ text }) => !NAME_FILLING.has(text))
  const things = words.filter((word) => !SIDES.has(word.text) && actOf(word) < 0)
  const acts = words.filter((word) => actOf(word) >= 0)
  if (things.length === 0 && acts.length === 0) return null
  const sides = new Set(words.filter(({ text }) => SIDES.has(text)).map(({ text }) => text))
  return things.length > 0
    ? { words: things, sides, acts: new Set(acts.map(actOf)) }
    : { words: acts, sides, acts: new Set(acts.map(actOf)) }
}

/// Two things that words can tell apart; null where one could be taken for the other.
export function namedApart(a: string, b: string): readonly [NamedThing, NamedThing] | null {
  const [x, y] = [namedThing(a), namedThing(b)]
  if (!x || !y) return null
  const within = (one: NamedThing, other: NamedThing): boolean =>
    one.words.every((word) => other.words.some((each) => sameWord(word, each)))
  const sided = x.sides.size > 0 && y.sides.size > 0 && [...x.sides].every((side) => !y.sides.has(side))
  return (within(x, y) || within(y, x)) && !sided ? null : [x, y]
}

/// Where words name a thing; null among them where they name one like it: of another side, the second of its kind.
/// `asked`: whether its side must be said.
export function mentionsOf(thing: NamedThing, words: readonly Word[], asked = false): readonly (Mention | null)[] {
  return words.flatMap((_, from): (Mention | null)[] => {
    const to = endOf(thing, words, from)
    if (to === null) return []
    const before = words[from]?.apart === 'no' ? (words[from - 1]?.text ?? '') : ''
    const side = SIDES.has(before)
    const other = ANOTHER.has(before) || (side && ANOTHER.has(words[from - 2]?.text ?? ''))
    return other || (side ? !thing.sides.has(before) : asked) ? [null] : [{ from, to }]
  })
}

/// Where the words of a thing that begins at `from` end, what only says that it is so left out: "the foot was down". Null: it is not named there.
function endOf(thing: NamedThing, words: readonly Word[], from: number): number | null {
  let at = from
  for (const [i, wanted] of thing.words.entries()) {
    const next = words[at]
    if (i > 0 && next && BEING.has(next.text) && next.apart === 'no' && !sameWord(next, wanted)) at++
    const word = words[at]
    if (!word || !sameWord(word, wanted)) return null
    at++
  }
  return at
}
