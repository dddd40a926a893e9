import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bitsApart, HASHED_SIDE, pictureHash, type PictureHash } from '../../../main/media/picture-hash'
import { random } from './moving-pictures'

const side = HASHED_SIDE
const picture = (of: (x: number, y: number) => number): Uint8Array =>
  Uint8Array.from({ length: side * side }, (_, i) => Math.max(0, Math.min(255, Math.round(of(i % side, Math.floor(i / side))))))
/// Things with edges, as pictures have them: each pixel the mean of what lies in it.
const scene = (seed: number): ((x: number, y: number) => number) => {
  const next = random(seed)
  const boxes = Array.from({ length: 14 }, () => ({
    x: next() * side,
    y: next() * side,
    wide: 2 + next() * 12,
    high: 2 + next() * 12,
    light: next() * 90 - 45,
  }))
  const covered = (at: number, from: number, to: number): number => Math.max(0, Math.min(at + 0.5, to) - Math.max(at - 0.5, from))
  return (x, y) =>
    120 + boxes.reduce((sum, box) => sum + box.light * covered(x, box.x, box.x + box.wide) * covered(y, box.y, box.y + box.high), 0)
}
const apart = (a: PictureHash, b: PictureHash): number => bitsApart(a.high, a.low, b.high, b.low)
const seeds = Array.from({ length: 200 }, (_, i) => i + 1)

describe('the hash of a picture', () => {
  it('counts bits as they are counted by hand', () => {
    fc.assert(
      fc.property(fc.nat(0xffffffff), fc.nat(0xffffffff), fc.nat(0xffffffff), fc.nat(0xffffffff), (a, b, c, d) => {
        const ones = (word: number): number => (word >>> 0).toString(2).replaceAll('0', '').length
        expect(bitsApart(a, b, c, d)).toBe(ones(a ^ c) + ones(b ^ d))
      }),
    )
  })
  it('differs by about half of its bits between pictures that have nothing to do with each other', () => {
    const bits = seeds.map((seed) => apart(pictureHash(picture(scene(seed))), pictureHash(picture(scene(seed + 1000)))))
    expect(bits.reduce((sum, each) => sum + each, 0) / bits.length).toBeCloseTo(32, -0.6)
    expect(bits.filter((each) => each <= 12)).toEqual([])
  })
  it.each([
    [
      'noise of 8 grey levels',
      (seed: number) => {
        const [of, next] = [scene(seed), random(seed + 77)]
        return (x: number, y: number) => of(x, y) + 8 * (next() + next() + next() - 1.5)
      },
    ],
    [
      'more contrast and light',
      (seed: number) => {
        const of = scene(seed)
        return (x: number, y: number) => 1.15 * (of(x, y) - 90) + 100
      },
    ],
    [
      'a shift of a third of a pixel',
      (seed: number) => {
        const of = scene(seed)
        return (x: number, y: number) => of(x + 0.33, y + 0.33)
      },
    ],
    [
      'a crop by a thirtieth',
      (seed: number) => {
        const of = scene(seed)
        return (x: number, y: number) => of(15.5 + (x - 15.5) * (29 / 30), 15.5 + (y - 15.5) * (29 / 30))
      },
    ],
  ])('hardly moves under %s: 12 bits at most in 198 of 200', (_name, changed) => {
    const near = seeds.filter((seed) => apart(pictureHash(picture(scene(seed))), pictureHash(picture(changed(seed)))) <= 12)
    expect(near.length).toBeGreaterThanOrEqual(198)
  })
  it('is the mirrored one of the mirrored picture', () => {
    for (const seed of seeds.slice(0, 40)) {
      const of = scene(seed)
      const [here, there] = [pictureHash(picture(of)), pictureHash(picture((x, y) => of(side - 1 - x, y)))]
      expect(bitsApart(here.mirroredHigh, here.mirroredLow, there.high, there.low)).toBeLessThanOrEqual(2)
    }
  })
  it('says where nothing is seen', () => {
    const next = random(5)
    expect(pictureHash(picture(() => 16)).blank).toBe(true)
    expect(pictureHash(picture(() => 128 + 2 * next())).blank).toBe(true)
    expect(pictureHash(picture(scene(3))).blank).toBe(false)
  })
})
