import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'
import { keyHand, type Hand } from './hand'

/// What a clip is measured with, stated on the Bench and on the shelf by keys alone: views span by span, events marked twice, and
/// what is known of the hall and of the clip's speed.

const clip = (id: string, name: string, capture: Breakdown['clips'][number]['capture']) => ({
  id,
  footage: 'f1',
  from: 0,
  to: 90,
  capture,
  name,
})
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Stated',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [
    { id: 's1', name: 'Nela Varga' },
    { id: 's2', name: 'Ida Koss' },
  ],
  clips: [clip('c1', 'first evening', { factor: '1', u: 0 }), clip('c2', 'its replay', 'unknown')],
  views: [{ clip: 'c1', subject: 's1', from: 0, to: 90, lead: 'left', yaw: { deg: 5, u: 3 } }],
  events: [],
  landmarks: [
    { clip: 'c1', subject: 's1', point: 'hip.left', samples: [{ frame: 0, at: [600, 300] }] },
    {
      clip: 'c1',
      subject: 's1',
      point: 'fist.left',
      samples: Array.from({ length: 41 }, (_, i) => ({ frame: 5 + i, at: [400 + 10 * i, 300], origin: 'tracked' })),
    },
  ],
  measures: [
    {
      id: 'm1',
      kind: 'path',
      clip: 'c1',
      subject: 's1',
      points: ['fist.left'],
      fromFrame: 10,
      toFrame: 30,
      camera: 'still',
      unit: { points: ['hip.left', 'fist.left'], frame: 10, name: 'arm' },
    },
  ],
  script: [{ id: 'p1', text: ['The rear hand lands.'], shots: [] }],
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

const tables = () => window.engine.workspace.opened.project.state.tables
const stands = (frame: number): Promise<void> =>
  page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"]`).waitFor({ state: 'attached' })
const press = (name: string): Promise<void> => hand.press(page.getByRole('button', { name, exact: true }))
const onStage = async (...keys: readonly string[]): Promise<void> => {
  await hand.goTo(page.locator('.stage'))
  for (const key of keys) await page.keyboard.press(key)
}

it('should state from a frame on that the lead side has changed, and take it back as one thing', async () => {
  await page.keyboard.press('Alt+Digit3')
  await hand.choose(page.getByLabel('Clip', { exact: true }), 'first evening')
  await onStage('PageDown', 'PageDown', 'v')
  await stands(20)
  await hand.choose(page.getByLabel('Lead side'), 'right')
  await press('From frame 20 on')
  await page.getByText('frames 20 to 89', { exact: true }).waitFor()
  expect(tables().views.list()).toEqual([
    { clip: 'c1', subject: 's1', from: 0, to: 20, lead: 'left', yaw: { deg: 5, u: 3 } },
    { clip: 'c1', subject: 's1', from: 20, to: 90, lead: 'right', yaw: { deg: 5, u: 3 } },
  ])
  expect(await barriersOn(page)).toEqual([])
  await onStage(',')
  await stands(19)
  expect(await page.getByLabel('Lead side').inputValue()).toBe('left')
  await onStage('.')
  await stands(20)
  // Beside it, what is known of the clip's speed.
  await page.getByText('Played as fast as it happened.', { exact: true }).waitFor()
  await press('as before')
  await expect.poll(() => tables().views.list().length).toBe(1)
  await page.keyboard.press('Control+z')
  await expect.poll(() => tables().views.list().length).toBe(2)
  await page.keyboard.press('Control+z')
  await expect.poll(() => tables().views.list()).toEqual(breakdown.views)
  await press('Close View')
})

