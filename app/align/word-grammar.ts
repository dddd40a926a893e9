import type { SpokenToken } from './spoken-tokens'

/// What a recogniser is allowed to hear: exactly the script's words, each of which may be left out, and each
/// sentence said again. Finite-state grammar and dictionary as pocketsphinx reads them (its documentation; the
/// weights were found by trying on synthesised speech).

const SKIP = '1e-20'
const AGAIN = '1e-10'

/// `skips`: words may be left out and sentences repeated. `leaps`: half-open runs of tokens that may be left out as one.
export function writeGrammar(
  tokens: readonly SpokenToken[],
  skips: boolean,
  leaps: readonly { readonly from: number; readonly to: number }[] = [],
): string {
  const lines = ['FSG_BEGIN a', `NUM_STATES ${tokens.length + 1}`, 'START_STATE 0', `FINAL_STATE ${tokens.length}`]
  tokens.forEach(({ word }, i) => {
    lines.push(`TRANSITION ${i} ${i + 1} 1.0 ${word}`)
    if (skips) lines.push(`TRANSITION ${i} ${i + 1} ${SKIP}`)
  })
  if (skips) for (const { from, to } of sentenceRanges(tokens)) lines.push(`TRANSITION ${to} ${from} ${AGAIN}`)
  for (const { from, to } of leaps) if (to > from + 1) lines.push(`TRANSITION ${from} ${to} ${SKIP}`)
  return [...lines, 'FSG_END', ''].join('\n')
}

/// Half-open ranges of tokens, one a sentence.
export function sentenceRanges(tokens: readonly SpokenToken[]): { from: number; to: number }[] {
  const ranges: { from: number; to: number }[] = []
  tokens.forEach(({ sentence }, i) => {
    const last = ranges.at(-1)
    if (last && tokens[last.from]?.sentence === sentence) last.to = i + 1
    else ranges.push({ from: i, to: i + 1 })
  })
  return ranges
}

/// The dictionary of the words used, `variants` giving each word's pronunciations.
export function writeDictionary(tokens: readonly SpokenToken[], variants: (word: string) => readonly string[]): string {
  const words = [...new Set(tokens.map(({ word }) => word))].sort()
  return words.flatMap((word) => variants(word).map((phones, i) => `${i === 0 ? word : `${word}(${i + 1})`} ${phones}`)).join('\n') + '\n'
}

/// A pronouncing dictionary's text by word ("w", "w(2)" … become variants in order).
export function readDictionary(text: string): Map<string, string[]> {
  const known = new Map<string, string[]>()
  for (const line of text.split('\n')) {
    const at = line.search(/\s/)
    if (at <= 0) continue
    const word = line.slice(0, at).replace(/\(\d+\)$/, '')
    const phones = line.slice(at).trim()
    const variants = known.get(word)
    if (variants) variants.push(phones)
    else known.set(word, [phones])
  }
  return known
}

/// A synthesiser's sounds as the dictionary writes them: no pauses, its neutral vowel as AH.
export const phonesOf = (sounds: readonly string[]): string =>
  sounds
    .filter((s) => s !== 'pau')
    .map((s) => (s === 'ax' ? 'AH' : s.toUpperCase()))
    .join(' ')

/// Words as heard, with their times: one line of pocketsphinx' `-hypseg`, frames of 1/100 s. Silences and noises
/// are left out. An unreadable line has no words.
export function readHeard(line: string): { word: string; from: number; to: number }[] {
  const fields = line.trim().split(/\s+/)
  const at = fields.indexOf('L')
  if (at < 0) return []
  const rest = fields.slice(at + 2)
  const heard: { word: string; from: number; to: number }[] = []
  for (let i = 0; i + 4 < rest.length; i += 4) {
    const word = (rest[i + 3] ?? '').replace(/\(\d+\)$/, '')
    const [from, to] = [Number(rest[i]) / 100, Number(rest[i + 4]) / 100]
    if (
      word.startsWith('<') ||
      word.startsWith('[') ||
      word.startsWith('(') ||
      word.startsWith('+') ||
      !Number.isFinite(from) ||
      !Number.isFinite(to)
    )
      continue
    heard.push({ word, from, to })
  }
  return heard
}
