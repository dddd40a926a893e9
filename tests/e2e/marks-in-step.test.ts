import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { readPattern } from '../film-patterns'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { captureRegion, captureScreen, levelsOf, type Capture, type Region } from '../screen'

/// Marks stand on their own frame while the film runs, and two clips run in step. The films carry their frame's number as
/// blocks above a dark strip; a point moves along the strip, a fixed way a frame. On every picture that the screen showed,
/// number and point are read and held together.

const WIDTH = 640
const BLOCKS = 288
const HEIGHT = 360
const FRAMES = 100
/// The second film counts from here, so that one can never be taken for the other.
const SECOND = 1000
const EVENT = { c1: 10, c2: 30 } as const
const STEP = 6
const placeOf = (frame: number): number => 20 + STEP * frame

const moving = (clip: string): Landmark => ({
  clip,
  subject: 's1',
  point: 'ball',
  samples: Array.from({ length: FRAMES }, (_, frame) => ({ frame, at: [placeOf(frame), (BLOCKS + HEIGHT) / 2], origin: 'placed' })),
})
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'In step',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [
    { id: 'f1', file: 'first.mp4' },
    { id: 'f2', file: 'second.mp4' },
  ],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, name: 'first' },
    { id: 'c2', footage: 'f2', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, name: 'second' },
  ],
  events: [
    { id: 'e1', clip: 'c1', name: 'contact', earliest: EVENT.c1, latest: EVENT.c1 },
    { id: 'e2', clip: 'c2', name: 'contact', earliest: EVENT.c2, latest: EVENT.c2 },
  ],
  landmarks: [moving('c1'), moving('c2')],
  script: [{ id: 'p1', text: ['Two films.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  const film = {
    frames: FRAMES,
    rate: '30',
    width: WIDTH,
    height: BLOCKS,
    gop: FRAMES,
    bframes: 2,
    filter: `pad=${WIDTH}:${HEIGHT}:0:0:black`,
  }
  window = await openPatternWindow({
    films: { 'first.mp4': film, 'second.mp4': { ...film, first: SECOND } },
    breakdown,
    standIns: ['f1', 'f2'],
  })
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.bench-canvas[data-frame="0"][data-detail="full"]').waitFor({ state: 'attached' })
  // Words lie over the blocks; what is looked at here is the canvas beneath.
  await page.evaluate(() => {
    const sheet = new CSSStyleSheet()
    sheet.replaceSync('.stage-place > :not(.stage) { visibility: hidden }')
    document.adoptedStyleSheets.push(sheet)
  })
  await page.locator('.stage').focus()
})
afterAll(async () => window?.close())

/// Where a film lies on the screen: in the stage, or in its left or right half.
async function placeOnScreen(half: 'whole' | 'left' | 'right'): Promise<Region> {
  const box = (await page.locator('.stage').boundingBox())!
  const width = half === 'whole' ? box.width : box.width / 2
  const scale = Math.min(width / WIDTH, box.height / HEIGHT)
  const left = box.x + (half === 'right' ? width : 0)
  return {
    x: left + (width - WIDTH * scale) / 2,
    y: box.y + (box.height - HEIGHT * scale) / 2,
    width: WIDTH * scale,
    height: HEIGHT * scale,
  }
}

/// The number that the blocks say, and the frame that the point's place says, to the hundredth.
function readBoth(capture: Capture, { x, y, width, height }: Region): { readonly blocks: number; readonly mark: number } {
  const scale = width / WIDTH
  const whole = { x: Math.round(x), y: Math.round(y), width: Math.round(width), height: Math.round(height) }
  const blocks = readPattern(levelsOf(capture, whole), whole.width, whole.height, {
    x: 0,
    y: 0,
    width: whole.width,
    height: BLOCKS * scale,
  })
  const strip = { ...whole, y: Math.round(y + (BLOCKS + 12) * scale), height: Math.round((HEIGHT - BLOCKS - 24) * scale) }
  const levels = levelsOf(capture, strip)
  let [n, sum] = [0, 0]
  levels.forEach((level, i) => {
    if (level < 140) return
    n++
    sum += (i % strip.width) + 0.5
  })
  return { blocks, mark: n === 0 ? -1 : ((strip.x + sum / n - x) / scale - placeOf(0)) / STEP }
}

