import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Sample } from '../../app/project/film'
import { dumpProject } from '../../main/store/dump-project'
import { openPatternWindow, readCanvas, SMALL, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// What the sentence in hand rests on, in a real browser: the very frame of each value and event with its marks, its time,
/// film and source; from there to the Bench and to the words, by pointer and by keys; what is missing, in words.

let window: PatternWindow
let page: Page

/// One point placed three times within a pixel or two.
const placed = (frame: number, x: number, y: number): Sample[] =>
  [
    [0, 0],
    [1, -1],
    [-1, 1],
  ].map(([dx, dy]) => ({ frame, at: [x + dx!, y + dy!], sigma: 1.5, origin: 'placed' }))
const leg = (clip: string, frame: number, knee: number) =>
  [
    ['hip.left', 250, 120],
    ['knee.left', 250 + knee, 200],
    ['ankle.left', 240, 290],
  ].map(([point, x, y]) => ({ clip, subject: 's1', point: String(point), samples: placed(frame, Number(x), Number(y)) }))

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two right hands, one habit?',
  output: { width: 1280, height: 720, rate: '30/1' },
  footage: [
    {
      id: 'f1',
      file: 'bout-a.mp4',
      source: { owner: 'Lantern Yard Boxing Club', where: 'club ring, ringside', when: 'open evening', basis: 'with the club’s leave' },
    },
    { id: 'f2', file: 'bout-b.mp4' },
  ],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '4', u: 0 }, name: 'bout A' },
    { id: 'c2', footage: 'f2', from: 0, to: 90, capture: 'unknown', name: 'bout B' },
  ],
  views: [
    { clip: 'c1', subject: 's1', from: 0, to: 90, yaw: { deg: 0, u: 10 } },
    { clip: 'c2', subject: 's1', from: 0, to: 90, yaw: { deg: 0, u: 10 } },
  ],
  events: [
    { id: 'e1', clip: 'c1', name: 'plant', earliest: 31, latest: 33 },
    { id: 'e2', clip: 'c1', name: 'contact', earliest: 57, latest: 57 },
  ],
  landmarks: [...leg('c1', 57, 40), ...leg('c2', 44, 30)],
  measures: [
    {
      id: 'm1',
      kind: 'joint-angle',
      clip: 'c1',
      subject: 's1',
      frame: 57,
      points: ['hip.left', 'knee.left', 'ankle.left'],
      label: 'lead knee, bout A',
    },
    {
      id: 'm2',
      kind: 'joint-angle',
      clip: 'c2',
      subject: 's1',
      frame: 44,
      points: ['hip.left', 'knee.left', 'ankle.left'],
      label: 'lead knee, bout B',
    },
    { id: 'm3', kind: 'comparison', measures: ['m1', 'm2'], label: 'the two knees' },
  ],
  references: [
    {
      id: 'made2020',
      csl: {
        type: 'article-journal',
        title: 'Steps and straight punches',
        author: [{ family: 'Made', given: 'Up' }],
        issued: { 'date-parts': [[2020]] },
        'container-title': 'Journal of Invented Studies',
      },
      population: '12 amateur boxers',
      setting: ['laboratory'],
    },
  ],
  claims: [
    {
      id: 'k1',
      on: { part: 'sentence', paragraph: 'p1', words: 'He plants before the glove lands.' },
      classes: ['C'],
      evidence: [{ events: ['e1', 'e2'] }],
      state: 'suggested',
    },
    {
      id: 'k2',
      on: { part: 'sentence', paragraph: 'p2', words: 'Again in a second clip.' },
      classes: ['E'],
      evidence: [{ count: 'gone' }, { reading: 'm3' }],
      state: 'suggested',
    },
  ],
  script: [
    {
      id: 'p1',
      text: [
        'He plants before the glove lands. At contact the lead knee is at ',
        { value: 'm1' },
        '.',
        { cite: 'made2020' },
        ' The rear heel is up.',
      ],
      shots: [{ hold: 'c1', at: 57, seconds: '2' }],
    },
    { id: 'p2', text: ['Again in a second clip.'], shots: [{ hold: 'c2', at: 44, seconds: '2' }] },
  ],
}

beforeAll(async () => {
  window = await openPatternWindow({
    films: {
      'bout-a.mp4': { frames: 90, rate: '30', width: 640, height: 360 },
      'bout-b.mp4': { frames: 90, rate: '30', width: 640, height: 360, first: 200 },
    },
    breakdown,
  })
  ;({ page } = window)
  await page.getByRole('button', { name: 'Evidence' }).click()
  await rows().waitFor()
})
afterAll(async () => window?.close())

const rows = (): Locator => page.getByRole('list', { name: 'What the film says' })
const rests = (): Locator => page.getByRole('group', { name: 'What stands behind it' })
const still = (frame: number, clip: string): Locator => rests().getByRole('button', { name: `To the Bench: frame ${frame} of ${clip}` })
const take = async (words: string): Promise<void> => {
  await rows().getByText(words).click()
  await rows().focus()
}
const look = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], `${name}.png`) })
}
const evidence = (id: string) => {
  const dumped = dumpProject(join(window.folder, 'test.claimframe'))
  if (!dumped.ok) throw dumped.error
  return dumped.value.claims?.find((claim) => claim.id === id)?.evidence
}
const facts = async (): Promise<string[]> =>
  (await rests().locator('dl > div').allInnerTexts()).map((line) => line.replace(/\s+/g, ' ').trim())

