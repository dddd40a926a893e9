import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { runFfmpeg } from '../../main/media/process'
import { openPatternWindow, readCanvas, SMALL, type PatternWindow } from '../pattern-window'

/// The player on exact frames: the film's own number is read off the canvas after every step.

const films = {
  'long.mp4': { frames: 480, rate: '60', width: 1920, height: 1080, gop: 480, bframes: 3 },
  'ntsc.mp4': { frames: 120, rate: '60000/1001', gop: 120, bframes: 2 },
  'fast.mp4': { frames: 240, rate: '240', gop: 240, bframes: 2 },
  'uneven.mp4': { frames: 120, rate: '30', vfr: [33, 17, 50, 40], gop: 60, bframes: 2 },
  'turned.mp4': { frames: 60, rate: '30', width: 180, height: 320, filter: 'transpose=2' },
} as const

const clipOf = (id: string, frames: number) => ({ id, footage: id, from: 0, to: frames, capture: { factor: '1', u: 0 }, name: id })
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Frames',
  output: { width: 1920, height: 1080, rate: '60/1' },
  footage: Object.keys(films).map((file) => ({ id: file.replace('.mp4', ''), file })),
  subjects: [],
  clips: Object.entries(films).map(([file, { frames }]) => clipOf(file.replace('.mp4', ''), frames)),
  script: Object.entries(films).map(([file, { frames }]) => {
    const id = file.replace('.mp4', '')
    return { id: `p-${id}`, text: [`${id}.`], shots: [{ run: id, from: 0, to: frames, speed: '1' }] }
  }),
}

let window: PatternWindow

beforeAll(async () => {
  const { 'turned.mp4': lying, ...straight } = films
  window = await openPatternWindow({
    films: { ...straight, 'lying.mp4': lying },
    breakdown,
    standIns: ['long'],
    more: (folder, tool) =>
      runFfmpeg(tool, [
        '-v',
        'error',
        '-i',
        fileUrl(join(folder, 'lying.mp4')),
        '-c',
        'copy',
        '-metadata:s:v:0',
        'rotate=270',
        fileUrl(join(folder, 'turned.mp4')),
      ]).then(() => undefined),
  })
})
afterAll(async () => window?.close())

interface Step {
  readonly wanted: number
  readonly small: readonly number[]
}

/// Takes steps by key in the row in hand; answers what the canvas shows after each.
async function step(paragraph: string, keys: readonly string[], whole = false): Promise<Step[]> {
  const { page } = window
  await page.locator('.words p', { hasText: `${paragraph}.` }).click()
  await page.locator('.figures', { hasText: `${paragraph}, frame` }).waitFor()
  return page.evaluate(
    async ({ keys, size, whole }) => {
      const canvas = document.querySelector<HTMLCanvasElement>('canvas.picture')
      const small = document.createElement('canvas')
      Object.assign(small, size)
      const surface = small.getContext('2d', { willReadFrequently: true })
      if (!canvas || !surface) throw new Error('there is no player')
      const frame = (): Promise<number> => new Promise((done) => requestAnimationFrame(done))
      const until = async (holds: () => boolean): Promise<void> => {
        const end = performance.now() + 100_000
        while (!holds()) {
          if (performance.now() > end)
            throw new Error(
              `the frame never came: wanted ${label()}, shown ${canvas.dataset['frame']}, waiting ${canvas.dataset['waiting']}`,
            )
          await frame()
        }
      }
      const label = (): string => /frame (\d+)/.exec(canvas.getAttribute('aria-label') ?? '')?.[1] ?? ''
      const shown = (): boolean =>
        canvas.dataset['frame'] === label() && canvas.dataset['waiting'] === undefined && (!whole || canvas.dataset['detail'] === 'full')
      await until(shown)
      await new Promise((done) => setTimeout(done, 1500))
      const steps: { wanted: number; small: number[] }[] = []
      for (const key of keys) {
        const before = label()
        canvas.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }))
        await until(() => label() !== before && shown())
        await frame()
        surface.drawImage(canvas, 0, 0, size.width, size.height)
        const { data } = surface.getImageData(0, 0, size.width, size.height)
        const grey = Array.from({ length: data.length / 4 }, (_, i) => data[i * 4] ?? 0)
        const figures = document.querySelector('.steps .figures')?.textContent ?? ''
        steps.push({ wanted: Number(/frame (\d+)/.exec(figures)?.[1] ?? -1), small: grey })
      }
      return steps
    },
    { keys, size: SMALL, whole },
  )
}

