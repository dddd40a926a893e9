import { expect, it } from 'vitest'
import { needsBlue, writeBlue } from '../../../renderer/player/exact-blue'

/// ITU-R BT.709-6: E'Cb = (E'B − E'Y) / 1.8556; 8-bit levels: Y = 219 E'Y + 16, Cb = 224 E'Cb + 128.
const blueOf = (luma: number, chroma: number): number =>
  Math.max(0, Math.min(255, Math.round(255 * ((luma - 16) / 219 + (1.8556 * (chroma - 128)) / 224))))

const layouts = {
  I420: [
    { offset: 0, stride: 6 },
    { offset: 20, stride: 4 },
    { offset: 30, stride: 4 },
  ],
  NV12: [
    { offset: 0, stride: 6 },
    { offset: 20, stride: 8 },
  ],
} as const

it.each(['I420', 'NV12'] as const)('should give every pixel of an odd picture its blue, from %s planes with rows of padding', (format) => {
  const [width, height] = [5, 3]
  const step = format === 'NV12' ? 2 : 1
  const planes = Uint8Array.from({ length: 64 }, (_, i) => (i * 89 + 16) % 256)
  const pixels = new Uint8ClampedArray(4 * width * height).fill(7)
  writeBlue(pixels, width, height, planes, layouts[format], step)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [luma, chroma] = layouts[format]
      const wanted = blueOf(planes[y * luma.stride + x]!, planes[chroma.offset + (y >> 1) * chroma.stride + (x >> 1) * step]!)
      expect(Math.abs(pixels[4 * (y * width + x) + 2]! - wanted), `${x}, ${y}`).toBeLessThanOrEqual(1)
      expect([pixels[4 * (y * width + x)], pixels[4 * (y * width + x) + 1], pixels[4 * (y * width + x) + 3]]).toEqual([7, 7, 7])
    }
})

it('should leave every other matrix, range and layout alone', () => {
  const frame = (matrix: string, fullRange: boolean, format: string) =>
    ({ colorSpace: { matrix, fullRange }, format }) as unknown as VideoFrame
  expect(
    [
      frame('bt709', false, 'I420'),
      frame('bt709', false, 'NV12'),
      frame('bt709', true, 'I420'),
      frame('smpte170m', false, 'I420'),
      frame('bt709', false, 'I420P10'),
    ].map(needsBlue),
  ).toEqual([true, true, false, false, false])
})