const standing = (frame: number): { blocks: number; mark: number } => ({ blocks: frame, mark: expect.closeTo(frame, 0) as number })

const runs = [
  ['slowly', ' ', 4000, 20],
  ['at full speed', 'Shift+Space', 1500, 20],
] as const

/// What every picture of the screen says while the film runs from its first frame; where a busy machine handed out pictures of
/// fewer frames than `atLeast`, it runs again.
async function readRuns<T>(
  key: string,
  ms: number,
  atLeast: number,
  begin: () => Promise<void>,
  first: T,
  read: (capture: Capture) => T,
  frameOf: (said: T) => number,
): Promise<{ readonly said: readonly T[]; readonly frames: number }> {
  const said: T[] = []
  const frames = new Set<number>()
  for (const end = Date.now() + 480_000; frames.size < atLeast && Date.now() < end;) {
    await page.keyboard.press('Home')
    await begin()
    // The screen may be behind the page: what it shows is held against the page only from the first frame's own picture on.
    await expect.poll(async () => read(await captureRegion(page, { x: 0, y: 0, ...page.viewportSize()! }))).toEqual(first)
    const captures = await captureScreen(page, async () => {
      await page.keyboard.press(key)
      await page.waitForTimeout(ms)
      // A step stops it, and starts nothing where it has reached the clip's end.
      await page.keyboard.press('.')
    })
    const now = captures.map(read)
    said.push(...now)
    for (const each of now) frames.add(frameOf(each))
  }
  return { said, frames: frames.size }
}

it.each(runs)('should keep the mark on its frame in every picture of the screen, running %s', async (_, key, ms, atLeast) => {
  const place = await placeOnScreen('whole')
  const { said, frames } = await readRuns(
    key,
    ms,
    atLeast,
    () => page.locator('.bench-canvas[data-frame="0"]').waitFor({ state: 'attached' }),
    standing(0),
    (capture) => readBoth(capture, place),
    ({ blocks }) => blocks,
  )
  const off = said.map(({ blocks, mark }) => Math.abs(mark - blocks))
  console.info(
    `one clip: ${said.length} pictures of the screen, ${frames} frames, the mark at most ${Math.max(...off).toFixed(2)} of a frame off`,
  )
  expect(said.filter(({ blocks }) => blocks < 0)).toEqual([])
  expect(Math.max(...off)).toBeLessThan(0.3)
  expect(frames).toBeGreaterThanOrEqual(atLeast)
})

it.each(runs)('should keep both marks on their frames and both clips in step, running %s', async (_, key, ms, atLeast) => {
  const begin = async (): Promise<void> => {
    if ((await page.locator('.bench-canvas').getAttribute('data-beside')) === '') await page.keyboard.press('d')
    await page.locator(`.bench-canvas[data-frame="0"][data-beside="${EVENT.c2 - EVENT.c1}"]`).waitFor({ state: 'attached' })
  }
  const [left, right] = [await placeOnScreen('left'), await placeOnScreen('right')]
  const { said, frames } = await readRuns(
    key,
    ms,
    atLeast,
    begin,
    { own: standing(0), beside: { blocks: SECOND + EVENT.c2 - EVENT.c1, mark: expect.closeTo(EVENT.c2 - EVENT.c1, 0) as number } },
    (capture) => ({ own: readBoth(capture, left), beside: readBoth(capture, right) }),
    ({ own }) => own.blocks,
  )
  const off = said.flatMap(({ own, beside }) => [own.mark - own.blocks, beside.mark + SECOND - beside.blocks].map(Math.abs))
  const steps = said.map(({ own, beside }) => beside.blocks - SECOND - EVENT.c2 - (own.blocks - EVENT.c1))
  console.info(
    `two clips: ${said.length} pictures of the screen, ${frames} frames, marks at most ${Math.max(...off).toFixed(2)} of a frame off, clips ${Math.min(...steps)} to ${Math.max(...steps)} frames out of step`,
  )
  expect(said.filter(({ own, beside }) => own.blocks < 0 || beside.blocks < 0)).toEqual([])
  expect(Math.max(...off)).toBeLessThan(0.3)
  expect(new Set(steps)).toEqual(new Set([0]))
  expect(frames).toBeGreaterThanOrEqual(atLeast)
  expect(window.faults).toEqual([])
})