/// A walk of single steps in either direction that stays within a stretch that begins with `runUp` steps onward.
function walk(count: number, runUp: number): string[] {
  let seed = 12345
  const chance = (): number => (seed = (seed * 1103515245 + 12345) % 2147483648) / 2147483648
  let way = 1
  return Array.from({ length: count }, (_, i) => {
    if (i >= runUp && chance() < 0.3) way = -way
    if (i < runUp) way = 1
    return way > 0 ? 'ArrowRight' : 'ArrowLeft'
  })
}

// How soon a step is on the screen is measured by the benchmark step-in-player.
it('should show the right frame at each of 500 single steps on 1080p60 with one key frame', async () => {
  await window.page.locator('canvas.picture[data-detail="full"]').waitFor()
  const steps = await step('long', walk(500, 150))
  const wrong = steps.filter(({ wanted, small }) => readCanvas(small) !== wanted)
  console.info(`single steps: ${steps.length - wrong.length} of ${steps.length} right`)
  expect(wrong.map(({ wanted, small }) => [wanted, readCanvas(small)])).toEqual([])
  expect(steps.length).toBe(500)
})

it('should show the right whole picture once the hand rests, though the film has one key frame', async () => {
  // The row may be at its beginning, where a step back changes nothing.
  const steps = await step(
    'long',
    ['PageDown', 'PageDown', 'PageUp', 'ArrowLeft', 'PageDown', 'PageDown', 'PageDown', 'ArrowRight', 'PageUp'],
    true,
  )
  expect(steps.map(({ small }) => readCanvas(small))).toEqual(steps.map(({ wanted }) => wanted))
})

it.each([
  ['ntsc', '59.94 frames a second'],
  ['fast', '240 frames a second'],
  ['uneven', 'a variable rate'],
  ['turned', 'a film stored on its side'],
])('should show the right frames of %s: %s, small and whole', async (name) => {
  const keys = [...walk(30, 20), 'PageDown', 'ArrowLeft', 'PageUp', 'ArrowRight']
  const small = await step(name, keys)
  expect(small.map((s) => readCanvas(crop(name, s.small)))).toEqual(small.map(({ wanted }) => wanted))
  const stills: string[] = []
  window.page.on('request', (request) => void (/\/still\/[^?]*$/.test(request.url()) && stills.push(request.url())))
  const whole = await step(name, ['PageDown', 'ArrowLeft', 'ArrowRight'], true)
  expect(stills).toEqual([])
  expect(whole.map((s) => readCanvas(crop(name, s.small)))).toEqual(whole.map(({ wanted }) => wanted))
})

