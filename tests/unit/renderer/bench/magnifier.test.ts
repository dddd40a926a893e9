import fc from 'fast-check'
import { expect, it } from 'vitest'
import { magnifierPlace, SIDE } from '../../../../renderer/bench/magnifier'

it('should stand beside the point, on the side that has room, and never under a sheet or on the other clip’s half', () => {
  const room = { left: 12, top: 56, right: 1000, bottom: 600 }
  expect(magnifierPlace([400, 300], room)).toEqual([456, 300 - SIDE / 2])
  expect(magnifierPlace([900, 300], room)).toEqual([900 - 56 - SIDE, 300 - SIDE / 2])
  expect(magnifierPlace([400, 0], room)[1]).toBe(56)
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 1400, noNaN: true }),
      fc.double({ min: 0, max: 700, noNaN: true }),
      fc.integer({ min: 260, max: 1400 }),
      (x, y, right) => {
        const [left, top] = magnifierPlace([x, y], { ...room, right })
        expect(left).toBeGreaterThanOrEqual(12)
        expect(left + SIDE).toBeLessThanOrEqual(right)
        expect(top).toBeGreaterThanOrEqual(56)
        expect(top + SIDE).toBeLessThanOrEqual(600)
      },
    ),
  )
})

it('should not lie upon its own point, however narrow the stage', () => {
  const room = { left: 12, top: 56, right: 250, bottom: 600 }
  for (const y of [60, 200, 400, 590]) {
    const [left, top] = magnifierPlace([120, y], room)
    expect([y, 120 < left || 120 > left + SIDE || y < top || y > top + SIDE]).toEqual([y, true])
  }
})
