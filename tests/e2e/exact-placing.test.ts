import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { fileUrl } from '../../main/media/file-url'
import { runFfmpeg } from '../../main/media/process'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { captureRegion, spotsIn } from '../screen'

/// Fifteen landmarks on one frame at 400 %, each aimed at a lone bright pixel of the film: by a pointer that goes to where
/// the screen shows the pixel, and by keys alone. What is stored is held against the film, not against the window's own
/// reckoning of where things lie.

const WIDTH = 1280
const HEIGHT = 720
const ROWS = 3
const COLUMNS = 5
/// The middles of the bright pixels, row by row.
const targets = Array.from({ length: ROWS * COLUMNS }, (_, i): readonly [number, number] => {
  const [column, row] = [i % COLUMNS, Math.floor(i / COLUMNS)]
  return [WIDTH / 2 - 84 + column * 41 + ((i * 7) % 5) + 0.5, HEIGHT / 2 - 36 + row * 31 + ((i * 3) % 4) + 0.5]
})

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'To the pixel',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'dots.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 4, capture: 'unknown', name: 'dots' }],
  script: [{ id: 'p1', text: ['Dots.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  const picture = new Uint8Array(WIDTH * HEIGHT).fill(16)
  for (const [x, y] of targets) picture[Math.floor(y) * WIDTH + Math.floor(x)] = 235
  window = await openPatternWindow({
    films: {},
    breakdown,
    more: (folder, tool) =>
      runFfmpeg(
        tool,
        [
          '-v',
          'error',
          '-f',
          'rawvideo',
          '-pix_fmt',
          'gray',
          '-s',
          `${WIDTH}x${HEIGHT}`,
          '-r',
          '30',
          '-i',
          'pipe:0',
          '-vf',
          'scale=in_range=tv:out_range=tv,format=yuv420p',
          '-c:v',
          'libx264',
          '-crf',
          '1',
          fileUrl(join(folder, 'dots.mp4')),
        ],
        { stdin: [0, 1, 2, 3].map(() => picture) },
      ).then(() => undefined),
  })
  page = window.page
})
afterAll(async () => window?.close())

const stage = () => page.locator('.stage')
const placed = async (frame: number): Promise<readonly (readonly [number, number])[]> =>
  ((await ask(page, 'landmarks.samples', { clip: 'c1' })) as { landmarks: Landmark[] }).landmarks.flatMap((l) =>
    l.samples.filter((sample) => sample.frame === frame).map(({ at }) => at),
  )

/// The Bench on a frame, its middle at 400 % or a little more, with the hand at the stage.
async function openAt(frame: number): Promise<void> {
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await stage().focus()
  for (let i = 0; i < frame; i++) await page.keyboard.press('.')
  await page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"]`).waitFor({ state: 'attached' })
  const zoomed = async (): Promise<number> =>
    Number(/(\d+) %/.exec((await page.locator('.hud [role=status]').textContent()) ?? '')?.[1] ?? 0)
  for (let i = 0; i < 12 && (await zoomed()) < 400; i++) await page.keyboard.press('+')
  expect(await zoomed()).toBeGreaterThanOrEqual(400)
}

function held(points: readonly (readonly [number, number])[], how: string): void {
  const off = points.map(([x, y], i) => Math.hypot(x - (targets[i]?.[0] ?? 0), y - (targets[i]?.[1] ?? 0)))
  console.info(`placed by ${how} at 400 %: ${points.length} points, furthest off ${Math.max(...off).toFixed(3)} px`)
  expect(points.length).toBe(targets.length)
  expect(Math.max(...off)).toBeLessThanOrEqual(0.25)
}

it('should place 15 landmarks by pointer where the screen shows their pixels', async () => {
  await openAt(1)
  const box = (await stage().boundingBox())!
  const region = { x: Math.round(box.x + box.width / 2 - 440), y: Math.round(box.y + box.height / 2 - 200), width: 880, height: 400 }
  const spots = spotsIn(await captureRegion(page, region), 120)
  expect(spots.length).toBe(targets.length)
  // Row by row, as the film has them.
  const rows = [...spots].sort((a, b) => a[1] - b[1])
  const inOrder = Array.from({ length: ROWS }, (_, row) =>
    rows.slice(row * COLUMNS, (row + 1) * COLUMNS).sort((a, b) => a[0] - b[0]),
  ).flat()
  await page.keyboard.press('p')
  for (const [x, y] of inOrder) {
    // A hand's pointer stands on whole pixels of the screen.
    await page.mouse.click(Math.round(region.x + x), Math.round(region.y + y))
    await page.getByText('arrow keys: a quarter pixel').waitFor()
    await page.keyboard.press(' ')
  }
  await page.keyboard.press('Escape')
  await expect.poll(async () => (await placed(1)).length).toBe(targets.length)
  held(await placed(1), 'pointer')
})

it('should place 15 landmarks by keys alone', async () => {
  await page.mouse.move(2, 2)
  await page.reload()
  await page.locator('.top h1').waitFor()
  await openAt(2)
  await page.keyboard.press('p')
  // The aim begins in the middle of the picture and stays where the last point was placed.
  let aim: readonly [number, number] = [WIDTH / 2, HEIGHT / 2]
  const go = async (by: number, less: string, more: string): Promise<void> => {
    const quarters = Math.round(by * 4)
    for (let far = Math.trunc(quarters / 20); far !== 0; far -= Math.sign(far)) await page.keyboard.press(`Shift+${far > 0 ? more : less}`)
    for (let near = quarters % 20; near !== 0; near -= Math.sign(near)) await page.keyboard.press(near > 0 ? more : less)
  }
  for (const target of targets) {
    await go(target[0] - aim[0], 'ArrowLeft', 'ArrowRight')
    await go(target[1] - aim[1], 'ArrowUp', 'ArrowDown')
    await page.keyboard.press('Enter')
    await page.getByText('arrow keys: a quarter pixel').waitFor()
    await page.keyboard.press(' ')
    aim = target
  }
  await page.keyboard.press('Escape')
  await expect.poll(async () => (await placed(2)).length).toBe(targets.length)
  held(await placed(2), 'keys')
  expect(window.faults).toEqual([])
})
