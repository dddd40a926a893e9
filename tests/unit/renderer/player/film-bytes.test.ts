import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { FilmBytes } from '../../../../renderer/player/film-bytes'

/// A file's bytes come page by page: what is read is what stands in the file, and no question is without an end.

const SIZE = 3_000_017
const file = Uint8Array.from({ length: SIZE }, (_, i) => (i * 2654435761) >>> 24)

function opened(fails: (asked: number) => boolean = () => false) {
  const asked: (readonly [number, number])[] = []
  const bytes = new FilmBytes((from, to) => {
    asked.push([from, to])
    if (fails(asked.length)) return Promise.reject(new Error('broken off'))
    return Promise.resolve({ bytes: file.slice(from, to), size: SIZE })
  })
  return { bytes, asked }
}

describe('the bytes of a film', () => {
  it('should be those of the file, wherever and however much is read', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(SIZE - 1), fc.integer({ min: 1, max: 900_000 })), { minLength: 1, maxLength: 8 }),
        async (spans) => {
          const { bytes, asked } = opened()
          expect(await bytes.size()).toBe(SIZE)
          for (const [from, length] of spans) {
            const to = Math.min(SIZE, from + length)
            expect(Buffer.compare(await bytes.read(from, to), file.subarray(from, to))).toBe(0)
          }
          expect(Math.max(...asked.map(([from, to]) => to - from))).toBe(256 * 1024)
        },
      ),
      { numRuns: 40 },
    )
  })

  it('should be asked for once while they are near, and a page ahead where they are read in order', async () => {
    const { bytes, asked } = opened()
    await bytes.size()
    for (let at = 0; at < 400_000; at += 1000) await bytes.read(at, at + 1000)
    expect(asked.map(([from]) => from / (256 * 1024))).toEqual([0, 1, 2])
  })

  it('should be asked for again when an answer breaks off, three times and not for ever', async () => {
    const twice = opened((asked) => asked === 2 || asked === 3)
    await twice.bytes.size()
    expect(await twice.bytes.read(600_000, 600_004)).toEqual(file.slice(600_000, 600_004))
    const never = opened((asked) => asked > 1)
    await never.bytes.size()
    await expect(never.bytes.read(600_000, 600_004)).rejects.toThrow('broken off')
    expect(never.asked.length).toBe(4)
  })

  it('should be asked for anew after a beginning that failed', async () => {
    const { bytes } = opened((asked) => asked <= 3)
    await expect(bytes.size()).rejects.toThrow('broken off')
    expect(await bytes.size()).toBe(SIZE)
  })

  it('should be refused beyond the end', async () => {
    const { bytes } = opened()
    await expect(bytes.read(SIZE - 2, SIZE + 1)).rejects.toThrow(RangeError)
  })
})
