import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark, Sample } from '../../app/project/film'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { magnifierPlace, SIDE } from '../../renderer/bench/magnifier'
import { barriersOn } from './barriers'

/// Points under the hand on the Bench: what an undo does to a placing under way, what a press beside the picture does, a blur
/// that is stated, a point led by keys, a second person, and a run that ends when the hand goes elsewhere.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'In hand',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' },
    { id: 'c2', footage: 'f1', from: 20, to: 80, capture: { factor: '1', u: 0 }, name: 'balcony' },
  ],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 30, latest: 30 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
    { id: 'e2', clip: 'c2', name: 'plant', earliest: 32, latest: 32 },
    { id: 'e3', clip: 'c2', name: 'contact', earliest: 50, latest: 51 },
  ],
  script: [{ id: 'p1', text: ['In hand.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  // Narrower than the stage: black at its left and right.
  window = await openPatternWindow({
    films: { 'bout.mp4': { frames: 90, rate: '30', width: 480, height: 480 } },
    breakdown,
    standIns: ['f1'],
  })
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await whole(0)
})
afterAll(async () => window?.close())

const stage = () => page.locator('.stage')
const canvas = () => page.locator('.bench-canvas')
const whole = (frame: number): Promise<void> =>
  page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"]`).waitFor({ state: 'attached' })
const samples = async (point: string, frame: number): Promise<Sample[]> =>
  ((await ask(page, 'landmarks.samples', { clip: 'c1' })) as { landmarks: Landmark[] }).landmarks
    .filter((l) => l.point === point)
    .flatMap((l) => l.samples.filter((sample) => sample.frame === frame))
const places = async (point: string, frame: number): Promise<number[]> => (await samples(point, frame)).map(({ at }) => Math.round(at[0]))
const shown = (points: number): Promise<void> => page.locator(`.bench-canvas[data-points="${points}"]`).waitFor({ state: 'attached' })
const keys = async (...pressed: string[]): Promise<void> => {
  for (const key of pressed) await page.keyboard.press(key)
}
const look = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], `${name}.png`) })
}

/// Where a point of the picture is shown, while it is shown whole.
async function onStage(): Promise<{ readonly scale: number; readonly stagePoint: (x: number, y: number) => readonly [number, number] }> {
  const box = (await stage().boundingBox())!
  const scale = Math.min(box.width, box.height) / 480
  return {
    scale,
    stagePoint: (x, y) => [box.x + (box.width - 480 * scale) / 2 + x * scale, box.y + (box.height - 480 * scale) / 2 + y * scale],
  }
}

async function click(x: number, y: number): Promise<void> {
  const { stagePoint } = await onStage()
  await page.mouse.click(...stagePoint(x, y))
}

it('should store nothing off the picture, and stand where the project stands after an undo', async () => {
  await page.locator('.guide select').nth(1).selectOption('legs')
  await page.locator('.guide').getByRole('button', { name: 'Place' }).click()
  await click(-40, 200)
  await click(200, 200)
  await shown(1)
  await expect.poll(() => places('hip.left', 0)).toEqual([200])
  await keys('Control+z')
  await shown(0)
  await page.getByText('click, or Enter').waitFor()
  await click(210, 200)
  await shown(1)
  await expect.poll(() => places('hip.left', 0)).toEqual([210])
  // Back from the next point, and back again: the place is gone from the stage, and the aim is where it was.
  await keys(' ', 'Backspace')
  await page.getByText('arrow keys: a quarter pixel').waitFor()
  await page.mouse.move(4, 4)
  await keys('Shift+ArrowRight')
  await expect.poll(() => places('hip.left', 0)).toEqual([215])
  await keys('Backspace')
  await shown(0)
  await expect.poll(() => places('hip.left', 0)).toEqual([])
})

it('should ask how long a blurred point is blurred, and keep what is said', async () => {
  await click(200, 200)
  await keys('b')
  const field = page.getByLabel('Blur of the left hip, pixels across the limb')
  expect(await field.getAttribute('placeholder')).toBe('23')
  await keys('1', '4')
  expect(await field.inputValue()).toBe('14')
  await look('blurred')
  expect(await barriersOn(page)).toEqual([])
  await keys('Enter')
  await expect.poll(async () => (await samples('hip.left', 0)).map(({ seen, blur }) => [seen, blur])).toEqual([['blurred', 14]])
})

it('should take a blur’s length from a drag over the smear, on the picture and in the magnifier, as one edit', async () => {
  const { scale, stagePoint } = await onStage()
  const blurred = async () => (await samples('hip.left', 0)).map(({ at, blur }) => [...at.map(Math.round), blur])
  const version = (): number => window.engine.workspace.opened.project.version
  const before = version()
  const drag = async (
    [x, y]: readonly [number, number],
    [X, Y]: readonly [number, number],
    at: () => Promise<void> = async () => undefined,
  ): Promise<void> => {
    await page.mouse.move(x, y)
    await page.mouse.down()
    await page.mouse.move((x + X) / 2, (y + Y) / 2)
    await page.mouse.move(X, Y)
    await at()
    await page.mouse.up()
  }
  const field = page.getByLabel('Blur of the left hip, pixels across the limb')
  await drag(stagePoint(190, 206), stagePoint(214, 224), async () => {
    await expect.poll(() => field.inputValue()).toBe('30')
    await look('smear')
    expect(version()).toBe(before)
  })
  await expect.poll(blurred).toEqual([[200, 200, 30]])
  expect(version()).toBe(before + 1)
  await keys('Control+z')
  await expect.poll(blurred).toEqual([[200, 200, 14]])
  await expect.poll(() => field.inputValue()).toBe('14')
  // Escape gives it up; the point stays where it is.
  await drag(stagePoint(190, 206), stagePoint(214, 224), () => keys('Escape'))
  await page.waitForTimeout(300)
  expect([await blurred(), version()]).toEqual([[[200, 200, 14]], before + 2])
  const box = (await stage().boundingBox())!
  const [left, top] = magnifierPlace([stagePoint(200, 200)[0] - box.x, stagePoint(200, 200)[1] - box.y], {
    left: 12,
    top: 56,
    right: box.width - 12,
    bottom: box.height - 12,
  })
  const middle = [box.x + left + SIDE / 2, box.y + top + SIDE / 2] as const
  const magnified = Math.max(6, 3 * scale)
  await drag([middle[0] - 6 * magnified, middle[1]], [middle[0] + 6 * magnified, middle[1]], () => look('smear-magnified'))
  await expect.poll(blurred).toEqual([[200, 200, 12]])
  expect(version()).toBe(before + 3)
  // A press that goes nowhere moves the point, as before.
  await click(204, 200)
  await expect.poll(blurred).toEqual([[204, 200, 12]])
  await keys('Control+z', 'Control+z')
  await expect.poll(blurred).toEqual([[200, 200, 14]])
  await keys('Escape')
})

