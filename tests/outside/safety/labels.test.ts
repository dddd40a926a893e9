import { describe, expect, it } from 'vitest'
import type { Colour } from '../../../app/marks/shape'
import { contrastOnPicture, LEAST_CONTRAST } from '../../../app/safety/label-contrast'
import type { TextShape } from '../../../app/safety/film-label'
import { builds, renderSpans } from '../../render/marks-frames'
import { typeface } from '../../unit/marks/scene'

/// W3C, WCAG 2.x: contrast ratio and its limit for text (1.4.3). Ratios of the pairs: REFERENCES, computed from the
/// definition with the corrected threshold .04045; Okabe and Ito's vermilion on white: the same formula.
const [width, height] = [960, 540]
const face = typeface()
const text = (colour: Colour, at: readonly [number, number] = [90, 270]): TextShape => ({
  kind: 'text',
  text: 'knee 142° ± 12°',
  at,
  align: 'left',
  size: 48,
  weight: 700,
  colour,
  opacity: 1,
})

async function contrast(
  colour: Colour,
  ground: string,
  shapes: readonly Parameters<typeof renderSpans>[1][number]['shapes'][number][] = [],
): Promise<number> {
  const [tool] = await builds()
  const shape = text(colour)
  const [frame] = await renderSpans(tool!, [{ from: 0, to: 1, shapes: [...shapes, shape] }], {
    width,
    height,
    frames: 1,
    colour: ground,
    format: 'rgb24',
  })
  return contrastOnPicture(shape, { width, height, rgb: frame! }, 1, { typeface: face })!
}

describe('the contrast of a label against the rendered pixels about it', () => {
  it('flags vermilion on white at 3.9', async () => {
    const found = await contrast('#d55e00', 'white')
    expect(found.toFixed(1)).toBe('3.9')
    expect(found).toBeLessThan(LEAST_CONTRAST)
  })

  it('flags #777 on white at 4.478 and passes #767676', async () => {
    const found = await contrast('#777777', 'white')
    expect(Math.abs(found - 4.4781)).toBeLessThan(0.0006)
    expect(found).toBeLessThan(LEAST_CONTRAST)
    const passing = await contrast('#767676', 'white')
    expect(Math.abs(passing - 4.5422)).toBeLessThan(0.0006)
    expect(passing).toBeGreaterThanOrEqual(LEAST_CONTRAST)
  })

  it('takes the ground that is really behind the words: half of it white is found, a plate is', async () => {
    const half = {
      kind: 'fill',
      rings: [
        [
          [200, 0],
          [960, 0],
          [960, 540],
          [200, 540],
        ],
      ],
      colour: '#ffffff',
      opacity: 1,
    } as const
    expect(await contrast('#f0e442', 'black')).toBeGreaterThan(13)
    expect(await contrast('#f0e442', 'black', [half])).toBeLessThan(1.5)
    const plate = {
      kind: 'fill',
      rings: [
        [
          [60, 210],
          [600, 210],
          [600, 310],
          [60, 310],
        ],
      ],
      colour: '#1a1a1a',
      opacity: 1,
    } as const
    expect(await contrast('#f0e442', 'white', [plate])).toBeGreaterThan(13)
  })
})
