import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'

/// A clip with more samples than travel at once: its points stand on its frames all the same, and can be changed.

const FRAMES = 2100
const POINTS = 30

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Many samples',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: 'unknown', name: 'ringside' }],
  events: [{ id: 'e1', clip: 'c1', name: 'late', earliest: FRAMES - 100, latest: FRAMES - 100 }],
  landmarks: Array.from({ length: POINTS }, (_, p): Landmark => ({
    clip: 'c1',
    subject: 's1',
    point: `ring.${p}`,
    // On the late event's frame one point is missing.
    samples: Array.from({ length: FRAMES }, (_, frame) => ({ frame, at: [20 + 9 * p, 40 + 3 * p] as [number, number], sigma: 2 })).filter(
      ({ frame }) => p > 0 || frame !== FRAMES - 100,
    ),
  })),
  script: [{ id: 'p1', text: ['Many.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: FRAMES, rate: '30', width: 320, height: 180, gop: 60 } }, breakdown })
  page = window.page
})
afterAll(async () => window?.close())

const standing = (frame: number, points: number): Promise<void> =>
  page.locator(`.bench-canvas[data-frame="${frame}"][data-points="${points}"]`).waitFor({ state: 'attached' })

it('should show the points of the first frame and of a late one', async () => {
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await standing(0, POINTS)
  await page.locator('.stage').focus()
  await page.keyboard.press(']')
  await standing(FRAMES - 100, POINTS - 1)
})

it('should change one pack of one point, and keep every other sample', async () => {
  await page.locator(`.bench-canvas[data-frame="${FRAMES - 100}"][data-detail="full"]`).waitFor({ state: 'attached' })
  await page.keyboard.press('p')
  await page.keyboard.press('Enter')
  await page.getByText('arrow keys: a quarter pixel').waitFor()
  await page.keyboard.press('Escape')
  await standing(FRAMES - 100, POINTS)
  const { landmarks } = (await ask(page, 'landmarks.samples', { clip: 'c1', from: FRAMES - 101, to: FRAMES - 98 })) as {
    landmarks: Landmark[]
  }
  expect(
    landmarks
      .map(({ samples }) => samples.map(({ frame }) => frame))
      .flat()
      .filter((frame) => frame === FRAMES - 101).length,
  ).toBe(POINTS)
  await page.keyboard.press('Control+z')
  await standing(FRAMES - 100, POINTS - 1)
  await page.keyboard.press(',')
  await standing(FRAMES - 101, POINTS)
  expect(window.faults).toEqual([])
})
