import { describe, expect, test } from 'vitest'
import { blurOf, placingSigma, UNSTATED_BLUR_SHARE } from '../../../app/measure/located'
import { knee, read } from './scene'

/// What a blurred point costs. The formula and the table's row for "blur/guess" (σ 8 px on a figure of 400 px) are DOMAIN §2.2's,
/// judgements [J]; no outside source.

describe('a blurred point', () => {
  test('of no stated length widens every value that stands on it: σ 8 px on a figure of 400 px', () => {
    expect(placingSigma({ seen: 'blurred' }, 400)).toBeCloseTo(8, 6)
    const [sharp, blurred] = [read(knee, { sample: {} }), read(knee, { sample: { seen: 'blurred' } })]
    expect(sharp.parts.map(({ name }) => name)).not.toContain('blur')
    expect(blurred.parts.map(({ name }) => name)).toContain('blur')
    expect(blurred.u!).toBeGreaterThan(1.5 * sharp.u!)
  })

  test('of a stated length is reckoned with that, in every repeat on its frame', () => {
    const of = (blur: number) => read(knee, { sample: { seen: 'blurred', blur } })
    expect(of(4).u!).toBeLessThan(read(knee, { sample: { seen: 'blurred' } }).u!)
    expect(of(36).U!).toBeGreaterThan(of(4).U!)
    expect(of(36).reasons).toContain('blur-long')
    expect(blurOf([{ seen: 'blurred' }, { seen: 'blurred', blur: 6 }, {}], 400)).toBe(6)
    expect(placingSigma({ seen: 'blurred', blur: 24 }, 400)).toBeCloseTo(Math.sqrt(2 ** 2 + 4 ** 2 + 24 ** 2 / 12), 9)
  })

  test('whose σ is stated stays as it is: everything is in that', () => {
    const stated = { sigma: 4, seen: 'blurred' } as const
    expect(blurOf([stated], 400)).toBe(0)
    expect(read(knee, { sample: stated }).u).toBe(read(knee, { sample: { sigma: 4 } }).u)
  })

  test('is taken for about a tenth of a metre on a person of 1.75 m', () => {
    expect(UNSTATED_BLUR_SHARE * 1.75).toBeCloseTo(0.1, 2)
  })
})
