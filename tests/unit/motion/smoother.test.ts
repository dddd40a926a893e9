import { describe, expect, test } from 'vitest'
import { dualPass, filterBothWays, singlePass } from '../../../app/motion/butterworth'
import { firstDifferences } from '../../../app/motion/derivative'
import { paddingFor, smootherOf, weighed } from '../../../app/motion/smoother'

const times = Array.from({ length: 40 }, (_, i) => i / 120)
const wave = times.map((t) => Math.sin(2 * Math.PI * 2 * t) + 0.1 * Math.sin(2 * Math.PI * 40 * t))

describe("a smoother's weights", () => {
  test('give what filtering and differencing give', () => {
    const smoother = smootherOf(times, true, 10)!
    const filtered = filterBothWays(dualPass(120, 10), wave, paddingFor(10 / 120))
    const rates = firstDifferences(filtered, 1 / 120)
    times.forEach((_, i) => {
      expect(weighed(smoother.value[i]!, wave)).toBeCloseTo(filtered[i]!, 9)
      expect(weighed(smoother.rate[i]!, wave)).toBeCloseTo(rates[i]!, 6)
    })
  })
  test('leave a straight line as it is, evenly spaced or not', () => {
    const uneven = times.map((t, i) => t + (i % 3) * 0.001)
    for (const [at, even] of [
      [times, true],
      [uneven, false],
    ] as const) {
      const smoother = smootherOf(at, even, 8)!
      const line = at.map((t) => 3 + 7 * t)
      at.slice(1, -1).forEach((_, i) => expect(weighed(smoother.rate[i + 1]!, line)).toBeCloseTo(7, 2))
    }
  })
  test('are none for fewer than five samples, or a cut-off beyond half the rate', () => {
    expect(smootherOf(times.slice(0, 4), true, 10)).toBeNull()
    expect(smootherOf(times, true, 60)).toBeNull()
    expect(() => singlePass(30, 15)).toThrow(RangeError)
  })
})
