import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { runFfmpeg } from '../../main/media/process'
import { openPatternWindow, readBench, type PatternWindow } from '../pattern-window'

/// The right frame after every step and jump on the Bench, over every kind of film: each frame's own number is read off the
/// canvas. STEPS of them in all; `CLAIMFRAME_STEPS=1000` for the long run.
const STEPS = Number(process.env['CLAIMFRAME_STEPS'] ?? 70)

const films = {
  long: { frames: 240, rate: '60', width: 1920, height: 1080, gop: 240, bframes: 3 },
  ntsc: { frames: 120, rate: '60000/1001', width: 640, height: 360, gop: 120, bframes: 2 },
  uneven: { frames: 120, rate: '30', width: 640, height: 360, vfr: [33, 17, 50, 40], gop: 60, bframes: 2 },
  fast: { frames: 240, rate: '240', width: 640, height: 360, gop: 240, bframes: 2 },
  hevc: {
    frames: 60,
    rate: '30',
    width: 640,
    height: 360,
    gop: 60,
    codec: 'libx265',
    output: ['-tag:v', 'hvc1', '-x265-params', 'log-level=error'],
  },
  lying: { frames: 60, rate: '30', width: 360, height: 640, gop: 60, filter: 'transpose=2' },
  wide: { frames: 90, rate: '25', width: 480, height: 360, gop: 90, bframes: 2, filter: 'setsar=4/3' },
} as const
const shown = Object.entries(films).map(([name, film]) => ({
  id: name === 'lying' ? 'turned' : name,
  frames: film.frames,
  size: name === 'wide' ? [640, 360] : ([film.width, film.height] as readonly number[]),
}))

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Every kind of film',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: shown.map(({ id }) => ({ id, file: `${id}.mp4` })),
  subjects: [],
  clips: shown.map(({ id, frames }) => ({ id, footage: id, from: 0, to: frames, capture: 'unknown', name: id })),
  script: [{ id: 'p1', text: ['Frames.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({
    films: Object.fromEntries(Object.entries(films).map(([name, film]) => [`${name}.mp4`, film])),
    breakdown,
    standIns: ['long', 'hevc'],
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
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
})
afterAll(async () => window?.close())

const readFrame = (size: readonly number[]): Promise<number> => readBench(page, size)

it(`should show the right frame at each of ${STEPS} steps and jumps`, async () => {
  let seed = 20
  const chance = (): number => (seed = (seed * 16807) % 2147483647) / 2147483647
  const wrong: string[] = []
  let taken = 0
  for (const { id, frames, size } of shown) {
    await page.getByLabel('Clip', { exact: true }).selectOption(id)
    await page.locator('.bench-canvas[data-frame="0"]').waitFor({ state: 'attached' })
    let frame = 0
    for (let i = 0; i < STEPS / shown.length; i++) {
      if (chance() < 0.3) {
        frame = Math.floor(chance() * frames)
        await page.getByLabel('Frame of the clip').fill(String(frame))
      } else {
        const [key, by] = (
          [
            ['.', 1],
            [',', -1],
            ['PageDown', 10],
            ['PageUp', -10],
          ] as const
        )[Math.floor(chance() * 4)]!
        frame = Math.max(0, Math.min(frames - 1, frame + by))
        await page.locator('.stage').focus()
        await page.keyboard.press(key)
      }
      await page.locator(`.bench-canvas[data-frame="${frame}"]`).waitFor({ state: 'attached' })
      const seen = await readFrame(size)
      taken++
      if (seen !== frame) wrong.push(`${id}: ${frame} showed ${seen}`)
    }
  }
  console.info(`steps and jumps on the Bench: ${taken - wrong.length} of ${taken} right`)
  expect(wrong).toEqual([])
  expect(taken).toBeGreaterThanOrEqual(STEPS)
  expect(window.faults).toEqual([])
})
