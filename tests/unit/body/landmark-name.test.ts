import { describe, expect, test } from 'vitest'
import { sayLine } from '../../../app/body/body-line'
import { figureHeightOf } from '../../../app/body/figure-height'
import { hallLines, isOfHall, lineEnds, placeOf, sayPoint, sideOf, storedName } from '../../../app/body/landmark-name'
import type { Point } from '../../../app/project/fields'

describe('names of points', () => {
  test('hold a place and, at the end, a side', () => {
    expect([sideOf('knee.left'), sideOf('hip.mid'), sideOf('head.top'), sideOf('ring.corner.1')]).toEqual(['left', 'mid', null, null])
    expect([placeOf('knee.left'), placeOf('head.top')]).toEqual(['knee', 'head.top'])
  })
  test('of lead and rear become sides by the lead side, and nothing without it', () => {
    expect([
      storedName('knee.lead', 'right'),
      storedName('knee.rear', 'right'),
      storedName('knee.rear', null),
      storedName('knee.left', null),
    ]).toEqual(['knee.right', 'knee.left', null, 'knee.left'])
  })
  test('are said by lead and rear where that is known', () => {
    expect([sayPoint('knee.left', 'left'), sayPoint('knee.left', null), sayPoint('head.top', 'left'), sayPoint('hip.mid', null)]).toEqual([
      'lead knee',
      'left knee',
      'head top',
      'middle of the hips',
    ])
  })
})

test('lines at right angles are named by their kind and order, belong to nobody’s body, and begin with the upright line that tells roll', () => {
  expect(lineEnds('across', 1)).toEqual(['across.3', 'across.4'])
  expect(lineEnds('upright', 0)).toEqual([...hallLines.upright])
  expect([...lineEnds('along', 0), ...lineEnds('across', 5)].every(isOfHall)).toBe(true)
  expect(lineEnds('across', 1).map((name) => sayPoint(name, null))).toEqual(['line 2 across, first end', 'line 2 across, second end'])
})

test('lines of the body are said by their own names', () => {
  expect(sayLine('hip.mid', 'shoulder.mid', null)).toBe('trunk')
  expect(sayLine('ankle.right', 'knee.right', 'left')).toBe('rear shin')
  expect(sayLine('hip.left', 'hip.right', null)).toBe('hip line')
  expect(sayLine('chin', 'fist.left', 'left')).toBe('line from chin to lead fist')
})

describe("a figure's height", () => {
  const pose: Record<string, Point> = { 'hip.left': [0, 0], 'knee.left': [0, 98], 'ankle.left': [0, 196.4] }
  const placed = (name: string): Point | null => pose[name] ?? null
  test("comes from a whole leg, by Winter's shares", () => {
    expect(figureHeightOf(placed, null)).toBeCloseTo(400, 6)
  })
  test('is not less for a bent knee', () => {
    expect(figureHeightOf((n) => (n === 'ankle.left' ? [98.4, 98] : placed(n)), null)).toBeCloseTo(400, 6)
  })
  test('is unknown without a limb', () => {
    expect(figureHeightOf(() => null, null)).toBeNull()
  })
})
