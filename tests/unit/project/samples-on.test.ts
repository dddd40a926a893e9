import fc from 'fast-check'
import { expect, it } from 'vitest'
import { samplesOn } from '../../../app/project/samples-on'

it('should find the placings of a frame, in their order, and no other', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 30 })), fc.integer({ min: -1, max: 31 }), (frames, frame) => {
      const samples = frames.sort((a, b) => a - b).map((on, i) => ({ frame: on, at: [i, 0] as [number, number] }))
      expect(samplesOn(samples, frame)).toEqual(samples.filter((sample) => sample.frame === frame))
    }),
  )
})
