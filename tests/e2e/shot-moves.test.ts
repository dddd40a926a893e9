import type { Locator } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Mark, Shot } from '../../app/project/picture'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'
import { keyHand } from './hand'
import { held } from './held-answers'

/// What is done to a shot in hand: the way of a landmark drawn on it, a mark drawn again, the shot taken to another paragraph;
/// each by pointer and by keys.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'One knee',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  events: [{ id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 40 }],
  landmarks: [
    {
      clip: 'c1',
      subject: 's1',
      point: 'knee.left',
      samples: Array.from({ length: 21 }, (_, i) => ({ frame: 20 + i, at: [60 + 5 * i, 130 - 2 * i] as [number, number], sigma: 1 })),
    },
  ],
  script: [
    { id: 'p1', text: ['The first words.'], shots: [{ run: 'c1', from: 0, to: 20, speed: '1' }] },
    { chapter: 'Contact' },
    {
      id: 'p2',
      text: ['The words in the middle.'],
      shots: [
        { hold: 'c1', at: 40, seconds: '2' },
        { card: 'text', lines: ['between'], seconds: '1' },
        { hold: 'c1', at: 60, seconds: '1' },
      ],
    },
    { id: 'p3', text: ['The last words.'] },
  ],
}

let window: PatternWindow

beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 90, rate: '30' } }, breakdown })
})
afterAll(async () => window?.close())

const shotsOf = (paragraph: string): readonly Shot[] =>
  window.engine.workspace.opened.project.state.tables.paragraphs.get(paragraph)?.shots ?? []
const marks = (): readonly Mark[] => {
  const [shot] = shotsOf('p2')
  return shot && !('card' in shot) ? (shot.marks ?? []) : []
}
const kinds = (): string[][] =>
  ['p1', 'p2', 'p3'].map((id) => shotsOf(id).map((shot) => ('hold' in shot ? `hold ${shot.at}` : 'card' in shot ? 'card' : 'run')))
const button = (name: string | RegExp): Locator => window.page.getByRole('button', { name, exact: typeof name === 'string' })
const row = (i: number): Locator => window.page.locator('.words p').nth(i)
const take = async (i: number): Promise<void> => {
  await row(i).click({ position: { x: 20, y: 20 } })
  await row(i).and(window.page.locator('.in-hand')).waitFor()
}
/// The picture as shown, light 0–255 of each point, once all of it is there.
const seen = async (): Promise<number[]> => {
  await window.page.locator('canvas.picture[data-detail="full"]:not([data-waiting])').waitFor()
  return window.page.evaluate(() => {
    const surface = Object.assign(document.createElement('canvas'), { width: 320, height: 180 }).getContext('2d', {
      willReadFrequently: true,
    })!
    surface.drawImage(document.querySelector<HTMLCanvasElement>('canvas.picture')!, 0, 0, 320, 180)
    const { data } = surface.getImageData(0, 0, 320, 180)
    return Array.from({ length: 320 * 180 }, (_, i) => (data[4 * i]! + data[4 * i + 1]! + data[4 * i + 2]!) / 3)
  })
}
/// The canvas point is clicked.
const clickAt = async ([x, y]: readonly [number, number]): Promise<void> => {
  const layer = window.page.locator('.pointing')
  const box = (await layer.boundingBox())!
  await layer.click({ position: { x: (x / 320) * box.width, y: (y / 180) * box.height } })
}

