import type { Word } from './language'

/// Whether words `from` to `to` (excluded) lie in a number with the things that it counts: "two right hands". Not where these are
/// known already ("the two right hands", "those two"), for what is said of such is said of one and the other; nor where the
/// number is of a unit. A number and its things may name what is shown; they hold nothing against anything.
export function liesInCountOfThings(words: readonly Word[], { from, to }: { readonly from: number; readonly to: number }): boolean {
  return words.some((word, at) => {
    if (!word.tags.has('Cardinal') || at > from || isKnown(words[at - 1], word)) return false
    let last = at + 1
    while (isWithin(words[last]) && words[last]!.tags.has('Adjective') && !words[last]!.tags.has('Comparative')) last++
    const thing = words[last]
    return isWithin(thing) && thing!.tags.has('Plural') && !thing!.tags.has('Unit') && to <= last + 1
  })
}

const isWithin = (word: Word | undefined): boolean => word !== undefined && word.apart === 'no'
const isKnown = (before: Word | undefined, number: Word): boolean =>
  before !== undefined && number.apart === 'no' && ['Determiner', 'Possessive', 'Pronoun', 'Cardinal'].some((tag) => before.tags.has(tag))
