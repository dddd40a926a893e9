import { describe, expect, it } from 'vitest'
import { definitionOf } from '../../../app/body/body-points'
import { offered, type Suggester } from '../../../app/track/suggester'

/// A stand-in for a model: it always sees the same.
const double: Suggester = {
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
    const picture = { width: 64, height: 36, data: new Uint8Array(64 * 36) }
    expect(offered(await double.suggest(picture), picture, (point) => definitionOf(point) !== null)).toEqual([{ point: 'knee.left', at: [12, 20], confidence: 0.9 }])
  })
})
