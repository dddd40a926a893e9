import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { runFfmpeg } from '../../main/media/process'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// The hall behind a person followed in a real browser: a real film (one signer; sample videos of the intel-iot-devkit
/// collection, CC BY 4.0) through a window that moves by whole pixels along a known path.

const FRAMES = 60
const across = (n: number): number => Math.round(45 - 35 * Math.sin(n / 14))
const down = (n: number): number => Math.round(35 + 20 * Math.sin(n / 11))
const person = [
  ['head.top', 300, 90],
  ['shoulder.left', 390, 220],
  ['shoulder.right', 230, 220],
  ['hip.left', 380, 440],
  ['hip.right', 250, 440],
] as const
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'A pan',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'pan.mkv' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, name: 'along' }],
  events: [
    { id: 'e1', clip: 'c1', name: 'begin', earliest: 5, latest: 5 },
    { id: 'e2', clip: 'c1', name: 'end', earliest: 50, latest: 50 },
  ],
  landmarks: person.map(([point, x, y]) => ({
    clip: 'c1',
    subject: 's1',
    point,
    samples: [{ frame: 0, at: [x - across(0), Math.min(395, y - down(0))], origin: 'placed' }],
  })),
  script: [{ id: 'p1', text: ['She stands.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  const moves = `crop=540:400:x='round(45-35*sin(n/14))':y='round(35+20*sin(n/11))':exact=1,format=yuv444p`
  window = await openPatternWindow({
    films: {},
    breakdown,
    more: async (folder, tool) =>
      void (await runFfmpeg(tool, [
        '-v',
        'error',
        '-i',
        'tests/data/video/asl_walk.mkv',
        '-vf',
        `format=yuv444p,${moves},format=yuv420p`,
        '-frames:v',
        String(FRAMES),
        '-c:v',
        'libx264',
        '-crf',
        '14',
        '-an',
        join(folder, 'pan.mkv'),
      ])),
  })
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.bench-canvas[data-detail="full"]').waitFor({ state: 'attached' })
})
afterAll(async () => window?.close())

const walls = async (): Promise<readonly Landmark[]> =>
  ((await ask(page, 'landmarks.samples', { clip: 'c1' })) as { landmarks: Landmark[] }).landmarks.filter(
    ({ point, samples }) => point.startsWith('background.') && samples.length > 0,
  )

it('should follow the hall by a key, off the person, within a pixel of the known path, as one edit', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('g')
  await page.getByText(/Places of the hall agree on 60 frames, to 0\.\d pixels\./).waitFor()
  const found = await walls()
  const off = found
    .flatMap(({ samples: [first, ...rest] }) =>
      rest.map(({ frame, at }) =>
        Math.hypot(at[0] - first!.at[0] + across(frame) - across(first!.frame), at[1] - first!.at[1] + down(frame) - down(first!.frame)),
      ),
    )
    .sort((a, b) => a - b)
  console.info(
    `${found.length} places of the hall, ${off.length} samples: off the known path ${off[off.length >> 1]!.toFixed(2)} px median, ${off[Math.floor(0.95 * off.length)]!.toFixed(2)} p95`,
  )
  expect(found.length).toBeGreaterThanOrEqual(8)
  expect(off[Math.floor(0.95 * off.length)]!).toBeLessThan(1)
  expect(found.every(({ samples }) => samples.every(({ origin, sigma }) => origin === 'tracked' && (sigma ?? 0) > 0))).toBe(true)
  await page.getByRole('button', { name: 'Undo Follow the background' }).click()
  await expect.poll(async () => (await walls()).length).toBe(0)
  await page.keyboard.press('Control+Shift+Z')
  await expect.poll(async () => (await walls()).length).toBe(found.length)
})

it('should show in the view’s sheet what is followed, keep it out of the points, and offer a way to be measured', async () => {
  await page.getByRole('button', { name: 'View', exact: true }).click()
  await page.getByText(/The hall behind the people is followed on 60 frames/).waitFor()
  expect(await barriersOn(page)).toEqual([])
  await page.getByRole('button', { name: 'Points', exact: true }).click()
  await page.getByRole('heading', { name: 'Points on frame' }).waitFor()
  expect(await page.locator('.sheet').getByText('background').count()).toBe(0)
  await page.getByRole('button', { name: 'Measures', exact: true }).click()
  await page.getByLabel('I want to say').selectOption('way')
  await page.locator('.told').getByText('path of left fist').waitFor()
  expect(window.faults).toEqual([])
})
