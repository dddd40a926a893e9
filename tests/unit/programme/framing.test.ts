import fc from 'fast-check'
import { expect, it } from 'vitest'
import { betweenRectangles, cellsOf, fittedInto, moveProgress, reshaped, shownRectangle } from '../../../app/programme/framing'

const picture = { width: 1280, height: 720 }

it('should keep a shown rectangle inside the picture, on even pixels', () => {
  fc.assert(
    fc.property(
      fc.tuple(
        fc.double({ min: -3000, max: 3000, noNaN: true }),
        fc.double({ min: -3000, max: 3000, noNaN: true }),
        fc.double({ min: 1, max: 5000, noNaN: true }),
        fc.double({ min: 1, max: 5000, noNaN: true }),
      ),
      (wanted) => {
        const [x, y, w, h] = shownRectangle(wanted, picture)
        expect([x % 2, y % 2, w % 2, h % 2].every((r) => r === 0)).toBe(true)
        expect(x >= 0 && y >= 0 && w >= 2 && h >= 2 && x + w <= 1280 && y + h <= 720).toBe(true)
      },
    ),
  )
  expect(shownRectangle(undefined, { width: 853, height: 481 })).toEqual([0, 0, 853, 481])
})

it('should letterbox without stretching by more than a pixel', () => {
  expect(fittedInto([0, 0, 1280, 720], [0, 0, 1080, 1920])).toEqual([0, 656, 1080, 608])
  expect(fittedInto([0, 0, 640, 480], [0, 0, 1920, 1080])).toEqual([240, 0, 1440, 1080])
})

it('should bring the second rectangle of a move to the shape of the first, inside the picture', () => {
  const [x, y, w, h] = reshaped([1200, 600, 80, 120], { width: 16, height: 9 }, picture)
  expect(w / h).toBeCloseTo(16 / 9)
  expect(x + w).toBeLessThanOrEqual(1280)
  expect(y + h).toBeLessThanOrEqual(720)
  expect(h).toBeCloseTo(120)
})

it('should begin and end a move at rest', () => {
  expect(moveProgress(0, 100)).toBe(0)
  expect(moveProgress(99, 100)).toBe(1)
  expect(moveProgress(0, 1)).toBe(0)
  expect(moveProgress(1, 100)).toBeLessThan(0.001)
  expect(betweenRectangles([0, 0, 100, 100], [50, 50, 50, 50], 0.5)).toEqual([25, 25, 75, 75])
})

it('should leave no cell outside the canvas and no two overlapping', () => {
  for (const layout of ['beside', 'above'] as const)
    for (const count of [2, 3, 4]) {
      const cells = cellsOf(count, layout, { width: 1920, height: 1080 })
      const along = layout === 'beside' ? 0 : 1
      cells.forEach((cell, i) => {
        expect(cell[along] + cell[along + 2]!).toBeLessThanOrEqual(layout === 'beside' ? 1920 : 1080)
        if (i > 0) expect(cell[along]).toBeGreaterThanOrEqual(cells[i - 1]![along] + cells[i - 1]![along + 2]!)
      })
    }
})
