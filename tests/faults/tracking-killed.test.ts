import { copyFile, mkdtemp, realpath, rm } from 'node:fs/promises'
import { existsSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Edit } from '../../app/edit/edit'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { createProject } from '../../main/store/create-project'
import { openProject } from '../../main/store/open-project'
import { startChromium } from '../chromium'
import { program, startEngine, type KillableEngine } from '../killable-engine'
import { openWindow } from '../open-door'

/// A tracking run of 300 frames, and the engine killed in the middle of it: while the window follows, and at many moments
/// while the run is being written. What is on the disk then is all of the run or nothing; all of it is one step of undo.

const FRAMES = 302
const RUN = 300
const WIDTH = 480
const HEIGHT = 270
const ROUNDS = 10
const STARTS = { 'stone.one': [150, 90], 'stone.two': [240, 120], 'stone.three': [330, 150] } as const
const points = Object.keys(STARTS)

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'A long run',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'ground.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, name: 'ground' }],
  landmarks: Object.entries(STARTS).map(([point, [x, y]]) => ({
    clip: 'c1',
    subject: 's1',
    point,
    samples: [{ frame: 0, at: [x, y], origin: 'placed' }],
  })),
  script: [{ id: 'p1', text: ['The ground moves.'], shots: [] }],
}

/// Uneven ground that slides under the camera: whole pixels a frame, about a circle.
function* slidingGround(): Generator<Uint8Array> {
  const [wide, high] = [WIDTH + 120, HEIGHT + 120]
  let seed = 7
  const coarse = Array.from(
    { length: Math.ceil(wide / 6 + 2) * Math.ceil(high / 6 + 2) },
    () => ((seed = (seed * 16807) % 2147483647) / 2147483647) * 200 + 25,
  )
  const columns = Math.ceil(wide / 6 + 2)
  const ground = new Uint8Array(wide * high)
  for (let y = 0; y < high; y++)
    for (let x = 0; x < wide; x++) {
      const [i, j, u, v] = [Math.floor(x / 6), Math.floor(y / 6), (x % 6) / 6, (y % 6) / 6]
      const at = (a: number, b: number): number => coarse[b * columns + a] ?? 0
      ground[y * wide + x] = (at(i, j) * (1 - u) + at(i + 1, j) * u) * (1 - v) + (at(i, j + 1) * (1 - u) + at(i + 1, j + 1) * u) * v
    }
  for (let n = 0; n < FRAMES; n++) {
    const [dx, dy] = [60 + Math.round(40 * Math.sin(n / 25)), 60 + Math.round(20 * Math.cos(n / 25))]
    const picture = new Uint8Array(WIDTH * HEIGHT)
    for (let y = 0; y < HEIGHT; y++) picture.set(ground.subarray((y + dy) * wide + dx, (y + dy) * wide + dx + WIDTH), y * WIDTH)
    yield picture
  }
}

let folder: string
let browser: Browser
let fresh: string
const engines: KillableEngine[] = []
beforeAll(async () => {
  expect(existsSync(program)).toBe(true)
  folder = await realpath(await mkdtemp(join(tmpdir(), 'claimframe-run-killed-')))
  await runFfmpeg(
    await findFfmpeg(),
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
      '60',
      '-i',
      'pipe:0',
      '-pix_fmt',
      'yuv420p',
      '-c:v',
      'libx264',
      '-preset',
      'ultrafast',
      '-crf',
      '18',
      '-g',
      '60',
      fileUrl(join(folder, 'ground.mp4')),
    ],
    { stdin: slidingGround() },
  )
  fresh = join(folder, 'fresh.claimframe')
  expect(createProject(fresh, breakdown).ok).toBe(true)
  browser = await startChromium()
})
afterAll(async () => {
  await browser?.close()
  await Promise.all(engines.map((engine) => engine.kill()))
  await rm(folder, { recursive: true, force: true })
})

async function start(name: string): Promise<{ readonly file: string; readonly engine: KillableEngine }> {
  const file = join(folder, `${name}.claimframe`)
  if (!existsSync(file)) await copyFile(fresh, file)
  const engine = await startEngine(file, join(folder, 'state'))
  engines.push(engine)
  return { file, engine }
}

