import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { allowsDropFrame, droppedEachMinute, formatTimecode, parseTimecode } from '../../../app/time/timecode'
import { rational } from '../../../app/time/rational'

const rates = [
  rational(24_000, 1001),
  rational(24),
  rational(25),
  rational(30_000, 1001),
  rational(30),
  rational(48),
  rational(50),
  rational(60_000, 1001),
  rational(60),
  rational(120_000, 1001),
  rational(120),
  rational(240),
]

describe('timecode', () => {
  it('comes back as the frame it was made from, at every rate, with and without drop frame', () => {
    fc.assert(
      fc.property(fc.constantFrom(...rates), fc.nat(2_000_000), fc.boolean(), (rate, frame, drop) => {
        const dropped = drop && allowsDropFrame(rate)
        expect(parseTimecode(formatTimecode(frame, rate, dropped), rate)).toEqual({ ok: true, value: frame })
      }),
      { numRuns: 2000 },
    )
  })
  it('counts every frame of the first 11 minutes upwards and skips 18 numbers in ten of them', () => {
    const written = new Set<string>()
    let before = ''
    for (let frame = 0; frame < 20_000; frame++) {
      const text = formatTimecode(frame, rational(30_000, 1001), true)
      expect(text > before).toBe(true)
      written.add(text)
      before = text
    }
    const skipped: string[] = []
    for (let number = 0; number < 18_000; number++) {
      const text = formatTimecode(number, rational(30)).replace(/:(?=\d\d$)/, ';')
      if (!written.has(text)) skipped.push(text)
    }
    expect(skipped).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9].flatMap((minute) => [`00:0${minute}:00;00`, `00:0${minute}:00;01`]))
  })
  it('knows the rates that have a drop-frame count', () => {
    expect(rates.map(droppedEachMinute)).toEqual([0, 0, 0, 2, 0, 0, 0, 4, 0, 8, 0, 0])
  })
  it('starts again after a day', () => {
    expect(formatTimecode(24 * 3600 * 25, rational(25))).toBe('00:00:00:00')
    expect(formatTimecode(2_589_408, rational(30_000, 1001), true)).toBe('00:00:00;00')
  })
  it.each([
    ['1:00:00:00', 'not-a-timecode'],
    ['00:00:00', 'not-a-timecode'],
    ['00:00:00.00', 'not-a-timecode'],
    ['00:60:00:00', 'number-out-of-range'],
    ['24:00:00:00', 'number-out-of-range'],
    ['00:00:00:30', 'number-out-of-range'],
    ['00:01:00;00', 'dropped-number'],
    ['00:01:00;01', 'dropped-number'],
  ])('%s is refused: %s', (text, code) => {
    expect(parseTimecode(text, rational(30_000, 1001))).toMatchObject({ ok: false, error: { code } })
  })
  it('is thrown at by wrong use', () => {
    expect(() => formatTimecode(-1, rational(25))).toThrow(RangeError)
    expect(() => formatTimecode(1.5, rational(25))).toThrow(RangeError)
    expect(() => formatTimecode(1, rational(24), true)).toThrow(RangeError)
  })
})