it('should take a replay’s speed from the events that it shares with the live shot, and let a typed one take its place', async () => {
  const mark = async (clipName: string, frames: readonly (readonly [string, number])[]): Promise<void> => {
    await hand.choose(page.getByLabel('Clip', { exact: true }), clipName)
    await onStage('Home', 'e')
    let at = 0
    for (const [name, frame] of frames) {
      await onStage(...Array.from({ length: (frame - at) / 10 }, () => 'PageDown'))
      await stands(frame)
      await hand.fill(page.getByLabel('Event', { exact: true }), name)
      await press(`Mark it on frame ${frame}`)
      await page.getByLabel(`What ${name} means`).waitFor()
      at = frame
    }
    await press('Close Events')
  }
  await mark('first evening', [
    ['load', 10],
    ['contact', 30],
  ])
  await mark('its replay', [
    ['load', 10],
    ['contact', 70],
  ])
  // From the Bench to the form in which it is stated.
  await onStage('v')
  await page.getByText('Not known: times, speeds and rates are refused.', { exact: true }).waitFor()
  expect(await barriersOn(page)).toEqual([])
  await press('Say how fast, on the clip’s form in Footage')
  await hand.choose(page.getByRole('combobox', { name: 'Speed' }), 'by another clip’s events')
  await page.getByText('3.000 ± 0.065').waitFor()
  await page.getByText("Only two shared events tell the replay's speed", { exact: false }).waitFor()
  expect(await barriersOn(page)).toEqual([])
  await press('Keep the clip')
  const replay = () => tables().clips.get('c2')?.capture
  await expect.poll(replay).toMatchObject({
    factor: '3',
    link: {
      shared: 'c1',
      pairs: [
        ['e3', 'e1'],
        ['e4', 'e2'],
      ],
    },
  })
  await press('Change its replay')
  await hand.choose(page.getByRole('combobox', { name: 'Speed' }), 'known')
  await hand.fill(page.getByLabel('Times slower than it happened'), '4')
  await press('Keep the clip')
  await expect.poll(() => (replay() as { factor?: string }).factor).toBe('4')
  expect(replay()).not.toHaveProperty('link')
  await page.keyboard.press('Control+z')
  await expect.poll(replay).toMatchObject({ factor: '3', link: { shared: 'c1' } })
})

/// Measures whose lines are drawn on the stage, and how many points are.
const drawn = (): Promise<(string | undefined)[]> =>
  page.locator('.bench-canvas').evaluate((canvas: HTMLElement) => [canvas.dataset['measures'], canvas.dataset['points']])

const hudEvent = (): Promise<string | null> => page.locator('.hud-event').textContent()

it('should mark an event a second time without its first bracket in sight, and show by how much the two differ', async () => {
  await page.keyboard.press('Alt+Digit3')
  await hand.choose(page.getByLabel('Clip', { exact: true }), 'first evening')
  // A path that ends at the event, a stretch that is run over and over, and a guide, all chosen before.
  await onStage('Home', 'm')
  await hand.press(page.locator('.sheet .entry', { hasText: 'path of' }))
  await onStage(...Array.from({ length: 3 }, () => 'PageDown'), ',', 'o', '.', '.', 'o')
  await stands(29)
  expect(await hudEvent()).toBe('contact, 1 frame on')
  expect(await drawn()).toEqual(['m1', '1'])
  await page.getByText('Runs over and over from frame 29 to 31.').waitFor()
  await onStage('.', 'p')
  await page.getByText('click, or Enter').waitFor()
  await onStage('e')
  await press('Mark contact again, blind')
  await page.getByRole('heading', { name: 'contact, a second time' }).waitFor()
  await stands(0)
  expect(await page.locator('.event-name').allTextContents()).toEqual(['load'])
  expect((await page.locator('.bench').textContent())?.match(/(frames?|to) (29|30|31)/)).toBeNull()
  await onStage(']', 'PageDown', 'PageDown', ',')
  await stands(29)
  expect(await drawn()).toEqual(['', '0'])
  expect(await hudEvent()).toBe('load, 19 frames back')
  await onStage('.', '.')
  await stands(31)
  expect(await page.locator('.hud').textContent()).not.toContain('contact')
  await press('It is here, frame 31')
  await onStage('.')
  await stands(32)
  await press('not after here, frame 32')
  expect(await barriersOn(page)).toEqual([])
  await press('Keep the second marking')
  await page
    .getByText('First frame 30; blind, the second time, frames 31 to 32: 1.5 frames later; the two have no frame in common.')
    .waitFor()
  await expect
    .poll(() => tables().events.get('e2'))
    .toEqual({
      id: 'e2',
      clip: 'c1',
      name: 'contact',
      definition: expect.any(String),
      earliest: 30,
      latest: 30,
      markings: { first: { earliest: 30, latest: 30 }, second: { earliest: 31, latest: 32 } },
    })
  // The linked replay is given its new speed by the same edit.
  await press('Take both into the bracket: frames 30 to 32')
  await expect.poll(() => (tables().clips.get('c2')?.capture as { factor: string }).factor).toBe('2.857143')
  await page.keyboard.press('Control+z')
  await expect
    .poll(() => [tables().events.get('e2')?.latest, (tables().clips.get('c2')?.capture as { factor: string }).factor])
    .toEqual([30, '3'])
  await press('Close Events')
  await onStage('Home', 'PageDown', 'PageDown', 'PageDown')
  await stands(30)
  expect(await hudEvent()).toBe('contact: frame 30')
  // Frame and time stand where they stood, whatever is said of events behind them.
  const [one, two] = [
    await page.locator('.hud [role=status]').boundingBox(),
    await onStage(',')
      .then(() => stands(29))
      .then(() => page.locator('.hud [role=status]').boundingBox()),
  ]
  expect(two).toEqual(one)
  expect(window.faults).toEqual([])
})

