import { readFileSync } from 'node:fs'
import { copyFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark, Sample } from '../../app/project/film'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'

/// A followed point that the guide places anew: what was followed about it is followed anew from there, as after a drag. On the film
/// of a ball in free flight whose track is stored beside it (BMC notebooks, M. Duarte and co-authors, CC BY 4.0); the ball goes by
/// the name of a body point, and what was followed lies 6 px beside it.

const track = readFileSync('tests/data/video/bmc_projetil_blob_track_px.csv', 'utf8')
  .trim()
  .split(/\r?\n/)
  .slice(1)
  .map((line) => {
    const [, , x, y] = line.split(',').map(Number) as [number, number, number, number]
    return [x + 0.5, y + 0.5] as const
  })
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'A ball',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'ball.mp4' }],
  subjects: [{ id: 's1', name: 'the thrower' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 61, capture: { factor: '1', u: 0 }, name: 'flight' }],
  landmarks: [
    {
      clip: 'c1',
      subject: 's1',
      point: 'head.top',
      samples: track
        .slice(0, 61)
        .map(([x, y], frame) =>
          frame === 0 ? { frame, at: [x, y], origin: 'placed' } : { frame, at: [x + 6, y], sigma: 3, origin: 'tracked' },
        ),
    },
  ],
  script: [{ id: 'p1', text: ['The ball falls.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({
    films: {},
    breakdown,
    more: (folder) => copyFile('tests/data/video/bmc_projetil.mp4', join(folder, 'ball.mp4')),
    standIns: ['f1'],
  })
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
})
afterAll(async () => window?.close())

const ball = async (): Promise<readonly Sample[]> =>
  ((await ask(page, 'landmarks.samples', { clip: 'c1' })) as { landmarks: Landmark[] }).landmarks[0]?.samples ?? []
const off = (samples: readonly Sample[], frame: number): number => {
  const { at } = samples.find((sample) => sample.frame === frame)!
  return Math.hypot(at[0] - track[frame]![0], at[1] - track[frame]![1])
}

it('should follow the neighbours anew once the guide is left, and take that back in one step', async () => {
  await page.locator('.bench-canvas[data-frame="0"][data-detail="full"]').waitFor({ state: 'attached' })
  await page.locator('.stage').focus()
  for (const key of ['PageDown', 'PageDown', 'PageDown']) await page.keyboard.press(key)
  await page.locator('.bench-canvas[data-frame="30"][data-detail="full"][data-points="1"]').waitFor({ state: 'attached' })
  const before = await ball()
  expect(off(before, 31)).toBeCloseTo(6, 6)
  const box = (await page.locator('.stage').boundingBox())!
  const scale = Math.min(box.width / 1080, box.height / 1920)
  await page.keyboard.press('p')
  await page.getByText('click, or Enter').waitFor()
  await page.mouse.click(
    box.x + (box.width - 1080 * scale) / 2 + track[30]![0] * scale,
    box.y + (box.height - 1920 * scale) / 2 + track[30]![1] * scale,
  )
  await page.getByText('arrow keys: a quarter pixel').waitFor()
  await expect.poll(async () => off(await ball(), 30)).toBeLessThan(1 / scale)
  // While it is still being placed, nothing is followed yet.
  expect(off(await ball(), 31)).toBeCloseTo(6, 6)
  await page.keyboard.press('Escape')
  await page.getByText(/Followed to .* Followed to/).waitFor()
  const after = await ball()
  console.info(`followed anew from the guide: ${[29, 31, 40].map((frame) => off(after, frame).toFixed(2)).join(', ')} px off, before 6`)
  for (const frame of [29, 31, 40]) expect(off(after, frame)).toBeLessThan(off(after, 30) + 1)
  expect(after.find(({ frame }) => frame === 0)).toEqual(before[0])
  await page.getByRole('button', { name: /^Undo Follow/ }).click()
  await expect.poll(async () => [off(await ball(), 29), off(await ball(), 31)].map(Math.round)).toEqual([6, 6])
  expect(off(await ball(), 30)).toBeLessThan(1 / scale)
  await page.getByRole('button', { name: /^Undo Place/ }).click()
  await expect.poll(async () => JSON.stringify(await ball())).toBe(JSON.stringify(before))
  expect(window.faults).toEqual([])
})
