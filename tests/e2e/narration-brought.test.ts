import { existsSync } from 'node:fs'
import { copyFile, mkdir, mkdtemp, realpath, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openEngine, type Engine } from '../../main/engine'
import { openDoor, type LoopbackDoor } from '../../main/loopback/door'
import { createProject } from '../../main/store/create-project'
import { startChromium } from '../chromium'
import { PATIENCE_MS } from '../pattern-window'
import { barriersOn } from './barriers'
import { held as heldAnswers } from './held-answers'

/// Narration that was recorded elsewhere (tests/data/narration), brought in in the window.

let folder: string
let engine: Engine
let door: LoopbackDoor
let browser: Browser
let page: Page
const faults: string[] = []
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Brought',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'never-filmed.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' }],
  events: [
    { id: 'e1', clip: 'c1', earliest: 20, latest: 20, name: 'shoulders forward' },
    { id: 'e2', clip: 'c1', earliest: 40, latest: 40, name: 'from behind' },
  ],
  script: [
    {
      id: 'p1',
      text: [
        'He plants, and the pelvis turns sixty seven milliseconds before the shoulders do. At contact the rear knee is bent to about one hundred and forty degrees.',
      ],
    },
    { id: 'p2', text: ['Nobody ever said these words into it at all.'] },
    {
      id: 'p3',
      text: [
        'The scapula ',
        { cue: 'e1', word: 'protracts' },
        ' as the acromion travels forward. From the second ',
        { cue: 'e2', word: 'camera' },
        ' nothing can be said about the spine. That is the part worth slowing down.',
      ],
    },
  ],
}
const picture = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_PICTURES']) await page.screenshot({ path: join(process.env['CLAIMFRAME_PICTURES'], `${name}.png`) })
}
/// Does something while no edit reaches the engine; they do behind it.
const held = (during: () => Promise<void>): Promise<void> => heldAnswers(page, during)
/// Where the playhead stands, seconds of the take.
const clock = async (): Promise<number> => Number.parseFloat((await page.locator('.lane-clock').textContent())!)
const inFilm = (): (string | undefined)[] =>
  engine.workspace.opened.project.breakdown().script.map((row) => ('text' in row ? row.take : undefined))

beforeAll(async () => {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  folder = await realpath(await mkdtemp(join(tmpdir(), 'brought-')))
  await mkdir(join(folder, 'state'))
  await copyFile(join(import.meta.dirname, '../data/narration/twice.flac'), join(folder, 'evening.flac'))
  await writeFile(join(folder, 'notes.mp3'), 'these are words, not a sound')
  const made = createProject(join(folder, 'brought.claimframe'), breakdown)
  if (!made.ok) throw made.error
  engine = openEngine({
    version: '0.0.0-test',
    page: resolve('out/renderer'),
    stateFolder: join(folder, 'state'),
    log: () => undefined,
    checked: true,
  })
  door = await openDoor({ engine: engine.answer, onRefused: () => undefined, onFault: (error) => void faults.push(String(error)) })
  engine.workspace.open(join(folder, 'brought.claimframe'))
  browser = await startChromium()
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(PATIENCE_MS)
  page.on('pageerror', (error) => faults.push(error.message))
  await page.goto(door.newAddress())
  await page.getByRole('button', { name: 'Narration', exact: true }).click()
})
afterAll(async () => {
  await browser?.close()
  await engine?.end()
  await door?.close()
  await rm(folder, { recursive: true, force: true })
  expect(faults).toEqual([])
})

it('should say which file is no sound', async () => {
  await page.getByLabel('A sound file of this paragraph').setInputFiles(join(folder, 'notes.mp3'))
  await page.getByText('notes.mp3 cannot be read: no sound can be read from it').waitFor()
  expect(inFilm()).toEqual([undefined, undefined, undefined])
})

