import { describe, expect, it } from 'vitest'
import { contrastRatio, relativeLuminance } from '../../app/marks/contrast'
import { palette } from '../../app/marks/palette'
import type { Colour } from '../../app/marks/shape'

/// WCAG 2.x contrast as corrected in May 2021 (W3C, definition of relative luminance at commit 58080bd:
/// threshold .04045). Pairs: computed from that definition apart from this code; black on white is 21 by definition.
const PAIRS: readonly (readonly [Colour, Colour, number])[] = [
  ['#000000', '#ffffff', 21],
  ['#777777', '#ffffff', 4.4781],
  ['#767676', '#ffffff', 4.5422],
  ['#949494', '#ffffff', 3.0335],
  ['#0000ff', '#ffffff', 8.5925],
  ['#ff0000', '#ffffff', 3.9985],
  ['#ffff00', '#000000', 19.556],
  ['#e3660e', '#ffffff', 3.4019],
  ['#3366cc', '#000000', 3.9132],
]

/// Okabe and Ito's colours on #1A1A1A, computed by another hand to one place.
const ON_PLATE: readonly (readonly [Colour, number])[] = [
  ['#f0e442', 13.2],
  ['#e69f00', 7.7],
  ['#56b4e9', 7.5],
  ['#cc79a7', 5.7],
  ['#009e73', 5.1],
  ['#d55e00', 4.5],
  ['#0072b2', 3.4],
]

const overWhite = (colour: Colour, opacity: number): Colour =>
  `#${[1, 3, 5]
    .map((at) =>
      Math.round(opacity * parseInt(colour.slice(at, at + 2), 16) + (1 - opacity) * 255)
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`

describe('contrast', () => {
  it.each(PAIRS)('of %s on %s is %d', (a, b, ratio) => {
    const places = String(ratio).split('.')[1]?.length ?? 0
    expect(Number(contrastRatio(a, b).toFixed(places))).toBe(ratio)
    expect(contrastRatio(b, a)).toBe(contrastRatio(a, b))
  })

  it.each(ON_PLATE)('of %s on a plate is %d', (colour, ratio) => {
    expect(Number(contrastRatio(colour, '#1a1a1a').toFixed(1))).toBe(ratio)
  })

  it('takes a channel of 10 of 255 by the straight part of the curve and 11 by the power, as the corrected threshold has it', () => {
    expect(relativeLuminance('#0a0a0a')).toBeCloseTo(10 / 255 / 12.92, 12)
    expect(relativeLuminance('#0b0b0b')).toBeCloseTo(((11 / 255 + 0.055) / 1.055) ** 2.4, 12)
  })

  it('of every lettering on its plate is at least 4.5, of every line on its casing at least 3 (WCAG 1.4.3, 1.4.11)', () => {
    for (const colour of [palette.text, palette.lighter, palette.amber]) {
      expect(contrastRatio(colour, palette.plate)).toBeGreaterThanOrEqual(4.5)
      expect(contrastRatio(colour, palette.rangePlate)).toBeGreaterThanOrEqual(4.5)
      expect(contrastRatio(colour, palette.card)).toBeGreaterThanOrEqual(4.5)
    }
    for (const [text, plate] of [
      [palette.text, palette.plate],
      [palette.lighter, palette.plate],
      [palette.amber, palette.rangePlate],
    ] as const)
      expect(contrastRatio(text, overWhite(plate, 0.9)), 'the thinnest plate over a white picture').toBeGreaterThanOrEqual(4.5)
    expect(contrastRatio(palette.accent, palette.card)).toBeGreaterThanOrEqual(4.5)
    for (const colour of [palette.hips, palette.shoulders, palette.limb, palette.other, palette.hairline])
      expect(contrastRatio(colour, palette.casing)).toBeGreaterThanOrEqual(3)
  })
})
