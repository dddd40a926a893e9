import fc from 'fast-check'
import { expect, it } from 'vitest'
import { heardSamples, sampleClock, samplesAt } from '../../../app/time/sample-clock'

const RATE = 48_000

it('should know nothing before it was told', () => {
  expect(samplesAt(sampleClock(RATE), 1000)).toBeNull()
})

it('should count on between one word and the next, and never below none', () => {
  const clock = heardSamples(sampleClock(RATE), 2048, 1000)
  expect(samplesAt(clock, 1000)).toBeCloseTo(2048, 6)
  expect(samplesAt(clock, 1010)).toBeCloseTo(2528, 6)
  expect(samplesAt(clock, 10)).toBe(0)
})

it('should be off by no more than the least late word, however late the others come', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 5, max: 400 }), { minLength: 1, maxLength: 60 }),
      fc.nat(59),
      fc.integer({ min: 0, max: 5 }),
      (late, which, least) => {
        const delays = late.with(which % late.length, least)
        const clock = delays.reduce(
          (before, delay, i) => heardSamples(before, 2048 * (i + 1), 5000 + (2048_000 * (i + 1)) / RATE + delay),
          sampleClock(RATE),
        )
        const ms = 5000 + (2048_000 * delays.length) / RATE + 500
        const truth = ((ms - 5000) * RATE) / 1000
        expect(truth - samplesAt(clock, ms)!).toBeCloseTo((least * RATE) / 1000, 3)
      },
    ),
  )
})

it('should follow a microphone that lost samples, once the words before are forgotten', () => {
  let clock = sampleClock(RATE)
  for (let i = 1; i <= 200; i++) clock = heardSamples(clock, 2048 * i - (i > 100 ? 4800 : 0), (2048_000 * i) / RATE)
  expect(samplesAt(clock, (2048_000 * 200) / RATE)).toBeCloseTo(2048 * 200 - 4800, 3)
})