it('should take the roll from a line placed by keys, and state camera, plane, length and floor', async () => {
  /// Places points one after another, round after round, each at a step from the one before.
  const place = async (moves: readonly (readonly string[])[], back: readonly string[]): Promise<void> => {
    for (let round = 0; round < 3; round++)
      for (const [i, keys] of moves.entries()) {
        for (const key of keys) await page.keyboard.press(key)
        await page.keyboard.press('Enter')
        await page.getByText('arrow keys: a quarter pixel').waitFor()
        await page.keyboard.press(' ')
        if (i === moves.length - 1 && round < 2) for (const key of back) await page.keyboard.press(key)
      }
    await page.getByText('All points are placed.').waitFor()
  }
  const times = (n: number, key: string): string[] => Array.from({ length: n }, () => key)
  await onStage('Home', 'v')
  await stands(0)
  await press('Place the line’s two ends')
  await place(
    [times(20, 'Shift+ArrowUp'), [...times(40, 'Shift+ArrowDown'), ...times(2, 'Shift+ArrowRight')]],
    [...times(20, 'Shift+ArrowUp'), ...times(2, 'Shift+ArrowLeft')],
  )
  // 200 px down and 10 px to the right: the picture leans 2.9° to the left, so the camera is turned 2.9° clockwise.
  await page.getByText('On frame 0 the line says 2.9°').waitFor()
  await press('Take it as the roll')
  await expect.poll(() => tables().clips.get('c1')?.roll?.deg).toBe(2.9)
  await hand.goTo(page.getByLabel('it stood still in this clip'))
  await page.keyboard.press(' ')
  await expect.poll(() => tables().clips.get('c1')?.hall).toEqual({ camera: 'still' })
  expect(await barriersOn(page)).toEqual([])
  // From the box itself, and from the picture.
  await page.keyboard.press('Control+z')
  await expect.poll(() => tables().clips.get('c1')?.hall).toBeUndefined()
  await hand.goTo(page.getByLabel('it stood still in this clip'))
  await page.keyboard.press('Control+y')
  await expect.poll(() => tables().clips.get('c1')?.hall).toEqual({ camera: 'still' })
  await onStage('Control+z')
  await expect.poll(() => tables().clips.get('c1')?.hall).toBeUndefined()
  await press('Place the four marks')
  await place(
    [['Shift+ArrowLeft'], times(8, 'Shift+ArrowRight'), times(8, 'Shift+ArrowDown'), times(8, 'Shift+ArrowLeft')],
    times(8, 'Shift+ArrowUp'),
  )
  for (const [i, [across, along]] of [
    [0, 0],
    [2, 0],
    [2, 3],
    [0, 3],
  ].entries()) {
    await hand.fill(page.getByLabel(`Mark ${i + 1}, across`), String(across))
    await hand.fill(page.getByLabel(`Mark ${i + 1}, along`), String(along))
  }
  await press('State the floor')
  await expect.poll(() => tables().clips.get('c1')?.hall?.floor?.marks[2]).toEqual({ point: 'floor.3', at: [2, 3] })
  // A fifth mark, half-way along the far edge, by keys as well; and it is taken away again.
  await press('Add a mark')
  await place(
    [[...times(8, 'Shift+ArrowUp'), ...times(4, 'Shift+ArrowRight')]],
    [...times(8, 'Shift+ArrowDown'), ...times(4, 'Shift+ArrowLeft')],
  )
  await hand.fill(page.getByLabel('Mark 5, across'), '1')
  await hand.fill(page.getByLabel('Mark 5, along'), '0')
  await page.getByText(/^The marks are 0\.\d\d m off in the mean, which their placing explains\.$/).waitFor()
  await press('State the floor')
  await expect.poll(() => tables().clips.get('c1')?.hall?.floor?.marks.length).toBe(5)
  await press('Take mark 5 away')
  await press('State the floor')
  await expect.poll(() => tables().clips.get('c1')?.hall?.floor?.marks.length).toBe(4)
  expect(await barriersOn(page)).toEqual([])
  expect(window.faults).toEqual([])
})