async function openBench(engine: KillableEngine): Promise<Page> {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  await page.goto(await engine.newAddress())
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.bench-canvas[data-frame="0"][data-detail="full"]').waitFor({ timeout: 60_000, state: 'attached' })
  await page.locator('.stage').focus()
  return page
}

/// Samples of each point on the disk, its edits beside; the project has been left alone by its engine.
function onDisk(file: string): { readonly samples: readonly number[]; readonly edits: number } {
  const opened = openProject(file)
  if (!opened.ok) throw opened.error
  try {
    return {
      samples: points.map((point) => opened.value.samples('c1', 's1', point, 0, FRAMES).length),
      edits: opened.value.history().length,
    }
  } finally {
    opened.value.close()
  }
}

const untouched = { samples: [1, 1, 1], edits: 0 }
const whole = { samples: [RUN + 1, RUN + 1, RUN + 1], edits: 1 }
let sent: Edit | null = null

it('should keep a run of 300 frames as one step, that is undone and done again whole', async () => {
  const { file, engine } = await start('run')
  const page = await openBench(engine)
  page.on('request', (request) => {
    if (request.url().endsWith('call/edit.apply')) sent = (request.postDataJSON() as { edit: Edit }).edit
  })
  await page.keyboard.press('t')
  await page.getByText(/^Followed to/).waitFor({ timeout: 120_000 })
  expect(await page.getByText(/^Followed to/).textContent()).toBe(`Followed to ${3 * RUN} places.`)
  const undo = page.getByRole('button', { name: 'Undo Follow 3 points' })
  await undo.click()
  await undo.waitFor({ state: 'detached' })
  await page.getByText('all saved').waitFor()
  await engine.kill()
  expect(onDisk(file).samples).toEqual(untouched.samples)
  // Taken back is one more line of the log, and so is the taking back of that; no engine needs to have lived through both.
  const again = openProject(file)
  if (!again.ok) throw again.error
  expect(again.value.redo().ok).toBe(true)
  again.value.close()
  expect(onDisk(file).samples).toEqual(whole.samples)
  await page.close()
})

it('should leave nothing of a run whose engine is killed while the window follows', async () => {
  const { file, engine } = await start('following')
  const page = await openBench(engine)
  await page.keyboard.press('t')
  await page.getByText(/Following: [1-9]\d* frames/).waitFor()
  await engine.kill()
  await page.getByText(/Followed to|could not be read/).waitFor({ timeout: 120_000 })
  expect(onDisk(file)).toEqual(untouched)
  await page.close()
})

it('should leave all of a run or nothing when its engine is killed while it is written', async () => {
  expect(sent?.diffs.length).toBeGreaterThanOrEqual(6)
  const outcomes = { nothing: 0, all: 0 }
  let acknowledged = 0
  // The first round is left to its end, and says how long the others have; the second is cut short at once.
  let takes_ms = 0
  for (let round = 0; round < ROUNDS; round++) {
    const { file, engine } = await start(`written-${round}`)
    const client = (await openWindow(await engine.newAddress())).client
    const began = performance.now()
    const answer = client.call('edit.apply', { edit: sent! })
    if (round === 0) {
      await answer
      takes_ms = performance.now() - began
    } else await new Promise((done) => setTimeout(done, (takes_ms * 1.2 * (round - 1)) / (ROUNDS - 2)))
    await engine.kill()
    const given = await answer
    const found = onDisk(file)
    expect([untouched, whole]).toContainEqual(found)
    if (given.ok) {
      acknowledged++
      expect(found).toEqual(whole)
    }
    outcomes[found.edits === 0 ? 'nothing' : 'all']++
    if (found.edits === 0) continue
    const opened = openProject(file)
    if (!opened.ok) throw opened.error
    expect(opened.value.undo().ok).toBe(true)
    opened.value.close()
    expect(onDisk(file).samples).toEqual(untouched.samples)
  }
  console.info(
    `engine killed while a run of ${3 * RUN} places was written (${Math.round(takes_ms)} ms), ${ROUNDS} times: nothing ${outcomes.nothing}, all ${outcomes.all}; ${acknowledged} were acknowledged before`,
  )
  expect(outcomes.nothing).toBeGreaterThan(0)
  expect(outcomes.all).toBeGreaterThan(0)
})
