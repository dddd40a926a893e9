import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'
import { keyHand, type Hand } from './hand'

/// The Bench for those who use no pointer, and for those who use a reader: from opening a clip to its value in the script by
/// keys alone, and no barrier with two clips side by side, with curves laid over each other, or in any sheet.

const knee = (clip: string, from: number, bend: number): Landmark[] =>
  (['hip.left', 'knee.left', 'ankle.left'] as const).map((point) => ({
    clip,
    subject: 's1',
    point,
    samples: Array.from({ length: 31 }, (_, i) => {
      const angle = (bend * Math.exp(-(((i - 15) / 5) ** 2)) * Math.PI) / 180
      const at: [number, number] =
        point === 'hip.left' ? [600, 200] : point === 'knee.left' ? [600, 400] : [600 + 200 * Math.sin(angle), 400 + 200 * Math.cos(angle)]
      return { frame: from + i, at, sigma: 3, origin: i % 15 === 0 ? 'placed' : 'tracked' }
    }),
  }))
const measure = (id: string, clip: string, frame: number) => ({
  id,
  kind: 'joint-angle' as const,
  clip,
  subject: 's1',
  frame,
  points: ['hip.left', 'knee.left', 'ankle.left'],
})
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'By keys',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'first evening' },
    { id: 'c2', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'second evening' },
    { id: 'c3', footage: 'f1', from: 0, to: 90, capture: 'unknown', name: 'untouched' },
  ],
  views: ['c1', 'c2'].map((clip) => ({ clip, subject: 's1', from: 0, to: 90, lead: 'left' as const, yaw: { deg: 5, u: 3 } })),
  events: [
    { id: 'e1', clip: 'c1', name: 'load', earliest: 35, latest: 35 },
    { id: 'e2', clip: 'c2', name: 'load', earliest: 45, latest: 46 },
  ],
  landmarks: [...knee('c1', 20, 60), ...knee('c2', 30, 20)],
  measures: [measure('m1', 'c1', 35), measure('m2', 'c2', 45)],
  script: [{ id: 'p1', text: ['At contact the knee is at'], shots: [] }],
}

let window: PatternWindow
let page: Page
let hand: Hand
beforeAll(async () => {
  window = await openPatternWindow({
    films: { 'bout.mp4': { frames: 90, rate: '30', width: 1280, height: 720, gop: 90 } },
    breakdown,
    standIns: ['f1'],
  })
  page = window.page
  hand = keyHand(page)
})
afterAll(async () => window?.close())

const stands = (frame: number, beside: number | '' = ''): Promise<void> =>
  page.locator(`.bench-canvas[data-frame="${frame}"][data-beside="${beside}"][data-detail="full"]`).waitFor({ state: 'attached' })

