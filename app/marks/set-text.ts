import type { Point } from '../project/fields'
import { drawnText } from './drawn-text'
import type { Colour, Shape } from './shape'
import type { Typeface, Weight } from './typeface'

/// A line's words broken at spaces so that no line is wider than `width`; a word that is wider by itself
/// is broken between characters. At least one line; never an endless one.
export function wrapText(typeface: Typeface, text: string, size: number, weight: Weight, width: number): string[] {
  const fits = (line: string): boolean => typeface.advance(line, size, weight) <= width
  const lines: string[] = []
  let line = ''
  for (const word of drawnText(text).split(/ +/)) {
    const longer = line ? `${line} ${word}` : word
    if (fits(longer)) {
      line = longer
      continue
    }
    if (line) lines.push(line)
    line = word
    while (!fits(line)) {
      const characters = [...line]
      let count = 1
      while (count < characters.length && fits(characters.slice(0, count + 1).join(''))) count++
      if (count >= characters.length) break
      lines.push(characters.slice(0, count).join(''))
      line = characters.slice(count).join('')
    }
  }
  if (line || lines.length === 0) lines.push(line)
  return lines
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
export function wrapAtMost(typeface: Typeface, text: string, size: number, weight: Weight, width: number, most: number): string[] {
  const lines = wrapText(typeface, text, size, weight, width)
  if (lines.length <= most) return lines
  const kept = lines.slice(0, most)
  let last = kept[most - 1] as string
  while (last && typeface.advance(`${last}…`, size, weight) > width) last = [...last].slice(0, -1).join('')
  kept[most - 1] = `${last.trimEnd()}…`
  return kept
}

export const widest = (typeface: Typeface, lines: readonly string[], size: number, weight: Weight): number =>
  Math.max(0, ...lines.map((line) => typeface.advance(line, size, weight)))

/// One line of text on the canvas.
export const textShape = (text: string, at: Point, size: number, weight: Weight, colour: Colour, align: 'left' | 'middle' | 'right' = 'left'): Shape => ({
  kind: 'text',
  text: drawnText(text),
  at,
  align,
  size,
  weight,
  colour,
  opacity: 1,
})
