/// Sentences of a text as half-open ranges of characters; together they cover it, white space
/// behind a sentence belonging to it.
export interface Sentence {
  readonly from: number
  readonly to: number
  readonly text: string
}

/// Abbreviations that do not end a sentence, lower case, without their last full stop.
const ABBREVIATIONS: ReadonlySet<string> = new Set([
  'approx',
  'ca',
  'cf',
  'vs',
  'v',
  'i.e',
  'e.g',
  'etc',
  'no',
  'nos',
  'fig',
  'figs',
  'p',
  'pp',
  'ch',
  'vol',
  'st',
  'dr',
  'mr',
  'mrs',
  'ms',
  'prof',
  'jr',
  'sr',
  'al',
  'max',
  'min',
  'avg',
  'deg',
  'sec',
  'ref',
  'rd',
  'fr',
])

const segmenter = new Intl.Segmenter('en', { granularity: 'sentence' })
const lastWord = /(\S+)\.\s*$/u

/// Abbreviation, or a single capital ("J. Varga"): the full stop is not the sentence's end.
function endsOnAbbreviation(text: string, next: string): boolean {
  const word = lastWord.exec(text)?.[1]?.replace(/^[("'“‘[]+/u, '')
  if (word === undefined) return false
  if (/^\p{Lu}$/u.test(word)) return word !== 'I' && /^\p{L}/u.test(next)
  const known = ABBREVIATIONS.has(word.toLowerCase())
  if (!known) return false
  // "… on the way down, etc. Then he steps" and "no. The heel" end; "no. 3" and "approx. 0.5 s" go on.
  return /^[\p{Ll}\p{N}≈~±<>(]/u.test(next) || (/^\p{Lu}/u.test(next) && /^(dr|mr|mrs|ms|prof|st|vs|v|i\.e|e\.g|cf)$/iu.test(word))
}

/// Splits by Unicode's sentence boundaries (UAX #29), joined again where the full stop belongs to
/// an abbreviation or an initial. Empty text has no sentence.
export function sentencesOf(text: string): Sentence[] {
  const joined: Sentence[] = []
  for (const { segment, index } of segmenter.segment(text)) {
    const last = joined.at(-1)
    if (last && (last.text.trim() === '' || endsOnAbbreviation(last.text, segment)))
      joined[joined.length - 1] = { from: last.from, to: index + segment.length, text: last.text + segment }
    else joined.push({ from: index, to: index + segment.length, text: segment })
  }
  return joined
}
