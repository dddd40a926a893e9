import { describe, expect, test } from 'vitest'
import { range, spoken, valueWithError } from '../../../app/measure/wording'
import { reasons, weightiestFirst } from '../../../app/measure/reason'

describe('rounding follows U', () => {
  test.each([
    [145.4, 11.2, '°', '145° ± 12°'],
    [145.4, 12, '°', '145° ± 12°'],
    [-0.4, 0.2, '°', '0° ± 1°'],
    [-15.2, 5.1, '°', '−15° ± 6°'],
    [0.3, 0.0272, 's', '0.300 s ± 0.028 s'],
    [1.004, 0.25, 'head heights', '1.00 ± 0.25 head heights'],
    [0.3, 0.0999, 's', '0.30 s ± 0.10 s'],
    [1234.6, 127, '°/s', '1230 °/s ± 130 °/s'],
    [2, 0, 'm', '2 ± 0 m'],
  ])('%f ± %f %s is written %s', (value, U, unit, written) => {
    expect(valueWithError(value, U, unit)).toBe(written)
  })

  test('ranges of angles go outwards to whole fives', () => {
    expect(range(22.1, 67.9, '°')).toBe('roughly 20–70°')
    expect(range(20, 70, '°')).toBe('roughly 20–70°')
    expect(range(-3, 54, '°')).toBe('roughly −5–+55°')
  })

  test('from U of 8° an angle is said with about and rounded to five', () => {
    expect(spoken(147, 7.9, '°')).toBe('147 degrees')
    expect(spoken(147, 8, '°')).toBe('about 145 degrees')
    expect(spoken(-12, 9, '°')).toBe('about minus 10 degrees')
  })
})

describe('reasons', () => {
  test('come once each, the weightiest first', () => {
    expect(weightiestFirst(['single-click', 'off-frame', 'uncertainty-over-20', 'single-click'])).toEqual([
      'off-frame',
      'uncertainty-over-20',
      'single-click',
    ])
  })

  test('have wording and advice for a lay reader', () => {
    for (const { wording, advice } of Object.values(reasons)) {
      expect(wording).toMatch(/^[^.]+$/)
      expect(advice).toMatch(/\.$/)
    }
  })
})
