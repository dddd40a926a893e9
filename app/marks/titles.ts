import type { DrawnBlock } from './badges'
import type { Box } from './box'
import type { Lettering } from './lettering'
import { palette } from './palette'
import { shortened, textShape, widest, wrapAtMost } from './set-text'
import type { Shape } from './shape'
import { boxRing, roundedBoxRing } from './stroke'
import type { Typeface } from './typeface'

/// Who is on film, at the foot, above the zone of the captions: the name large, the bout beneath.
export function drawTitle(
  title: { readonly name: string; readonly line: string },
  typeface: Typeface,
  lettering: Lettering,
  canvas: { width: number },
): DrawnBlock {
  const { name: large, small, margin, padding, captionTop, unit } = lettering
  const bar = 6 * unit
  const room = Math.min(canvas.width - 2 * margin, Math.max(0.62 * canvas.width, 14 * large)) - 2 * padding - bar
  const names = wrapAtMost(typeface, shortened(title.name, 120), large, 700, room, 2)
  const lines = title.line ? wrapAtMost(typeface, shortened(title.line, 160), small, 400, room, 2) : []
  const width = Math.max(widest(typeface, names, large, 700), widest(typeface, lines, small, 400)) + 2 * padding + bar
  const cap = typeface.capHeight
  const height = 2 * padding + cap * large + (names.length - 1) * 1.12 * large + lines.length * 1.24 * small
  const [left, top] = [margin, captionTop - margin * 0.5 - height]
  const shapes: Shape[] = [
    { kind: 'fill', rings: [roundedBoxRing(left, top, width, height, lettering.corner)], colour: palette.plate, opacity: 0.94 },
    { kind: 'fill', rings: [boxRing(left, top, bar, height)], colour: palette.accent, opacity: 1 },
  ]
  let y = top + padding + cap * large
  names.forEach((line, i) => {
    if (i > 0) y += 1.12 * large
    shapes.push(textShape(line, [left + bar + padding, y], large, 700, palette.text))
  })
  for (const line of lines) {
    y += 1.24 * small
    shapes.push(textShape(line, [left + bar + padding, y], small, 400, palette.lighter))
  }
  return { shapes, boxes: [{ x: left, y: top, width, height }] }
}

/// Where the film is from, at the top left; beneath the badges where it does not fit beside them.
export function drawCredit(
  credit: string,
  badges: readonly Box[],
  typeface: Typeface,
  lettering: Lettering,
  canvas: { width: number },
): DrawnBlock {
  const { small: size, margin } = lettering
  const [padX, padY] = [0.5 * size, 0.4 * size]
  const nearest = Math.min(canvas.width, ...badges.map((b) => b.x))
  const besideBadges = nearest - 2 * margin - 2 * padX
  const wide = typeface.advance(shortened(credit, 160), size, 400)
  const beside = besideBadges >= Math.min(wide, 0.38 * canvas.width)
  const room = beside ? Math.min(besideBadges, 0.6 * canvas.width) : canvas.width - 2 * margin - 2 * padX
  const lines = wrapAtMost(typeface, shortened(credit, 160), size, 400, room, 2)
  const width = widest(typeface, lines, size, 400) + 2 * padX
  const height = typeface.capHeight * size + (lines.length - 1) * 1.2 * size + 2 * padY
  const top = beside ? margin : Math.max(margin, ...badges.map((b) => b.y + b.height + 10 * lettering.unit))
  return {
    shapes: [
      { kind: 'fill', rings: [roundedBoxRing(margin, top, width, height, lettering.corner)], colour: palette.plate, opacity: 0.94 },
      ...lines.map((line, i) =>
        textShape(line, [margin + padX, top + padY + typeface.capHeight * size + i * 1.2 * size], size, 400, palette.text),
      ),
    ],
    boxes: [{ x: margin, y: top, width, height }],
  }
}