it('should show what a file of the whole script holds and what not, and put the takes in when that is confirmed, as one step', async () => {
  await page.getByLabel('A sound file of the whole script').setInputFiles(join(folder, 'evening.flac'))
  const sheet = page.getByRole('dialog', { name: 'What evening.flac holds' })
  await sheet.waitFor({ timeout: 500_000 })
  await sheet.getByText('not found').waitFor()
  await sheet.getByText('was said twice; the later copy counts').waitFor()
  expect(await barriersOn(page)).toEqual([])
  await picture('split')
  expect(inFilm()).toEqual([undefined, undefined, undefined])
  await sheet.getByRole('button', { name: 'Use these 2 takes' }).click()
  await page.getByText('2 takes are in the film').waitFor()
  expect(inFilm()).toEqual(['takes/p1-1.wav', undefined, 'takes/p3-1.wav'])
  await page.getByLabel('The take’s wave, its words and its cues').waitFor()
  expect(await barriersOn(page)).toEqual([])
  const trim = () =>
    engine.workspace.opened.project.breakdown().script.flatMap((row) => ('text' in row && row.id === 'p1' ? [row.narration?.trim] : []))[0]
  const narration = () =>
    JSON.stringify(
      engine.workspace.opened.project
        .breakdown()
        .script.flatMap((row) => ('text' in row && row.id === 'p1' ? [row.narration?.onsets] : []))[0],
    )
  const onsets = narration()
  // The sentence that was said twice is trimmed to its later copy: the start is dragged, then moved by keys.
  const start = page.getByRole('slider', { name: 'Start of what is heard' })
  const reads = async (): Promise<number> => Number(await start.getAttribute('aria-valuenow'))
  // Hovering waits until it stands still.
  await start.hover()
  const box = (await start.boundingBox())!
  const wave = (await page.getByLabel('The take’s wave, its words and its cues').boundingBox())!
  const { version } = engine.workspace.opened.project.state
  // The keys come while the drag is still on its way.
  await held(async () => {
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    await page.mouse.down()
    await page.mouse.move(wave.x + wave.width * 0.2, box.y + 40, { steps: 4 })
    await page.mouse.move(wave.x + wave.width * 0.1, box.y + 40, { steps: 4 })
    await page.mouse.up()
    const dropped = await reads()
    expect(dropped).toBeGreaterThan(1)
    await start.focus()
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight')
    expect(trim()).toBe(undefined)
    expect(await reads()).toBeCloseTo(dropped + 0.03, 6)
  })
  await expect.poll(() => engine.workspace.opened.project.state.version).toBe(version + 4)
  const moved = trim()!
  expect(narration()).toBe(onsets)
  await page.getByText('all saved').waitFor()
  await picture('trimmed')
  await page.keyboard.press('Control+z')
  await expect.poll(trim).not.toEqual(moved)
  expect(trim()!.from).toBeGreaterThan(1)
  expect(Math.round(1000 * (moved.from - trim()!.from))).toBe(30)
  await page.keyboard.press('Control+z')
  await expect.poll(trim).toBe(undefined)
  // While the take plays the word reached is marked, and what was said is dimmed.
  await start.blur()
  await page.getByText(/^all \d+\.\d s are heard$/).waitFor()
  let said: string[] | null = null
  // A busy machine may show that word too late: then the take is heard once more.
  for (let times = 0; said === null && times < 5; times++) {
    await page.keyboard.press('Space')
    await page.getByRole('button', { name: 'Stop hearing' }).waitFor()
    // Both at one moment: the take plays on.
    const seen = await page.waitForFunction(() => {
      if (document.querySelector('.say .reached')?.textContent.includes('pelvis'))
        return { said: [...document.querySelectorAll('.say .said')].map((word) => word.textContent) }
      return [...document.querySelectorAll('.lane-steps button')].some((button) => button.textContent === 'Hear the take')
        ? { said: null }
        : null
    })
    said = (await seen.jsonValue())!.said
  }
  expect(said).toEqual(['He ', 'plants, ', 'and ', 'the '])
  await picture('brought')
  await page.keyboard.press('Space')
  await page.getByRole('button', { name: 'Hear the take' }).waitFor()
  // What the playhead stands on is where it starts, and, a second on, where it ends: said before the first is on the disk.
  const stands = await clock()
  await held(async () => {
    await page.keyboard.press('s')
    for (let i = 0; i < 20; i++) await page.keyboard.press('ArrowRight')
    await page.keyboard.press('e')
  })
  await expect.poll(() => Math.abs((trim()?.to ?? 0) - stands - 1)).toBeLessThan(0.01)
  expect(Math.abs(trim()!.from - stands)).toBeLessThan(0.01)
  for (let i = 0; i < 2; i++) await page.getByRole('button', { name: 'Undo Trim the take' }).click()
  await expect.poll(trim).toBe(undefined)
  await page.keyboard.press('Control+z')
  await expect.poll(inFilm).toEqual([undefined, undefined, undefined])
  await page.getByRole('button', { name: 'Take apart' }).waitFor()
})

it('should place cues by a key, while the take plays and where it stands still', async () => {
  await page.keyboard.press('Control+Shift+z')
  await expect.poll(inFilm).toEqual(['takes/p1-1.wav', undefined, 'takes/p3-1.wav'])
  // Undo and redo have gone to where they act; the last paragraph is the one with cues.
  const next = page.getByRole('button', { name: 'Next' })
  while (await next.isEnabled()) await next.click()
  const time = (event: string) => engine.workspace.opened.project.breakdown().cueTimes?.find((each) => each.event === event)
  const found = time('e2')!.seconds
  // The button that was pressed last cannot be pressed again: it lets go of the keys.
  await page.getByRole('button', { name: 'Hear the take' }).waitFor()
  await expect.poll(() => page.evaluate(() => document.activeElement === document.body)).toBe(true)
  await page.keyboard.press('Space')
  // It may be over by the time a busy machine shows it.
  await page.locator('.say .reached, .say .said', { hasText: 'protracts' }).waitFor()
  await page.keyboard.press('c')
  await expect.poll(() => time('e1')!.u).toBe(0.06)
  // A tap is not sure enough to bring pictures to.
  await page.getByRole('button', { name: 'Confirm' }).waitFor()
  await page.keyboard.press('Space')
  await page.getByRole('button', { name: 'Hear the take' }).waitFor()
  const stands = await clock()
  await page.keyboard.press('c')
  await expect.poll(() => time('e2')!.u).toBe(0.015)
  expect(Math.abs(time('e2')!.seconds - stands)).toBeLessThan(0.01)
  await picture('tapped')
  await page.keyboard.press('Control+z')
  await expect.poll(() => time('e2')!.seconds).toBe(found)
})
