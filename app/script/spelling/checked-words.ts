/// A word of a text that can be looked up, and where it stands: `from` to `to` (exclusive), characters of the text.
export interface CheckedWord {
  readonly word: string
  readonly from: number
  readonly to: number
}

const WORD = /\p{L}[\p{L}\p{M}]*(?:['’]\p{L}+)*/gu

/// The words of a text that spelling speaks of. Passed over: what stands in a run with digits or signs of addresses
/// ("f1", "m/s²", "a@b"), capitals alone ("EMG"), and single letters. A possessive "'s" does not belong to the word. A
/// curly apostrophe comes out straight.
export function checkedWords(text: string): CheckedWord[] {
  const words: CheckedWord[] = []
  for (const run of text.matchAll(/[^\s\uFFFC]+/gu)) {
    if (/[\p{N}@\\_²³]|:\/\/|\.\p{L}{2,4}\/|\p{L}\/\p{L}/u.test(run[0])) continue
    for (const found of run[0].matchAll(WORD)) {
      const word = found[0].replaceAll('’', "'").replace(/'s$/iu, '')
      const from = run.index + found.index
      if (word.length > 1 && !/^[\p{Lu}\p{M}]+s?$/u.test(word)) words.push({ word, from, to: from + word.length })
    }
  }
  return words
}

/// Whether a list of words in lower case vouches for a word, capitals or not.
export const inList = (list: ReadonlySet<string>, word: string): boolean => list.has(word.toLowerCase())
