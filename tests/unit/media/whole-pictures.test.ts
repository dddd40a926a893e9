import fc from 'fast-check'
import { expect, it } from 'vitest'
import { wholePictures } from '../../../main/media/whole-pictures'

it('raw pictures should come whole and in order, however their bytes were cut', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 20 }),
      fc.uint8Array({ maxLength: 200 }),
      fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 1, maxLength: 50 }),
      (size, bytes, cuts) => {
        const taken: number[][] = []
        const add = wholePictures(size, (picture) => taken.push([...picture]))
        for (let at = 0, i = 0; at < bytes.length; i++) {
          const end = at + (cuts[i % cuts.length] ?? 1)
          add(bytes.subarray(at, end))
          at = end
        }
        expect(taken).toEqual(
          Array.from({ length: Math.floor(bytes.length / size) }, (_, i) => [...bytes.subarray(i * size, (i + 1) * size)]),
        )
      },
    ),
  )
})
