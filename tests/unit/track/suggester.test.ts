import { describe, expect, it } from 'vitest'
import { definitionOf } from '../../../app/body/body-points'
import { offered, readSuggested, type Suggester } from '../../../app/track/suggester'

/// A stand-in for a model: it always sees the same.
const double: Suggester<{ readonly width: number; readonly height: number }> = {
  name: 'double 1',
  suggest: () =>
    Promise.resolve([
      { point: 'knee.left', at: [10, 20], confidence: 0.5 },
      { point: 'knee.left', at: [12, 20], confidence: 0.9 },
      { point: 'tail.left', at: [10, 20], confidence: 0.9 },
      { point: 'hip.left', at: [-3, 20], confidence: 0.9 },
      { point: 'hip.right', at: [30, 20], confidence: 0.1 },
      { point: 'elbow.left', at: [30, 20], confidence: Number.NaN },
    ]),
}

describe('what a machine suggests', () => {
  it('should be offered once a point, the surest, where the point is known, inside and confident enough', async () => {
    const picture = { width: 64, height: 36 }
    expect(offered(await double.suggest(picture), picture, (point) => definitionOf(point) !== null)).toEqual([
      { point: 'knee.left', at: [12, 20], confidence: 0.9 },
    ])
  })

  it('should be read only where it is what was agreed on', () => {
    const point = { point: 'knee.left', at: [1, 2], confidence: 0.5 }
    expect(readSuggested([point, { ...point, more: 'is passed over' }])).toEqual([point, point])
    for (const wrong of [
      null,
      'knee',
      { point },
      [{ ...point, at: [1] }],
      [{ ...point, at: ['1', 2] }],
      [{ ...point, confidence: NaN }],
      [{ ...point, point: 'x'.repeat(81) }],
      Array(1001).fill(point),
    ])
      expect(readSuggested(wrong)).toBeNull()
  })
})
