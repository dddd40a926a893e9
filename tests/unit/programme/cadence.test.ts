import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isEvenCadence, outputFramesOf, walkFrames } from '../../../app/programme/cadence'
import { evenFrameTable, exactSecondsAt, frameAtSeconds, type FrameTable } from '../../../app/time/frame-table'
import { rational } from '../../../app/time/rational'

const rates = [
  rational(24000, 1001),
  rational(25),
  rational(30000, 1001),
  rational(50),
  rational(60000, 1001),
  rational(60),
  rational(120),
  rational(240),
]
const speeds = [rational(1), rational(1, 2), rational(1, 4), rational(1, 8), rational(2, 7), rational(3)]
const uneven = (intervals: readonly number[]): FrameTable => {
  const pts = [0]
  for (const i of intervals) pts.push(pts.at(-1)! + i)
  return { base: rational(1, 1000), pts: pts.slice(0, -1), end: pts.at(-1)!, rate: null }
}

describe('walking through footage', () => {
  it('should show the last frame that has begun, at every rate and speed', () => {
    for (const rate of rates)
      for (const outputRate of [rational(25), rational(30), rational(50), rational(60)])
        for (const pace of speeds) {
          const table = evenFrameTable(100, rate)
          const frames = walkFrames({ table, at: 10, anchor: 0, pace, outputRate, from: 10, to: 90 }, 60)
          frames.forEach((frame, n) => {
            // Exact integers: frame's time ≤ start + n·pace/outputRate < next frame's time.
            const left = BigInt(frame - 10) * BigInt(rate.d) * BigInt(outputRate.n) * BigInt(pace.d)
            const right = BigInt(n) * BigInt(pace.n) * BigInt(outputRate.d) * BigInt(rate.n)
            const next = BigInt(frame - 9) * BigInt(rate.d) * BigInt(outputRate.n) * BigInt(pace.d)
            expect(left <= right && (right < next || frame === 89)).toBe(true)
          })
        }
  })

  it('should put the anchor frame on its output frame and never run backwards, whatever the intervals', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 90 }), { minLength: 20, maxLength: 80 }),
        fc.constantFrom(...speeds),
        fc.integer({ min: 0, max: 40 }),
        (intervals, pace, anchor) => {
          const table = uneven(intervals)
          const at = Math.floor(intervals.length / 2)
          const frames = walkFrames({ table, at, anchor, pace, outputRate: rational(60), from: 0, to: intervals.length }, anchor + 40)
          expect(frames[anchor]).toBe(at)
          for (let n = 1; n < frames.length; n++) expect(frames[n]!).toBeGreaterThanOrEqual(frames[n - 1]!)
          if (anchor > 0) expect(frames[anchor - 1]!).toBeLessThanOrEqual(at)
        },
      ),
    )
  })

  it('should follow the real times of a variable rate, not its nominal one', () => {
    const table = uneven([25, 42, 25, 42, 25, 42])
    expect([...walkFrames({ table, at: 0, anchor: 0, pace: rational(1), outputRate: rational(100), from: 0, to: 6 }, 12)]).toEqual([
      0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 3, 3,
    ])
  })

  it('should find every frame again from its own time', () => {
    for (const rate of rates) {
      const table = evenFrameTable(50, rate)
      for (let i = 0; i < 50; i++) expect(frameAtSeconds(table, exactSecondsAt(table, i))).toBe(i)
    }
  })
})

describe('lengths and cadence', () => {
  it('should give a quarter-speed second of 60 frames 240 output frames at 60', () => {
    expect(outputFramesOf(evenFrameTable(120, rational(60)), 30, 90, rational(1, 4), rational(60))).toBe(240)
  })

  it('should know the even cadences of the trade', () => {
    expect(isEvenCadence(rational(60), rational(1, 4), rational(60))).toBe(true)
    expect(isEvenCadence(rational(30), rational(1, 2), rational(60))).toBe(true)
    expect(isEvenCadence(rational(60), rational(1), rational(30))).toBe(true)
    expect(isEvenCadence(rational(25), rational(1), rational(60))).toBe(false)
    expect(isEvenCadence(null, rational(1), rational(60))).toBe(false)
  })
})
