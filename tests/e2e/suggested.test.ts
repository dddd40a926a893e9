import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { barriersOn } from './barriers'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'

/// The door for a pose model, with a double behind it: a worker of its own that looks at the frame's picture. What it says is
/// shown with its confidence and is nowhere else until it is accepted.

/// Puts the left knee where the picture's first white block ends, and says much else that must not be shown.
const double = `
self.postMessage({ name: 'double 1' })
self.onmessage = ({ data: { id, picture } }) => {
  const { width, height } = picture
  const surface = new OffscreenCanvas(width, height).getContext('2d')
  surface.drawImage(picture, 0, 0)
  picture.close()
  const { data } = surface.getImageData(0, 10, width, 1)
  let edge = 0
  while (data[4 * edge] > 128) edge++
  self.postMessage({ id, points: [
    { point: 'knee.left', at: [edge, 10], confidence: 0.9 },
    { point: 'hip.left', at: [width / 2, height / 2], confidence: 0.62 },
    { point: 'ankle.left', at: [20, 20], confidence: 0.1 },
    { point: 'tail.left', at: [20, 20], confidence: 0.9 },
    { point: 'elbow.left', at: [width + 5, 20], confidence: 0.9 },
    { point: 'wrist.left', at: [30, 30], confidence: 0.9 },
  ] })
}
`
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Suggested',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 20, capture: 'unknown', name: 'ringside' }],
  landmarks: [{ clip: 'c1', subject: 's1', point: 'wrist.left', samples: [{ frame: 0, at: [33, 31], origin: 'placed' }] }],
  measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 0, points: ['hip.left', 'knee.left', 'wrist.left'] }],
  script: [{ id: 'p1', text: ['Suggested.'], shots: [] }],
}
const film = { 'bout.mp4': { frames: 20, rate: '30', width: 320, height: 180 } }

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({ films: film, breakdown, pageFiles: { 'pose/worker.js': double } })
  page = window.page
  await openBench(page)
})
afterAll(async () => window?.close())

async function openBench(at: Page): Promise<void> {
  await at.getByRole('button', { name: 'Bench', exact: true }).click()
  await at.locator('.bench-canvas[data-frame="0"][data-detail="full"]').waitFor({ state: 'attached' })
  await at.locator('.stage').focus()
}
const stored = async (): Promise<Record<string, readonly unknown[]>> =>
  Object.fromEntries(
    ((await ask(page, 'landmarks.samples', { clip: 'c1' })) as { landmarks: Landmark[] }).landmarks.map(({ point, samples }) => [
      point,
      samples,
    ]),
  )
const shown = (points: number): Promise<void> => page.locator(`.bench-canvas[data-points="${points}"]`).waitFor({ state: 'attached' })

it('should show what the model says of points that are not placed, with its confidence, and keep none of it', async () => {
  await shown(1)
  await page.keyboard.press('s')
  await page.getByText('double 1 suggests 2 points.').waitFor()
  await shown(3)
  await page.keyboard.press('l')
  const list = page.getByRole('list', { name: 'Suggested, not looked at yet' })
  await list.getByText('suggested by double 1, 90 % sure').waitFor()
  await list.getByText('suggested by double 1, 62 % sure').waitFor()
  expect(await barriersOn(page)).toEqual([])
  expect(Object.keys(await stored())).toEqual(['wrist.left'])
  const { readings } = (await ask(page, 'readings.list', {})) as { readings: { value: number | null }[] }
  expect(readings[0]?.value).toBeNull()
  await page.keyboard.press('l')
})

it('should keep the point in hand once it is accepted, then the others, each in one edit, and give the rest up by Escape', async () => {
  await page.locator('.stage').focus()
  for (let i = 0; i < 2; i++) await page.keyboard.press('n')
  await page.getByText(/In hand: .*knee/).waitFor()
  await page.keyboard.press('a')
  await expect.poll(async () => (await stored())['knee.left']).toEqual([{ frame: 0, at: [64, 10], origin: 'placed' }])
  expect((await stored())['hip.left']).toBeUndefined()
  await shown(3)
  await page.keyboard.press('Escape')
  await shown(2)
  await page.keyboard.press('s')
  await page.getByText('double 1 suggests one point.').waitFor()
  for (let i = 0; i < 2; i++) await page.keyboard.press('n')
  await page.keyboard.press('a')
  await expect.poll(async () => (await stored())['hip.left']).toEqual([{ frame: 0, at: [160, 90], origin: 'placed' }])
  await page.keyboard.press('Control+z')
  await expect.poll(async () => (await stored())['hip.left'] ?? []).toEqual([])
  expect(window.faults).toEqual([])
})

it('should say so where no model is built in', async () => {
  const bare = await openPatternWindow({ films: film, breakdown })
  try {
    await openBench(bare.page)
    await bare.page.keyboard.press('s')
    await bare.page.getByText('No pose model is built in: place the points by hand.').waitFor()
    expect(bare.faults).toEqual([])
  } finally {
    await bare.close()
  }
})
