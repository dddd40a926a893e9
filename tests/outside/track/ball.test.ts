import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { Point } from '../../../app/project/fields'
import { trackPoints } from '../../../app/track/track-run'
import { CIRCLE_95 } from '../../../app/track/tracked-error'
import { greysOf } from '../../track-trial'

/// Against the centroid track of the largest bright blob of a ball in free flight (BMC notebooks, M. Duarte and co-authors,
/// CC BY 4.0). The blob's centroid is in pixel indices or in corners' pixels, half a pixel apart: the file does not say, so
/// the nearer is taken.
test('the ball is followed within 1 px of the stored track for 60 frames, sure throughout', async () => {
  const greys = await greysOf('tests/data/video/bmc_projetil.mp4', 1080, 1920)
  const track = readFileSync('tests/data/video/bmc_projetil_blob_track_px.csv', 'utf8')
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map((line): Point => {
      const [, , x, y] = line.split(',').map(Number) as [number, number, number, number]
      return [x + 0.5, y + 0.5]
    })
  const plan = {
    from: 0,
    last: 60,
    points: [{ point: 'ball', kind: 'mark', at: track[0]!, to: null }],
    figureHeight: null,
    rate: 120,
  } as const
  const [ball] = (await trackPoints(
    plan,
    (frame) => Promise.resolve(greys[frame] ?? null),
    () => true,
    () => undefined,
  ))!
  expect(ball!.stopped).toBeNull()
  expect(ball!.places.length).toBe(60)
  const off = ball!.places.map(({ frame, at }) => Math.hypot(at[0] - track[frame]![0], at[1] - track[frame]![1]))
  console.info(`ball: furthest from the stored track ${Math.max(...off).toFixed(2)} px in 60 frames`)
  expect(Math.max(...off)).toBeLessThan(1)
  expect(ball!.places.filter(({ sigma }, i) => off[i]! <= sigma * CIRCLE_95).length / 60).toBeGreaterThanOrEqual(0.95)
  expect(ball!.places.every(({ unsure }) => !unsure)).toBe(true)
}, 60_000)
