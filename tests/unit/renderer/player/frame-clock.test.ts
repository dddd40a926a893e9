import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { filmClock, standInClock } from '../../../../renderer/player/frame-clock'

const film = (pts: readonly number[], n: number, d: number) => filmClock({ pts: [...pts], base: { n, d }, end: (pts.at(-1) ?? 0) + 1 })

describe('the clock of a film', () => {
  it('should find every frame from the seconds of its own time, whatever the base', () => {
    const bases = fc.constantFrom([1, 1000], [1, 90_000], [1001, 60_000], [1, 15_360], [1, 1_000_000], [1, 12_800] as const)
    fc.assert(
      fc.property(
        bases,
        fc.integer({ min: -5000, max: 100_000_000 }),
        fc.array(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 60 }),
        ([n, d], start, steps) => {
          const pts = steps.reduce<number[]>((all, step) => [...all, (all.at(-1) as number) + step], [start])
          const clock = film(pts, n as number, d as number)
          pts.forEach((time, frame) => expect(clock.frameAt((time * (n as number)) / (d as number))).toBe(frame))
        },
      ),
    )
  })

  it('should know no frame at a time at which none begins', () => {
    const clock = film([0, 512, 1024], 1, 15_360)
    expect(clock.frameAt(256 / 15_360)).toBeNull()
    expect(clock.frameAt(-512 / 15_360)).toBeNull()
    expect(film([], 1, 1000).frameAt(0)).toBeNull()
  })

  it('should ask in the middle of a frame’s showing', () => {
    const clock = film([0, 10, 40], 1, 1000)
    expect(clock.middleOf(0)).toBeCloseTo(0.005, 12)
    expect(clock.middleOf(1)).toBeCloseTo(0.025, 12)
    expect(clock.middleOf(2)).toBeCloseTo(0.0405, 12)
  })
})

it('should count a stand-in’s frames at its own rate', () => {
  const clock = standInClock(100, 60)
  for (let frame = 0; frame < 100; frame++) expect(clock.frameAt(frame / 60)).toBe(frame)
  expect(clock.frameAt(100 / 60)).toBeNull()
  expect(clock.frameAt(0.5 / 60)).toBeNull()
  expect(clock.middleOf(7)).toBeCloseTo(7.5 / 60, 12)
})
