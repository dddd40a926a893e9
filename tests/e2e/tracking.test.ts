import { copyFile } from 'node:fs/promises'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark, Sample } from '../../app/project/film'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'

/// Following a point in a real browser, on the film of a ball in free flight whose track is stored beside it (BMC notebooks,
/// M. Duarte and co-authors, CC BY 4.0).

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
  landmarks: [{ clip: 'c1', subject: 's1', point: 'ball', samples: [{ frame: 0, at: [track[0]![0], track[0]![1]], origin: 'placed' }] }],
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
  await openBench()
})
afterAll(async () => window?.close())

const openBench = async (): Promise<void> => {
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await whole(0)
}
/// The whole picture stands there, and the ball on it.
const whole = (frame: number): Promise<void> =>
  page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"][data-points="1"]`).waitFor({ state: 'attached' })
const ball = async (): Promise<readonly Sample[]> =>
  ((await ask(page, 'landmarks.samples', { clip: 'c1' })) as { landmarks: Landmark[] }).landmarks[0]?.samples ?? []

it('should leave nothing of a run that is cut short, by Escape or by the window’s end', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('t')
  await page.getByText(/Following: \d+ frames/).waitFor()
  await page.keyboard.press('Escape')
  await page.getByText('Left off. Nothing was kept.').waitFor()
  expect((await ball()).length).toBe(1)
  await page.keyboard.press('t')
  await page.getByText(/Following: [1-9]\d* frames/).waitFor()
  await page.reload()
  await page.getByRole('heading', { name: breakdown.title }).waitFor()
  await openBench()
  expect((await ball()).length).toBe(1)
})

it('should follow the ball within 1 px of its stored track for 60 frames, as one edit', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('t')
  await page.getByText('Followed to 60 places.').waitFor()
  await expect.poll(async () => (await ball()).length).toBe(61)
  const off = (await ball()).map(({ frame, at }) => Math.hypot(at[0] - track[frame]![0], at[1] - track[frame]![1]))
  console.info(`ball followed in the window: furthest ${Math.max(...off).toFixed(2)} px off`)
  expect(Math.max(...off)).toBeLessThan(1)
  expect((await ball()).slice(1).every(({ origin, sigma }) => origin === 'tracked' && (sigma ?? 0) > 2)).toBe(true)
  await page.getByRole('button', { name: 'Undo Follow ball' }).click()
  await expect.poll(async () => (await ball()).length).toBe(1)
  await page.keyboard.press('Control+Shift+Z')
  await expect.poll(async () => (await ball()).length).toBe(61)
})

it('should follow the neighbours of a corrected place anew, and take both back in one step', async () => {
  await page.locator('.stage').focus()
  for (const key of ['PageDown', 'PageDown', 'PageDown']) await page.keyboard.press(key)
  await whole(30)
  const box = (await page.locator('.stage').boundingBox())!
  const scale = Math.min(box.width / 1080, box.height / 1920)
  const before = await ball()
  const [x, y] = before[30]!.at
  const [left, top] = [box.x + (box.width - 1080 * scale) / 2 + x * scale, box.y + (box.height - 1920 * scale) / 2 + y * scale]
  await page.mouse.move(left, top)
  await page.mouse.down()
  await page.mouse.move(left + 1, top)
  await page.mouse.up()
  await page.getByText(/Followed to .* Followed to/).waitFor()
  const after = await ball()
  expect(after[30]!.origin).toBe('corrected')
  expect(after[30]!.at[0] - x).toBeCloseTo(1 / scale, 3)
  expect(after[31]!.at[0] - before[31]!.at[0]).toBeGreaterThan(0.5)
  expect(after[0]).toEqual(before[0])
  await page.getByRole('button', { name: /^Undo / }).click()
  await expect.poll(async () => JSON.stringify(await ball())).toBe(JSON.stringify(before))
  expect(window.faults).toEqual([])
})