it('should draw the way that a landmark went, where it was clicked', async () => {
  const { page } = window
  await take(1)
  const before = await seen()
  await button('Point').click()
  await button('Way').click()
  const layer = page.getByRole('application', { name: /^Way: Click a landmark/ })
  // What can be taken hold of is shown, and beside it nothing is.
  expect(
    await layer.locator('.target').evaluateAll((all) => all.map((each) => [each.getAttribute('cx'), each.getAttribute('cy')])),
  ).toEqual([['160', '90']])
  await clickAt([60, 130])
  await clickAt([162, 91])
  await page.locator('.mark-row', { hasText: 'way of the left knee' }).waitFor()
  expect(marks()).toEqual([{ trail: { subject: 's1', point: 'knee.left' } }])
  await page.keyboard.press('Escape')
  await layer.waitFor({ state: 'detached' })
  // The way stands on the picture from where the knee was first placed to where it is, and nowhere else.
  const changed = async (): Promise<[number, number][]> => {
    const now = await seen()
    return now.flatMap((light, i) => (Math.abs(light - before[i]!) > 60 ? [[i % 320, Math.floor(i / 320)] as [number, number]] : []))
  }
  await expect.poll(async () => (await changed()).length).toBeGreaterThan(60)
  const points = await changed()
  expect(points.filter(([x, y]) => Math.abs(y - (130 - (2 / 5) * (x - 60))) > 8)).toEqual([])
  expect(Math.min(...points.map(([x]) => x))).toBeLessThan(75)
  expect(Math.max(...points.map(([x]) => x))).toBeGreaterThan(150)
  expect(await barriersOn(page)).toEqual([])
})

it('should draw it by keys, and take it back', async () => {
  const { page } = window
  await button('Undo Draw the way of a landmark').click()
  await expect.poll(marks).toEqual([])
  await keyHand(page).press(button('Way'))
  await page.getByRole('application', { name: /^Way/ }).and(page.locator(':focus')).waitFor()
  // The cross stands in the middle, which is where the knee is; two steps away nothing is.
  for (const key of ['ArrowLeft', 'ArrowLeft', 'Enter', 'ArrowRight', 'ArrowRight', 'Enter', 'Escape']) await page.keyboard.press(key)
  await expect.poll(marks).toEqual([{ trail: { subject: 's1', point: 'knee.left' } }])
})

it('should draw a mark again in its place among the others, with what it says and when it appears', async () => {
  const { page } = window
  await button('Word').click()
  await page.getByRole('textbox', { name: 'Word' }).fill('the knee')
  await clickAt([250, 40])
  await expect.poll(() => marks().length).toBe(2)
  await button('Ring').click()
  const layer = page.locator('.pointing')
  const drag = async (from: readonly [number, number], to: readonly [number, number]): Promise<void> => {
    const box = (await layer.boundingBox())!
    const at = ([x, y]: readonly [number, number]) => [box.x + (x / 320) * box.width, box.y + (y / 180) * box.height] as const
    await page.mouse.move(...at(from))
    await page.mouse.down()
    await page.mouse.move(...at(to))
    await page.mouse.up()
  }
  await layer.hover()
  await drag([40, 40], [60, 40])
  await expect.poll(() => marks().length).toBe(3)
  await page.keyboard.press('Escape')
  const word = page.locator('.mark-row', { hasText: 'the knee' })
  const appears = (mark: Locator): Locator => mark.getByRole('combobox', { name: 'Appears' })
  const ring = page.locator('.mark-row', { hasText: 'ring' })
  await held(page, async () => {
    for (const mark of [word, ring]) await appears(mark).selectOption({ label: 'from contact' })
  })
  expect(marks().slice(1)).toMatchObject([
    { word: 'the knee', on: 'e1' },
    { radius: 20, on: 'e1' },
  ])
  await appears(ring).selectOption({ label: 'for the whole shot' })
  await expect.poll(() => marks()[2]).not.toHaveProperty('on')
  await button(/^Draw it again: “the knee”/).click()
  await clickAt([160, 90])
  await expect.poll(() => marks()[1]).toEqual({ word: 'the knee', at: { subject: 's1', point: 'knee.left' }, on: 'e1' })
  expect(marks().length).toBe(3)
  // Escape ends it; what is drawn then is one more.
  await page.keyboard.press('Escape')
  await layer.waitFor({ state: 'detached' })
  // By keys: middle, then outwards by one step.
  await keyHand(page).press(button(/^Draw it again: ring/))
  await page.getByRole('application', { name: /^Ring/ }).and(page.locator(':focus')).waitFor()
  for (const key of ['Enter', 'ArrowUp', 'Enter']) await page.keyboard.press(key)
  await expect.poll(() => marks()[2]).toEqual({ ring: { subject: 's1', point: 'knee.left' }, radius: 20 })
  await page.keyboard.press('Escape')
  await layer.waitFor({ state: 'detached' })
  expect(marks().length).toBe(3)
  await button('Undo Draw a mark again').click()
  await expect.poll(() => marks()[2]).toMatchObject({ radius: 20, ring: [40, 40] })
  // A choice of another tool ends it as well.
  await button(/^Draw it again: ring/).click()
  await button('Line').click()
  expect(await page.getByRole('button', { name: /^Draw it again/, pressed: true }).count()).toBe(0)
  await layer.hover()
  await drag([200, 150], [300, 150])
  await expect.poll(() => marks().length).toBe(4)
  expect(await barriersOn(page)).toEqual([])
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: `${process.env['CLAIMFRAME_LOOK']}/marks-again.png` })
  await button('Point').click()
})

