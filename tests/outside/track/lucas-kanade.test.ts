import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { regionAround, type GreyPicture } from '../../../app/track/grey-picture'
import { flowOf, LEVELS, REACH } from '../../../app/track/lucas-kanade'

/// Against OpenCV 4.6's pyramidal Lucas–Kanade on an analytic pattern (geometry_cv.json, computed; see its NOTICE): there the
/// patch is 21 px wide and unweighed, so the true shift is what both are held to, and its own error is the yardstick.
interface Case {
  readonly shift: readonly [number, number]
  readonly p0: readonly (readonly [number, number])[]
  readonly p1_cv2: readonly (readonly [number, number])[]
}
const { lk_analytic_pattern: given } = JSON.parse(readFileSync('tests/data/numeric/geometry_cv.json', 'utf8')) as {
  lk_analytic_pattern: { cases: readonly Case[] }
}

function pattern(dx: number, dy: number): GreyPicture {
  const data = new Uint8Array(128 * 128)
  for (let j = 0; j < 128; j++)
    for (let i = 0; i < 128; i++) {
      const [x, y] = [i - dx, j - dy]
      data[j * 128 + i] = Math.max(
        0,
        Math.min(
          255,
          Math.round(
            128 +
              45 * Math.sin(0.31 * x + 0.2) * Math.cos(0.27 * y) +
              30 * Math.sin(0.13 * x + 0.19 * y) +
              25 * Math.cos(0.45 * y - 0.08 * x),
          ),
        ),
      )
    }
  return { width: 128, height: 128, data }
}

test.each(given.cases)('a shift of $shift is found within 0.02 px of the truth and 0.03 px of OpenCV', ({ shift, p0, p1_cv2 }) => {
  p0.forEach(([i, j], n) => {
    const [x, y] = [i + 0.5, j + 0.5]
    const found = flowOf(
      regionAround(pattern(0, 0), x, y, REACH, LEVELS),
      x,
      y,
      regionAround(pattern(...shift), x, y, REACH, LEVELS),
      x,
      y,
    )!
    expect(Math.hypot(found.x - x - shift[0], found.y - y - shift[1])).toBeLessThan(0.02)
    expect(Math.hypot(found.x - 0.5 - p1_cv2[n]![0], found.y - 0.5 - p1_cv2[n]![1])).toBeLessThan(0.03)
  })
})