/// The number that a still's picture shows.
async function shown(button: Locator, frame: number): Promise<number> {
  await button.locator(`canvas[data-frame="${frame}"]`).waitFor()
  return readCanvas(
    await button.locator('canvas').evaluate((node, size) => {
      const small = Object.assign(document.createElement('canvas'), size)
      const surface = small.getContext('2d', { willReadFrequently: true })!
      surface.drawImage(node as HTMLCanvasElement, 0, 0, size.width, size.height)
      const { data } = surface.getImageData(0, 0, size.width, size.height)
      return Array.from({ length: data.length / 4 }, (_, i) => data[i * 4] ?? 0)
    }, SMALL),
  )
}

it('should show both ends of each event’s bracket: the very frames, when they stand in the film, and whose film that is', async () => {
  await take('He plants before the glove lands.')
  expect([await shown(still(31, 'bout A'), 31), await shown(still(33, 'bout A'), 33), await shown(still(57, 'bout A'), 57)]).toEqual([
    31, 33, 57,
  ])
  await look('claim-events')
  expect(await facts()).toEqual([
    'event plant, between frames 31 and 33',
    'earliest frame 31 of bout A, 1.0333 s',
    'film bout-a.mp4 · 120 frames a second, played 4 times slower',
    'source Lantern Yard Boxing Club · club ring, ringside · open evening',
    'take away',
    'latest frame 33 of bout A, 1.1000 s',
    'event contact',
    'frame 57 of bout A, 1.9000 s ± 0.0167 s',
    'film bout-a.mp4 · 120 frames a second, played 4 times slower',
    'source Lantern Yard Boxing Club · club ring, ringside · open evening',
    'take away',
  ])
  expect(await barriersOn(page)).toEqual([])
})

it('should show a value’s frame with its marks, its error and its verdict; and of a reference in whom it holds and what is not noted', async () => {
  await take('At contact the lead knee')
  await still(57, 'bout A').locator('canvas[data-frame="57"]').waitFor()
  const inks = await still(57, 'bout A')
    .locator('canvas')
    .evaluate((node) => {
      const canvas = node as HTMLCanvasElement
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height)
      let yellow = 0
      for (let i = 0; i < data.length; i += 4) if (data[i]! > 200 && data[i + 1]! > 190 && data[i + 2]! < 110) yellow++
      return yellow
    })
  // The limb in question is drawn in #F0E442 over pictures of greys.
  expect(inks).toBeGreaterThan(100)
  await look('claim-value')
  const told = await facts()
  expect(told[0]).toMatch(/^value (. )?\d+° ± \d+° /)
  expect(told.find((line) => line.startsWith('error'))).toMatch(/±.*\(95 %\)/)
  expect(told).toContain('frame 57 of bout A, 1.9000 s, in contact')
  expect(told).toContain('in whom 12 amateur boxers')
  expect(told).toContain('setting in a laboratory')
  expect(told).toContain('missing how far it holds is not said')
})

it('should go to the Bench at the frame and to the words in the Script, and come back to the sentence, by keys', async () => {
  await take('He plants before the glove lands.')
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowDown')
  await expect.poll(() => still(33, 'bout A').evaluate((node) => node === document.activeElement)).toBe(true)
  await page.keyboard.press('ArrowLeft')
  await expect.poll(() => rows().evaluate((node) => node === document.activeElement)).toBe(true)
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Enter')
  await page.locator('.bench-canvas').waitFor()
  await expect.poll(() => page.locator('body').innerText()).toContain('33')
  await page.keyboard.press('Alt+5')
  await still(31, 'bout A').waitFor()
  await rows().focus()
  await page.keyboard.press('w')
  await page.locator('[aria-label="Script"], .script').first().waitFor()
  await page.keyboard.press('Alt+5')
  await still(31, 'bout A').waitFor()
})

it('should go to both by pointer as well', async () => {
  await take('At contact the lead knee')
  await still(57, 'bout A').click()
  await page.locator('.bench-canvas').waitFor()
  await page.keyboard.press('Alt+5')
  await rows().waitFor()
  await page.getByRole('button', { name: 'to its words in the Script' }).click()
  await page.locator('.ProseMirror').first().waitFor()
  await page.keyboard.press('Alt+5')
  await rows().waitFor()
})

it('should say of what stands beneath a comparison what is there and what is not, and take one of several events away', async () => {
  await take('Again in a second clip.')
  expect(await shown(still(44, 'bout B'), 44)).toBe(244)
  const told = await facts()
  expect(told.filter((line) => line.startsWith('built on'))).toHaveLength(2)
  expect(told).toContain('value gone is not there any more: take it away, or put another in its place')
  expect(told).toContain('film bout-b.mp4 · how fast it was shot is not known')
  expect(told).toContain('source no source card is filled in')
  await look('claim-compared')
  await rests().getByRole('button', { name: 'take away: gone' }).click()
  await expect.poll(() => evidence('k2')).toEqual([{ reading: 'm3' }])
  await take('He plants before the glove lands.')
  await rests().getByRole('button', { name: 'take away: plant' }).click()
  await expect.poll(() => evidence('k1')).toEqual([{ events: ['e2'] }])
})

it('should say plainly of a sentence that rests on nothing what is missing', async () => {
  await take('The rear heel is up.')
  await page.getByText('It rests on nothing yet, and may go out so. It could rest on a frame that shows it.').waitFor()
  await look('claim-on-nothing')
  await take('At contact the lead knee')
  await page.setViewportSize({ width: 1000, height: 900 })
  await still(57, 'bout A').locator('canvas[data-frame="57"]').waitFor()
  await look('claim-narrow')
  expect(await barriersOn(page)).toEqual([])
  expect(window.faults).toEqual([])
})
