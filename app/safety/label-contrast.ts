import type { DrawContext } from '../marks/draw-context'
import { relativeLuminance } from '../marks/contrast'
import { linearChannels, luminanceOf } from './light'
import type { TextShape } from './film-label'

/// A decoded frame: 8-bit sRGB, row by row.
export interface DecodedPicture {
  readonly width: number
  readonly height: number
  readonly rgb: Uint8Array
}

/// Least contrast of text against what is behind it (WCAG 2.x, 1.4.3). Film text is large enough for 3, but is
/// looked at on small screens: 4.5 is held everywhere.
export const LEAST_CONTRAST = 4.5
/// Share of the ground that may be worse: single bright specks do not make a word unreadable.
const SPECKS = 0.1

/// Contrast of a line of text against its real background: the pixels of the finished film closely above, below and
/// beside it, the worst tenth of them left out. `scale`: pixels of `picture` to one of the canvas. Null where
/// no such pixel lies on the picture.
export function contrastOnPicture(
  text: TextShape,
  picture: DecodedPicture,
  scale: number,
  { typeface }: Pick<DrawContext, 'typeface'>,
): number | null {
  const own = relativeLuminance(text.colour)
  const ratios: number[] = []
  for (const [x0, y0, x1, y1] of groundOf(text, typeface)) {
    const [left, top, right, foot] = [
      Math.max(0, Math.round(x0 * scale)),
      Math.max(0, Math.round(y0 * scale)),
      Math.min(picture.width, Math.round(x1 * scale)),
      Math.min(picture.height, Math.round(y1 * scale)),
    ]
    for (let y = top; y < Math.max(foot, top + 1) && y < picture.height; y++)
      for (let x = left; x < right; x++) {
        const p = 3 * (y * picture.width + x)
        const behind = luminanceOf(
          linearChannels[picture.rgb[p] as number] as number,
          linearChannels[picture.rgb[p + 1] as number] as number,
          linearChannels[picture.rgb[p + 2] as number] as number,
        )
        ratios.push((Math.max(own, behind) + 0.05) / (Math.min(own, behind) + 0.05))
      }
  }
  if (ratios.length === 0) return null
  ratios.sort((a, b) => a - b)
  return ratios[Math.floor(SPECKS * (ratios.length - 1))] as number
}

/// Strips about a line, in em: above its capitals, beneath its descenders, and at both ends. On a plate they lie
/// on the plate, between the lines of a block between them.
function groundOf(text: TextShape, typeface: DrawContext['typeface']): readonly (readonly [number, number, number, number])[] {
  const width = typeface.advance(text.text, text.size, text.weight)
  const left = text.at[0] - (text.align === 'left' ? 0 : text.align === 'middle' ? width / 2 : width)
  const [baseline, em] = [text.at[1], text.size]
  const caps = baseline - typeface.capHeight * em
  return [
    [left, caps - 0.2 * em, left + width, caps - 0.13 * em],
    [left, baseline + 0.26 * em, left + width, baseline + 0.33 * em],
    [left - 0.2 * em, caps, left - 0.1 * em, baseline],
    [left + width + 0.1 * em, caps, left + width + 0.2 * em, baseline],
  ]
}