/// Runs the row in hand from its begin; answers what the canvas showed every 60 ms, and whether the run stopped.
async function watchRun(
  begin: string,
): Promise<{ readonly shown: { readonly label: number; readonly at: number; readonly small: number[] }[]; readonly stopped: boolean }> {
  const { page } = window
  await page.getByLabel('Place in this paragraph').fill(begin)
  await page.locator(`canvas.picture[data-frame="${begin}"]:not([data-waiting])`).waitFor()
  await page.waitForTimeout(1500)
  return page.evaluate(async (size) => {
    const canvas = document.querySelector<HTMLCanvasElement>('canvas.picture')
    const run = [...document.querySelectorAll('button')].find((button) => button.textContent === 'Run')
    const small = Object.assign(document.createElement('canvas'), size)
    const surface = small.getContext('2d', { willReadFrequently: true })
    if (!canvas || !run || !surface) throw new Error('there is no player')
    const still = canvas.dataset['frame']
    run.click()
    const began = performance.now()
    const shown: { label: number; at: number; small: number[] }[] = []
    let stopped = false
    while (!stopped && performance.now() - began < 20_000) {
      await new Promise((done) => setTimeout(done, 60))
      surface.drawImage(canvas, 0, 0, size.width, size.height)
      const { data } = surface.getImageData(0, 0, size.width, size.height)
      shown.push({
        label: Number(canvas.dataset['frame']),
        at: performance.now(),
        small: Array.from({ length: data.length / 4 }, (_, i) => data[i * 4] ?? 0),
      })
      stopped = [...document.querySelectorAll('button')].some((button) => button.textContent === 'Run')
    }
    return { shown: shown.filter(({ label }) => label !== Number(still)), stopped }
  }, SMALL)
}

it('should run at full speed and stop at the row’s end, every frame in its place', async () => {
  const { page, faults } = window
  await page.locator('.words p', { hasText: 'ntsc.' }).click()
  await page.locator('.figures', { hasText: 'ntsc, frame' }).waitFor()
  const slider = page.getByLabel('Place in this paragraph')
  const begin = (await slider.getAttribute('min')) ?? '0'
  const enough = ({ shown }: { readonly shown: readonly { readonly label: number }[] }): boolean =>
    new Set(shown.map(({ label }) => label)).size > 10 && (shown.at(-1)?.label ?? 0) - (shown[0]?.label ?? 0) > 60
  let seen = await watchRun(begin)
  // Run again where a busy screen shows too little.
  for (let times = 1; times < 5 && !enough(seen); times++) seen = await watchRun(begin)
  const first = seen.shown[0]
  if (!first) throw new Error('it showed nothing')
  const shift = first.label - readCanvas(first.small)
  // The programme runs at 60, the film at 59.94: its first frame stands for two, and from then on the two part by no whole
  // frame in 120.
  expect(seen.shown.map(({ label, small }) => label - readCanvas(small))).toEqual(seen.shown.map(() => shift))
  expect(new Set(seen.shown.map(({ label }) => label)).size).toBeGreaterThan(10)
  expect(seen.stopped).toBe(true)
  // By the frames that were seen, not by when it began and ended: a busy machine begins late. Whatever is in the way makes a
  // frame be seen late, never early: what was least late early in the run is held against what was least late late in it.
  const fresh = seen.shown.filter(({ label }, i) => label !== seen.shown[i - 1]?.label)
  const lateness = ({ label, at }: { label: number; at: number }): number => at - (1000 * label) / 60
  const leastLate = (part: typeof fresh): (typeof fresh)[number] =>
    part.reduce((least, each) => (lateness(each) < lateness(least) ? each : least), part[0] ?? first)
  const third = Math.ceil(fresh.length / 3)
  const [early, last] = [leastLate(fresh.slice(0, third)), leastLate(fresh.slice(-third))]
  const speed = (1000 * (last.label - early.label)) / (last.at - early.at) / 60
  const over = (fresh.at(-1) ?? first).label - first.label
  console.info(`a run: ${speed.toFixed(3)} times full speed over ${over} frames`)
  expect(over).toBeGreaterThan(60)
  expect(Math.abs(speed - 1)).toBeLessThan(0.1)
  expect(faults).toEqual([])
})

/// The film's own part of the canvas, made the size of the whole again: an upright film stands between bars.
function crop(name: string, small: readonly number[]): number[] {
  if (name !== 'turned') return [...small]
  const { width, height } = SMALL
  const wide = ((width * 9) / 16) * (9 / 16)
  const left = (width - wide) / 2
  return Array.from(
    { length: width * height },
    (_, i) => small[Math.floor(i / width) * width + Math.floor(left + (((i % width) + 0.5) / width) * wide)] ?? 0,
  )
}