it('should lead from opening a clip to its value in the script by keys alone', async () => {
  await page.evaluate(() => {
    for (const kind of ['pointerdown', 'mousedown', 'pointermove', 'touchstart', 'wheel'])
      document.addEventListener(kind, () => (document.body.dataset['pointed'] = kind), { capture: true })
  })
  const stage = page.locator('.stage')
  await page.keyboard.press('Alt+Digit3')
  await hand.choose(page.getByLabel('Clip', { exact: true }), 'untouched')
  await stands(0)
  await hand.goTo(stage)
  for (const key of ['PageDown', 'PageDown', '.', '.', ',']) await page.keyboard.press(key)
  await stands(21)
  await page.keyboard.press('e')
  await hand.fill(page.getByLabel('Event', { exact: true }), 'contact')
  await hand.press(page.getByRole('button', { name: 'Mark it on frame 21' }))
  await page.getByText('frame 21', { exact: true }).waitFor()
  await hand.press(page.getByRole('button', { name: 'Close Events' }))
  await page.keyboard.press('v')
  await hand.choose(page.getByLabel('Lead side'), 'right')
  await hand.fill(page.getByLabel('Yaw, degrees from side-on'), '5')
  await hand.press(page.getByRole('button', { name: 'State it' }))
  await hand.press(page.getByRole('button', { name: 'Close View' }))
  await page.keyboard.press('m')
  await hand.choose(page.getByLabel('Which limb'), 'rear knee')
  await hand.press(page.getByRole('button', { name: 'Place its points' }))
  for (let round = 0; round < 3; round++)
    for (const keys of [
      ['Shift+ArrowUp', 24],
      ['Shift+ArrowDown', 24],
      ['Shift+ArrowDown', 20],
    ] as const) {
      for (let i = 0; i < keys[1]; i++) await page.keyboard.press(keys[0])
      await page.keyboard.press('ArrowRight')
      await page.keyboard.press('Enter')
      await page.getByText('arrow keys: a quarter pixel').waitFor()
      await page.keyboard.press(' ')
      // Back to where the round began.
      if (keys[1] === 20) for (let i = 0; i < 20; i++) await page.keyboard.press('Shift+ArrowUp')
    }
  await page.getByText('All points are placed.').waitFor()
  await hand.press(page.getByRole('button', { name: 'Keep it' }))
  await page.locator('.edge-reading', { hasText: 'rear knee' }).waitFor()
  await hand.goTo(stage)
  await page.keyboard.press('i')
  await page.getByText('It stands at the end of “At contact the knee is at”').waitFor()
  await page.keyboard.press('Alt+Digit1')
  await page.locator('.words .value').waitFor()
  expect(await page.locator('.words .value').textContent()).toMatch(/°/)
  const { landmarks } = (await ask(page, 'landmarks.samples', { clip: 'c3' })) as { landmarks: Landmark[] }
  expect(landmarks.map(({ point, samples }) => [point, samples.length])).toEqual([
    ['hip.left', 3],
    ['knee.left', 3],
    ['ankle.left', 3],
  ])
  expect(await page.evaluate(() => document.body.dataset['pointed'])).toBeUndefined()
})

it('should have no barrier while points are placed', async () => {
  await page.keyboard.press('Alt+Digit3')
  await stands(21)
  await hand.goTo(page.locator('.stage'))
  await page.keyboard.press('.')
  await stands(22)
  await page.keyboard.press('p')
  await page.getByText('first placing of three').waitFor()
  expect(await barriersOn(page)).toEqual([])
  await page.keyboard.press('Escape')
})

it('should have no barrier with a curve, with another clip’s over it, and with two clips side by side', async () => {
  await hand.choose(page.getByLabel('Clip', { exact: true }), 'first evening')
  await hand.goTo(page.locator('.stage'))
  await page.keyboard.press('Home')
  await stands(0)
  await page.keyboard.press(']')
  await stands(35)
  await page.locator('.curve').first().waitFor({ state: 'attached' })
  expect(await barriersOn(page)).toEqual([])
  const others = page.getByLabel('Lay another clip’s curve over it')
  await hand.choose(others, await others.locator('option', { hasText: 'second evening' }).innerText())
  await page.locator('.curve.beside').waitFor({ state: 'attached' })
  expect(await barriersOn(page)).toEqual([])
  await hand.goTo(page.locator('.stage'))
  await page.keyboard.press('d')
  await page.locator('.beside-words').waitFor()
  await stands(35, 45)
  expect(await barriersOn(page)).toEqual([])
})

it.each([
  ['m', 'Measures'],
  ['e', 'Events'],
  ['v', 'View'],
  ['l', 'Points'],
  ['?', 'Keys'],
])('should have none side by side with the sheet of key %s, %s', async (key, name) => {
  await hand.goTo(page.locator('.stage'))
  await page.keyboard.press(key)
  await page.getByRole('region', { name }).waitFor()
  expect(await barriersOn(page)).toEqual([])
  await hand.press(page.getByRole('button', { name: `Close ${name}` }))
  await page.locator('.sheet').waitFor({ state: 'detached' })
  expect(window.faults).toEqual([])
})
