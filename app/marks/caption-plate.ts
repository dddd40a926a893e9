import type { DrawnBlock } from './badges'
import { letteringOf } from './lettering'
import { palette } from './palette'
import { textShape, widest, wrapAtMost } from './set-text'
import { roundedBoxRing } from './stroke'
import type { Typeface } from './typeface'

/// Share of the canvas's width that a caption may take, and its lines (BBC, through secondary sources). An upright
/// canvas gets one line more over nearly its whole width: type of 4 % of its height leaves room for 25
/// characters in a line there, and a caption has up to 74.
const captionRoom = (canvas: { width: number; height: number }): { share: number; lines: number } =>
  canvas.height > canvas.width ? { share: 0.9, lines: 3 } : { share: 0.68, lines: 2 }

/// A caption burned in, on one plate: in the bottom 18 %, or with its upper edge at `at`. `lines` are the caption's own;
/// lines too wide are wrapped anew, and what does not fit ends in "…": captions are cut before they come here.
export function drawCaption(
  lines: readonly string[],
  typeface: Typeface,
  canvas: { width: number; height: number },
  at?: number,
): DrawnBlock {
  const lettering = letteringOf(canvas.width, canvas.height)
  const { small: size, captionTop } = lettering
  const [padX, padY] = [0.5 * size, 0.36 * size]
  const most = captionRoom(canvas)
  const room = most.share * canvas.width - 2 * padX
  const fitting = lines.length <= most.lines && lines.every((line) => typeface.advance(line, size, 400) <= room)
  const set = fitting ? lines.filter((line) => line.trim() !== '') : wrapAtMost(typeface, lines.join(' '), size, 400, room, most.lines)
  if (set.length === 0) return { shapes: [], boxes: [] }
  const width = widest(typeface, set, size, 400) + 2 * padX
  const height = typeface.capHeight * size + (set.length - 1) * 1.25 * size + 2 * padY
  const left = (canvas.width - width) / 2
  const zone = canvas.height - captionTop
  const top = at ?? captionTop + (zone - height) * 0.5
  return {
    shapes: [
      { kind: 'fill', rings: [roundedBoxRing(left, top, width, height, lettering.corner)], colour: palette.plate, opacity: 0.9 },
      ...set.map((line, i) =>
        textShape(line, [canvas.width / 2, top + padY + typeface.capHeight * size + i * 1.25 * size], size, 400, palette.text, 'middle'),
      ),
    ],
    boxes: [{ x: left, y: top, width, height }],
  }
}
