import type { DrawnBlock } from './badges'
import { letteringOf } from './lettering'
import { palette } from './palette'
import { textShape, widest, wrapAtMost } from './set-text'
import { roundedBoxRing } from './stroke'
import type { Typeface } from './typeface'

/// Share of the canvas's width that a caption may take, and its lines (BBC, as quoted in REFERENCES §3).
export const CAPTION_WIDTH = 0.68
export const CAPTION_LINES = 2

/// A caption burned in at the foot, on one plate in the bottom 18 %. `lines` are the caption's own; a line
/// too wide is wrapped, and what does not fit two lines ends in "…": captions are cut before they come here.
export function drawCaption(lines: readonly string[], typeface: Typeface, canvas: { width: number; height: number }): DrawnBlock {
  const lettering = letteringOf(canvas.width, canvas.height)
  const { small: size, captionTop } = lettering
  const [padX, padY] = [0.5 * size, 0.36 * size]
  const room = CAPTION_WIDTH * canvas.width - 2 * padX
  const fitting = lines.length <= CAPTION_LINES && lines.every((line) => typeface.advance(line, size, 400) <= room)
  const set = fitting ? lines.filter((line) => line.trim() !== '') : wrapAtMost(typeface, lines.join(' '), size, 400, room, CAPTION_LINES)
  if (set.length === 0) return { shapes: [], boxes: [] }
  const width = widest(typeface, set, size, 400) + 2 * padX
  const height = typeface.capHeight * size + (set.length - 1) * 1.25 * size + 2 * padY
  const left = (canvas.width - width) / 2
  const zone = canvas.height - captionTop
  const top = captionTop + (zone - height) * 0.5
  return {
    shapes: [
      { kind: 'fill', rings: [roundedBoxRing(left, top, width, height, lettering.corner)], colour: palette.plate, opacity: 0.9 },
      ...set.map((line, i) => textShape(line, [canvas.width / 2, top + padY + typeface.capHeight * size + i * 1.25 * size], size, 400, palette.text, 'middle')),
    ],
    boxes: [{ x: left, y: top, width, height }],
  }
}
