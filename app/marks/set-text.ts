import type { Point } from '../project/fields'
import { drawnText } from './drawn-text'
import type { Box } from './box'
import type { Colour, Shape } from './shape'
import type { Typeface, Weight } from './typeface'

/// A line's words broken at spaces so that no line is wider than `width`; a word that is wider by itself
/// is broken between characters. At least one line; never an endless one.
export function wrapText(typeface: Typeface, text: string, size: number, weight: Weight, width: number): string[] {
  const fits = (line: string): boolean => typeface.advance(line, size, weight) <= width
  const space = typeface.advance('a a', size, weight) - 2 * typeface.advance('a', size, weight)
  const lines: string[] = []
  let line = ''
  let rough = 0
  for (const word of drawnText(text).split(/ +/)) {
    const wide = word.length > BROKEN_AT ? Infinity : typeface.advance(word, size, weight)
    const longer = line ? `${line} ${word}` : word
    const roughly = line ? rough + space + wide : wide
    /// Words add up but for the kerning between them: only near the edge is the whole line measured.
    if (roughly <= 0.97 * width || (roughly <= 1.03 * width && fits(longer))) {
      ;[line, rough] = [longer, roughly]
      continue
    }
    if (line) lines.push(line)
    const pieces = wide <= width ? [word] : brokenWord(word, Math.ceil(width / (0.15 * size)), fits)
    lines.push(...pieces.slice(0, -1))
    line = pieces.at(-1) as string
    rough = typeface.advance(line, size, weight)
  }
  if (line || lines.length === 0) lines.push(line)
  return lines
}

/// No word of a language is longer: such a one is broken without being measured whole.
const BROKEN_AT = 400

/// A word in pieces that fit, each of one character at least and of `most` at most.
function brokenWord(word: string, most: number, fits: (piece: string) => boolean): string[] {
  const characters = [...word]
  const pieces: string[] = []
  for (let from = 0; from < characters.length;) {
    let [some, tooMany] = [1, Math.min(most, characters.length - from) + 1]
    while (tooMany - some > 1) {
      const middle = (some + tooMany) >> 1
      if (fits(characters.slice(from, from + middle).join(''))) some = middle
      else tooMany = middle
    }
    pieces.push(characters.slice(from, from + some).join(''))
    from += some
  }
  return pieces
}

/// A text of at most `most` characters, ending in "…" where more was cut: names come in any length.
export function shortened(text: string, most: number): string {
  const characters = [...drawnText(text)]
  return characters.length <= most
    ? characters.join('')
    : `${characters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`
}

/// Wrapped into as few lines as fit, and these as even as they come, so that no word is left alone.
export function wrapEvenly(typeface: Typeface, text: string, size: number, weight: Weight, width: number): string[] {
  const lines = wrapText(typeface, text, size, weight, width)
  if (lines.length < 2) return lines
  let [narrow, wide] = [0, width]
  let best = lines
  while (wide - narrow > 0.1 * size) {
    const middle = (narrow + wide) / 2
    const tried = wrapText(typeface, text, size, weight, middle)
    const broken = tried.join(' ') !== lines.join(' ')
    if (tried.length > lines.length || broken) narrow = middle
    else [wide, best] = [middle, tried]
  }
  return best
}

/// A wrapped text cut to `most` lines, the last of them ending in "…" where words were left out.
export const wrapAtMost = (typeface: Typeface, text: string, size: number, weight: Weight, width: number, most: number): string[] =>
  cutLines(typeface, wrapText(typeface, text, size, weight, width), size, weight, width, most)

/// The first `most` of lines, the last of them ending in "…" where some were left out.
export function cutLines(
  typeface: Typeface,
  lines: readonly string[],
  size: number,
  weight: Weight,
  width: number,
  most: number,
): string[] {
  if (lines.length <= most) return [...lines]
  const kept = lines.slice(0, most)
  let last = kept[most - 1] as string
  while (last && typeface.advance(`${last}…`, size, weight) > width) last = [...last].slice(0, -1).join('')
  kept[most - 1] = `${last.trimEnd()}…`
  return kept
}

export const widest = (typeface: Typeface, lines: readonly string[], size: number, weight: Weight): number =>
  Math.max(0, ...lines.map((line) => typeface.advance(line, size, weight)))

/// One line of text on the canvas.
export type TextShape = Extract<Shape, { kind: 'text' }>
export const textShape = (
  text: string,
  at: Point,
  size: number,
  weight: Weight,
  colour: Colour,
  align: 'left' | 'middle' | 'right' = 'left',
): TextShape => ({
  kind: 'text',
  text: drawnText(text),
  at,
  align,
  size,
  weight,
  colour,
  opacity: 1,
})

/// Where a line of text lies, capitals and descenders included.
export function textBounds(text: TextShape, typeface: Typeface): Box {
  const width = typeface.advance(text.text, text.size, text.weight)
  const x = text.at[0] - (text.align === 'left' ? 0 : text.align === 'middle' ? width / 2 : width)
  return { x, y: text.at[1] - typeface.capHeight * text.size, width, height: (typeface.capHeight + 0.24) * text.size }
}
