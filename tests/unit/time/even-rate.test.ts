import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { evenRate, plainestBetween, USUAL_RATES } from '../../../app/time/even-rate'
import { frameAtSeconds, frameTableOf, secondsAt } from '../../../app/time/frame-table'
import { intervalsOf } from '../../../app/time/intervals'
import { formatRational, rational, type Rational } from '../../../app/time/rational'

const milliseconds = rational(1, 1000)
const times = (frames: number, rate: Rational, units: number, round: (x: number) => number, start = 0): Float64Array =>
  Float64Array.from({ length: frames }, (_, i) => start + round((i * rate.d * units) / rate.n))

describe('evenRate', () => {
  it('finds every usual rate behind a millisecond clock, rounded or cut off, wherever the film starts', () => {
    for (const rate of USUAL_RATES)
      for (const round of [Math.round, Math.floor])
        // At 480 frames a second and more, a millisecond is too coarse to tell even from uneven.
        if (rate.n / rate.d <= 300) expect(evenRate(times(400, rate, 1000, round, 1466), milliseconds), formatRational(rate)).toEqual(rate)
  })

  it('tells 29.97 from 30, 23.976 from 24 and 59.94 from 60 within two seconds of a millisecond clock', () => {
    for (const [n, d] of [
      [30000, 1001],
      [24000, 1001],
      [60000, 1001],
    ] as const)
      for (const rate of [rational(n, d), rational(n / 1000)])
        expect(evenRate(times(Math.ceil((2 * rate.n) / rate.d), rate, 1000, Math.round), milliseconds)).toEqual(rate)
  })

  it('keeps an odd rate exact where the clock is fine', () => {
    const pts = Float64Array.from({ length: 138 }, (_, i) => i * 72439)
    expect(evenRate(pts, rational(1, 8_694_000))).toEqual(rational(8_694_000, 72_439))
  })

  it('lets the container decide between rates that a short film cannot tell apart', () => {
    const pts = [0, 33, 67]
    expect(evenRate(pts, milliseconds, [rational(30000, 1001)])).toEqual(rational(30000, 1001))
    expect(evenRate(pts, milliseconds)).toEqual(rational(30))
  })

  it('does not believe a container whose rate the times contradict', () => {
    expect(evenRate(times(100, rational(25), 1000, Math.round), milliseconds, [rational(30)])).toEqual(rational(25))
  })

  it('has no rate for a film that varies, drops one frame, or has fewer than two frames', () => {
    expect(evenRate([0, 33, 67, 150, 183, 217], milliseconds)).toBeNull()
    const dropped = [...times(100, rational(30), 1000, Math.round)].filter((_, i) => i !== 50)
    expect(evenRate(dropped, milliseconds, [rational(30)])).toBeNull()
    expect(evenRate([0], milliseconds)).toBeNull()
    expect(evenRate([], milliseconds)).toBeNull()
    expect(evenRate([5, 5], milliseconds)).toBeNull()
  })

  it('explains every time to within the clock, whatever rate it answers', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5000, max: 240_000 }), fc.integer({ min: 2, max: 3000 }), (milliHertz, frames) => {
        const pts = times(frames, rational(milliHertz, 1000), 1000, Math.round)
        const rate = evenRate(pts, milliseconds)
        expect(rate).not.toBeNull()
        const worst = pts.reduce((most, time, i) => Math.max(most, Math.abs(time - (i * rate!.d * 1000) / rate!.n)), 0)
        expect(worst).toBeLessThanOrEqual(2)
      }),
      { numRuns: 150 },
    )
  })
})

describe('plainestBetween', () => {
  it('answers the smallest denominator inside', () => {
    expect(plainestBetween(0.3, 0.34)).toEqual(rational(1, 3))
    expect(plainestBetween(2.9, 3.1)).toEqual(rational(3))
    expect(plainestBetween(3.14, 3.15)).toEqual(rational(22, 7))
  })
})

describe('frameTableOf and intervalsOf', () => {
  it('times an even film by its rate and a varying one by its own times', () => {
    const even = frameTableOf(times(90, rational(30000, 1001), 1000, Math.round), milliseconds, 33)
    expect(secondsAt(even, 60)).toBeCloseTo(2.002, 9)
    expect(intervalsOf(even)?.kind).toBe('even')
    const varying = frameTableOf(Float64Array.from([0, 33, 67, 150, 183, 217]), milliseconds, 40)
    expect(varying.end).toBe(257)
    expect(secondsAt(varying, 3)).toBe(0.15)
    expect(intervalsOf(varying)?.kind).toBe('variable')
    expect(frameTableOf(Float64Array.from([0, 33, 67, 150, 183, 217]), milliseconds, null).end).toBe(251)
  })

  it('names missing frames, jitter and their places', () => {
    const dropped = Float64Array.from([...times(100, rational(30), 1000, Math.round)].filter((_, i) => i !== 50 && i !== 51 && i !== 70))
    const gaps = intervalsOf(frameTableOf(dropped, milliseconds, null))!
    expect(gaps.kind).toBe('gaps')
    expect(gaps.gaps.map((g) => [g.frame, Math.round(g.intervals)])).toEqual([
      [49, 3],
      [67, 2],
    ])
    const jitter = intervalsOf(
      frameTableOf(
        Float64Array.from({ length: 60 }, (_, i) => i * 3000 + (i % 3) * 90),
        rational(1, 90_000),
        null,
      ),
    )!
    expect(jitter.kind).toBe('jitter')
  })

  it('finds the frame on screen at a time, exactly at its start', () => {
    const table = frameTableOf(Float64Array.from([0, 33, 67, 150]), milliseconds, 40)
    expect([-1000, 0, 32, 33, 149, 150, 9000].map((ms) => frameAtSeconds(table, rational(ms, 1000)))).toEqual([-1, 0, 0, 1, 2, 3, 3])
  })
})
