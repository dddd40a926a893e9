import type { Box } from './box'
import type { Lettering } from './lettering'
import { palette } from './palette'
import { shortened, textShape, widest, wrapAtMost } from './set-text'
import type { Shape } from './shape'
import { roundedBoxRing } from './stroke'
import type { Typeface } from './typeface'

/// Shapes and the boxes they lie in.
export interface DrawnBlock {
  readonly shapes: readonly Shape[]
  readonly boxes: readonly Box[]
}

const AS_DIGITS: Readonly<Record<string, string>> = {
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅕': '1/5',
  '⅙': '1/6',
}
const AS_GLYPH: Readonly<Record<string, string>> = { '1/2': '½', '1/4': '¼', '3/4': '¾' }

/// A badge's words with fractions as the face can set them: "¼ speed" where it has the character, else "1/8 speed".
export function badgeText(badge: string, typeface: Typeface): string {
  const digits = badge.replace(/[⅛⅜⅝⅞⅓⅔⅕⅙]/gu, (glyph) => (typeface.lacking(glyph).length > 0 ? (AS_DIGITS[glyph] ?? glyph) : glyph))
  return digits.replace(/(?<![\d/.])(\d\/\d)(?![\d/])/g, (text) => {
    const glyph = AS_GLYPH[text]
    return glyph && typeface.lacking(glyph).length === 0 ? glyph : text
  })
}

/// The badges at the top right, one beside the other from the right while they fit half of the canvas, else in rows.
export function drawBadges(badges: readonly string[], typeface: Typeface, lettering: Lettering, canvas: { width: number }): DrawnBlock {
  const { badge: size, margin, unit } = lettering
  const shapes: Shape[] = []
  const boxes: Box[] = []
  const [padX, padY] = [0.5 * size, 0.4 * size]
  const gap = 10 * unit
  const room = canvas.width - 2 * margin - 2 * padX
  let right = canvas.width - margin
  let top = margin
  for (const badge of badges) {
    const lines = wrapAtMost(typeface, shortened(badgeText(badge, typeface), 60), size, 700, room, 2)
    const width = widest(typeface, lines, size, 700) + 2 * padX
    const height = typeface.capHeight * size + (lines.length - 1) * 1.2 * size + 2 * padY
    const first = right === canvas.width - margin
    if (!first && right - width < canvas.width / 2) {
      right = canvas.width - margin
      top = Math.max(...boxes.map((b) => b.y + b.height)) + gap
    }
    const left = right - width
    boxes.push({ x: left, y: top, width, height })
    shapes.push({ kind: 'fill', rings: [roundedBoxRing(left, top, width, height, lettering.corner)], colour: palette.plate, opacity: 0.94 })
    lines.forEach((line, i) =>
      shapes.push(textShape(line, [left + padX, top + padY + typeface.capHeight * size + i * 1.2 * size], size, 700, palette.text)),
    )
    right = left - gap
  }
  return { shapes, boxes }
}