it('should take a shot to the paragraph after and before by keys, past a heading, with the focus left in the list', async () => {
  const { page } = window
  await take(1)
  const cells = page.locator('.shots .shot')
  await keyHand(page).goTo(cells.nth(1))
  await page.keyboard.press('Alt+ArrowDown')
  await expect.poll(kinds).toEqual([['run'], ['hold 40', 'hold 60'], ['card']])
  await cells.nth(1).and(page.locator(':focus')).waitFor()
  await page.keyboard.press('Alt+ArrowDown')
  await expect.poll(kinds).toEqual([['run'], ['hold 40'], ['hold 60', 'card']])
  await cells.nth(0).and(page.locator(':focus')).waitFor()
  await page.keyboard.press('Alt+ArrowUp')
  await expect.poll(kinds).toEqual([['run', 'hold 40'], [], ['hold 60', 'card']])
  for (let i = 0; i < 3; i++) await button('Undo Move the shot to another paragraph').click()
  await expect.poll(kinds).toEqual([['run'], ['hold 40', 'card', 'hold 60'], []])
})

it('should keep the focus on a shot that a key moves or beside one that a key deletes', async () => {
  const { page } = window
  await take(1)
  const cells = page.locator('.shots .shot')
  await keyHand(page).goTo(cells.nth(0))
  await page.keyboard.press('Alt+ArrowRight')
  await expect.poll(kinds).toEqual([['run'], ['card', 'hold 40', 'hold 60'], []])
  await cells.nth(1).and(page.locator(':focus')).waitFor()
  await page.keyboard.press('Delete')
  await expect.poll(kinds).toEqual([['run'], ['card', 'hold 60'], []])
  await cells.nth(1).and(page.locator(':focus')).waitFor()
  await button('Undo Delete the shot').click()
  await button('Undo Move the shot').click()
  await expect.poll(kinds).toEqual([['run'], ['hold 40', 'card', 'hold 60'], []])
})

it('should take it there by buttons, which know where the film ends', async () => {
  const { page } = window
  await take(0)
  expect(await button('Move the shot to the paragraph before').isDisabled()).toBe(true)
  await button('Move the shot to the paragraph after').click()
  await expect.poll(kinds).toEqual([[], ['run', 'hold 40', 'card', 'hold 60'], []])
  await button('Undo Move the shot to another paragraph').click()
  await expect.poll(kinds).toEqual([['run'], ['hold 40', 'card', 'hold 60'], []])
  expect(await barriersOn(page)).toEqual([])
})

it('should take it there by dragging, and drop it in its own paragraph only where it is dropped', async () => {
  const { page } = window
  await take(1)
  const cells = page.locator('.shots li')
  await cells.nth(0).dragTo(page.locator('.pictures .row:not(.hand)').first())
  await expect.poll(kinds).toEqual([['run', 'hold 40'], ['card', 'hold 60'], []])
  await cells.nth(1).dragTo(cells.nth(0))
  await expect.poll(kinds).toEqual([['run', 'hold 40'], ['hold 60', 'card'], []])
  await cells.nth(1).dragTo(page.locator('.pictures .row:not(.hand)').last())
  await expect.poll(kinds).toEqual([['run', 'hold 40'], ['hold 60'], ['card']])
  expect(window.faults).toEqual([])
})