it('should lead the point in hand by the arrows, keep it by Enter, and take it back by Escape', async () => {
  await stage().focus()
  await keys('n', 'Enter')
  await page.getByText('led by the arrows').waitFor()
  await look('led')
  await keys('Shift+ArrowRight', 'Shift+ArrowRight', 'Escape')
  await page.getByText('led by the arrows').waitFor({ state: 'detached' })
  await keys('Enter', 'Shift+ArrowLeft', 'Shift+ArrowDown', 'Enter')
  await expect.poll(async () => (await samples('hip.left', 0)).map(({ at }) => at.map(Math.round))).toEqual([[195, 205]])
  await page.getByRole('button', { name: /^Undo Move left hip/ }).click()
  await expect.poll(() => places('hip.left', 0)).toEqual([200])
})

it('should do by a named button what a key does, at twice the size as well', async () => {
  const tools = page.getByRole('toolbar', { name: 'Points and clips' })
  await tools.getByRole('button', { name: 'Copy on' }).click()
  await expect.poll(async () => (await samples('hip.left', 1)).map(({ origin }) => origin)).toEqual(['suggested'])
  await whole(1)
  await look('tools')
  expect(await barriersOn(page)).toEqual([])
  await tools.getByRole('button', { name: 'Accept' }).click()
  await expect.poll(async () => (await samples('hip.left', 1)).map(({ origin }) => origin)).toEqual(['placed'])
  await page.setViewportSize({ width: 720, height: 450 })
  await look('tools-at-200')
  await tools.getByRole('button', { name: 'Over and over' }).focus()
  await expect
    .poll(() =>
      tools.getByRole('button', { name: 'Over and over' }).evaluate((button) => {
        const box = button.getBoundingClientRect()
        return box.left >= 0 && box.right <= innerWidth && box.bottom <= innerHeight
      }),
    )
    .toBe(true)
  await page.setViewportSize({ width: 1440, height: 900 })
})

it('should step either clip alone, and lock on the event that is chosen', async () => {
  await stage().focus()
  await keys('Home', ']', ']', 'd')
  await whole(40)
  const besideFrame = (): Promise<string | null> => canvas().getAttribute('data-beside')
  await expect.poll(besideFrame).toBe('50')
  await keys('Alt+.')
  await whole(41)
  expect(await besideFrame()).toBe('50')
  await keys('>')
  await expect.poll(besideFrame).toBe('51')
  await page.getByLabel('Event that both clips are locked on').selectOption('plant')
  await stage().focus()
  await keys('[', '[')
  await whole(30)
  await expect.poll(besideFrame).toBe('32')
  await look('beside')
  await keys('d')
  await expect.poll(besideFrame).toBe('')
})

it('should end a run where the hand goes elsewhere, and not snap back', async () => {
  await stage().focus()
  // Over and over through the first frames: however late a key comes, the run is not over, nor past the first event.
  await keys('Home', 'o', 'PageDown', 'o')
  for (const [key, frame] of [
    ['Home', 0],
    [']', 30],
    ['End', 89],
  ] as const) {
    await stage().focus()
    await keys('Home', 'Shift+ ')
    await page.getByRole('button', { name: 'Stop', exact: true }).waitFor()
    await page.locator('.bench-canvas:not([data-frame="0"])').waitFor({ state: 'attached' })
    await keys(key)
    await page.getByRole('button', { name: 'Run', exact: true }).waitFor()
    await whole(frame)
    await page.waitForTimeout(150)
    expect([key, await canvas().getAttribute('data-frame')]).toEqual([key, String(frame)])
  }
  await keys('o')
})

it('should name a second person, and rename either', async () => {
  const persons = page.locator('.guide select').first()
  await persons.selectOption({ label: 'another person …' })
  await page.getByLabel('Who is it?').fill('Ona Brekke')
  await page.locator('.guide').getByRole('button', { name: 'Name' }).click()
  await page.getByRole('button', { name: 'Rename Ona Brekke' }).click()
  await page.locator('.guide input').fill('Ona Lind')
  await keys('Enter')
  await expect.poll(() => persons.locator('option').allTextContents()).toEqual(['Nela Varga', 'Ona Lind', 'another person …'])
  expect(await persons.evaluate((list) => (list as HTMLSelectElement).selectedOptions[0]?.textContent)).toBe('Ona Lind')
  await persons.selectOption({ label: 'Nela Varga' })
  expect(window.faults).toEqual([])
})
