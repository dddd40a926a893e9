import { MEASURED_NOUNS, MEASURED_SYMBOLS, NOT_MEASURED, NUMBER_WORDS } from './word-lists'

const escape = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&')
const anyOf = (words: readonly string[]): string =>
  [...words]
    .sort((a, b) => b.length - a.length)
    .map(escape)
    .join('|')

const DIGITS = '\\d[\\d,]*(?:\\.\\d+)?(?:[ \\u00a0]?[–±-][ \\u00a0]?\\d+(?:\\.\\d+)?)?'
const WORDS = `(?:${anyOf(NUMBER_WORDS)})(?:(?:[ -]| and )(?:${anyOf(NUMBER_WORDS)}))*`
const MEASURED = new RegExp(
  `(?<![\\p{L}\\p{N}.])(?:${DIGITS}[ \\u00a0-]?(?:${anyOf(MEASURED_SYMBOLS)})(?![\\p{L}\\p{N}])|(?:${DIGITS}|${WORDS})[ \\u00a0-](?:${anyOf(MEASURED_NOUNS)})(?![\\p{L}\\p{N}]))`,
  'giu',
)

/// Measured quantities that were typed, in digits or in words, as ranges of characters of `text`.
export function typedNumbersOf(text: string): { readonly from: number; readonly to: number; readonly text: string }[] {
  return [...text.matchAll(MEASURED)]
    .map((match) => ({ from: match.index, to: match.index + match[0].length, text: match[0] }))
    .filter(({ to }) => NOT_MEASURED.every((rule) => !rule.test(text.slice(to))))
}
