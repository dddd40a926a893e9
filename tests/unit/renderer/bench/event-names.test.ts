import { describe, expect, it } from 'vitest'
import { spreadNames, type StripName } from '../../../../renderer/bench/event-names'

const apart = (names: readonly StripName[], at: readonly number[]): boolean =>
  names.every(({ half }, i) => i === 0 || at[i]! - at[i - 1]! >= half + names[i - 1]!.half - 1e-9)

describe('names over the time strip', () => {
  it('should leave names where they are that have room', () =>
    expect(
      spreadNames(
        [
          { mid: 100, half: 20 },
          { mid: 200, half: 30 },
        ],
        0,
        1000,
      ),
    ).toEqual([100, 200]))
  it('should move two that meet by as much to either side', () =>
    expect(
      spreadNames(
        [
          { mid: 100, half: 30 },
          { mid: 120, half: 30 },
        ],
        0,
        1000,
      ),
    ).toEqual([80, 140]))
  it('should push names inward at either end', () => {
    expect(
      spreadNames(
        [
          { mid: 5, half: 30 },
          { mid: 40, half: 30 },
        ],
        0,
        1000,
      ),
    ).toEqual([30, 90])
    expect(
      spreadNames(
        [
          { mid: 960, half: 30 },
          { mid: 995, half: 30 },
        ],
        0,
        1000,
      ),
    ).toEqual([910, 970])
  })
  it('should know of none', () => expect(spreadNames([], 0, 100)).toEqual([]))
  it('should keep any names apart, and none further off than another placing would on the whole', () => {
    let seed = 7
    const chance = (): number => (seed = (seed * 16807) % 2147483647) / 2147483647
    for (let round = 0; round < 200; round++) {
      const names = Array.from({ length: 1 + Math.floor(chance() * 8) }, () => ({
        mid: 300 + chance() * 400,
        half: 10 + chance() * 40,
      })).sort((a, b) => a.mid - b.mid)
      const at = spreadNames(names, -1e6, 1e6)
      expect(apart(names, at)).toBe(true)
      const off = (places: readonly number[]): number => places.reduce((sum, place, i) => sum + (place - names[i]!.mid) ** 2, 0)
      for (let other = 0; other < 20; other++) {
        const moved = at.map((place) => place + (chance() - 0.5) * 6)
        if (apart(names, moved)) expect(off(moved)).toBeGreaterThanOrEqual(off(at) - 1e-6)
      }
    }
  })
})
