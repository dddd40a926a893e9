import { toCardinal, toOrdinal } from 'n2words/en-GB'
import { UNITS, UNIT_NOUNS } from './unit-words'

/// Numbers and their units in running text: where they stand, and how they are said.

/// A number with what belongs to it ("142° ± 12°", "0.2 s", "20–70°", "¼", "1st"): the range of
/// characters, and its words.
export interface NumberPhrase {
  readonly from: number
  readonly to: number
  readonly spoken: string
}

const escape = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/]/g, '\\$&')
const symbols = UNITS.flatMap((unit) => unit.symbols.map((symbol) => ({ symbol, unit }))).sort((a, b) => b.symbol.length - a.symbol.length)
const unitOf = new Map(symbols.map(({ symbol, unit }) => [symbol, unit]))

const NUMBER = '\\d{1,3}(?:,\\d{3})+(?:\\.\\d+)?|\\d+(?:\\.\\d+)?'
const UNIT = `(?:${symbols.map(({ symbol }) => escape(symbol)).join('|')})(?![\\p{L}\\p{N}])`
const QUANTITY = `(?:(?:${NUMBER})(?:\\/\\d+|st|nd|rd|th)?|[½¼¾⅓⅔⅛])(?:[ \\u00a0]?(?:${UNIT}))?`
const PHRASE = new RegExp(
  `(?<![\\p{L}\\p{N}.])(?:[±≈~<>≤≥][ \\u00a0]?)?[-−+]?${QUANTITY}(?:[ \\u00a0]?[±–][ \\u00a0]?[-−]?${QUANTITY})*(?:[ \\u00a0](?:${UNIT_NOUNS.join('|')})(?![\\p{L}\\p{N}]))?`,
  'gu',
)
const PART = new RegExp(
  `([±≈~<>≤≥–])|([-−+]?)(?:(${NUMBER})(?:\\/(\\d+)|(st|nd|rd|th))?|([½¼¾⅓⅔⅛]))(?:[ \\u00a0]?(${UNIT}))?|(\\p{L}+)`,
  'gu',
)

const SIGNS: Readonly<Record<string, string>> = {
  '±': 'plus or minus',
  '≈': 'about',
  '~': 'about',
  '<': 'less than',
  '>': 'more than',
  '≤': 'at most',
  '≥': 'at least',
  '–': 'to',
}
const FRACTIONS: Readonly<Record<string, string>> = {
  '½': 'one half',
  '¼': 'one quarter',
  '¾': 'three quarters',
  '⅓': 'one third',
  '⅔': 'two thirds',
  '⅛': 'one eighth',
}

/// A decimal number in words, its decimals digit by digit: "0.25" is "zero point two five".
/// A number longer than fifteen digits is left as it stands.
export function numberInWords(digits: string): string {
  const [whole = '0', decimals = ''] = digits.replaceAll(',', '').split('.')
  if (whole.length > 15) return digits
  const said = toCardinal(whole.replace(/^0+(?=\d)/, ''))
  return decimals ? `${said} point ${[...decimals].map((digit) => toCardinal(digit)).join(' ')}` : said
}

function fractionInWords(above: string, below: string): string {
  if (Number(below) === 0 || below.length > 6 || above.length > 6) return `${numberInWords(above)} over ${numberInWords(below)}`
  const one = Number(above) === 1
  if (Number(below) === 2) return `${numberInWords(above)} ${one ? 'half' : 'halves'}`
  if (Number(below) === 4) return `${numberInWords(above)} ${one ? 'quarter' : 'quarters'}`
  if (Number(below) === 1) return numberInWords(above)
  return `${numberInWords(above)} ${toOrdinal(Number(below))}${one ? '' : 's'}`
}

function phraseInWords(text: string): string {
  const words: string[] = []
  for (const [, sign, minus, digits, below, ordinal, fraction, unit, word] of text.matchAll(PART)) {
    if (sign) words.push(SIGNS[sign] ?? '')
    if (word) words.push(word)
    if (minus && minus !== '+') words.push('minus')
    if (fraction) words.push(FRACTIONS[fraction] ?? '')
    if (digits) {
      const small = digits.replaceAll(',', '')
      if (below !== undefined) words.push(fractionInWords(digits, below))
      else if (ordinal && /^\d{1,9}$/.test(small) && Number(small) > 0) words.push(toOrdinal(Number(small)))
      else words.push(numberInWords(digits))
    }
    const said = unit === undefined ? undefined : unitOf.get(unit)
    if (said) words.push(digits === '1' ? said.one : said.many)
  }
  return words.join(' ')
}

/// What every quantity has: most pieces of a text have none, and are not searched further.
const DIGIT = /[\d½¼¾⅓⅔⅛]/u

/// Every number phrase of a text, in order; a unit noun behind the number belongs to it.
export const numberPhrasesOf = (text: string): NumberPhrase[] =>
  !DIGIT.test(text)
    ? []
    : [...text.matchAll(PHRASE)].map((match) => ({ from: match.index, to: match.index + match[0].length, spoken: phraseInWords(match[0]) }))

/// A text with every number and unit symbol in words. Text without digits comes back as it was,
/// apart from lone signs ("±", "°", "%") that are said.
export function inWords(text: string): string {
  let out = ''
  let at = 0
  for (const phrase of numberPhrasesOf(text)) {
    out += text.slice(at, phrase.from) + phrase.spoken
    at = phrase.to
  }
  return (out + text.slice(at)).replace(/[±≈]/g, (sign) => ` ${SIGNS[sign]} `).replace(/ {2,}/g, ' ')
}
