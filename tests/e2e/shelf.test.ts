import { existsSync } from 'node:fs'
import { copyFile, mkdir, mkdtemp, realpath, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openEngine, type Engine } from '../../main/engine'
import { openDoor, type LoopbackDoor } from '../../main/loopback/door'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { createProject } from '../../main/store/create-project'
import { startChromium } from '../chromium'
import { makePatternFilm } from '../film-patterns'
import { PATIENCE_MS } from '../pattern-window'
import { barriersOn } from './barriers'

/// Films of the shelf that show the same pictures, on a real film that was coded again: smaller, with bars beside it, without
/// its first half second. What the window says of it, what can be said back, and that a count notices.

let folder: string
let engine: Engine
let door: LoopbackDoor
let browser: Browser
let page: Page
const faults: string[] = []

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Counted twice',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [
    { id: 'f1', file: 'ringside.mkv' },
    { id: 'f2', file: 'other.mp4' },
    { id: 'f3', file: 'again.mp4' },
  ],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 80, capture: { factor: '1', u: 0 }, name: 'ringside' },
    { id: 'c2', footage: 'f2', from: 0, to: 80, capture: { factor: '1', u: 0 }, name: 'from the stands' },
    { id: 'c3', footage: 'f3', from: 5, to: 60, capture: { factor: '1', u: 0 }, name: 'put up again' },
  ],
  measures: [
    {
      id: 'n',
      kind: 'count',
      what: 'rear heel off the floor',
      set: 'every finish on film',
      cases: [
        { clip: 'c1', holds: true },
        { clip: 'c2', holds: true },
        { clip: 'c3', holds: true },
      ],
    },
  ],
  script: [{ id: 'p1', text: ['The rear heel is up in ', { value: 'n' }, '.'] }],
}

beforeAll(async () => {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  folder = await realpath(await mkdtemp(join(tmpdir(), 'shelf-')))
  await mkdir(join(folder, 'state'))
  const tool = await findFfmpeg()
  const walk = resolve('tests/data/video/asl_walk.mkv')
  await copyFile(walk, join(folder, 'ringside.mkv'))
  await makePatternFilm(tool, join(folder, 'other.mp4'), { frames: 90, rate: '30' })
  await runFfmpeg(tool, [
    '-v',
    'error',
    '-ss',
    '0.5',
    '-i',
    walk,
    '-an',
    '-vf',
    'scale=320:240,pad=426:240:53:0,eq=brightness=0.04',
    '-c:v',
    'libx264',
    '-crf',
    '32',
    join(folder, 'again.mp4'),
  ])
  await runFfmpeg(tool, [
    '-v',
    'error',
    '-i',
    walk,
    '-an',
    '-vf',
    'hflip,scale=480:360',
    '-c:v',
    'libx264',
    '-crf',
    '30',
    join(folder, 'mirrored.mp4'),
  ])
  const made = createProject(join(folder, 'bout.claimframe'), breakdown)
  if (!made.ok) throw made.error
  engine = openEngine({
    version: '0.0.0-test',
    page: resolve('out/renderer'),
    stateFolder: join(folder, 'state'),
    log: () => undefined,
    checked: true,
  })
  door = await openDoor({ engine: engine.answer, onRefused: () => undefined, onFault: (error) => void faults.push(String(error)) })
  browser = await startChromium()
  page = await browser.newPage({ viewport: { width: 1440, height: 1000 } })
  page.setDefaultTimeout(PATIENCE_MS)
  page.on('pageerror', (error) => faults.push(error.message))
  await page.goto(door.newAddress())
  await page.evaluate(
    (file) =>
      fetch('call/project.open', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ file }) }),
    join(folder, 'bout.claimframe'),
  )
  await page.reload()
  await page.getByRole('button', { name: 'Footage' }).click()
})
afterAll(async () => {
  await browser?.close()
  await engine?.end()
  await door?.close()
  await rm(folder, { recursive: true, force: true })
})

const like = (name: string): Locator => page.getByRole('region', { name: `Looks like ${name}` })
const unlike = (): readonly string[] | undefined => engine.workspace.opened.project.breakdown().footage[2]?.unlike
const use = (): unknown => engine.workspace.opened.project.breakdown().clips[2]?.use

it('should point out the film that shows what an earlier one shows, where, and no other', async () => {
  const found = like('ringside.mkv')
  await found.waitFor({ timeout: 500_000 })
  await expect
    .poll(async () => (await found.innerText()).replaceAll(/\s+/g, ' '))
    .toMatch(
      /Looks like “ringside\.mkv” from 0:00 to 0:03; probably the same pictures, here from 0:00 to 0:0[23]\. Counting both would count one bout twice\./,
    )
  expect(await page.getByRole('region', { name: 'again.mp4' }).filter({ has: found }).count()).toBe(1)
  expect(await page.getByRole('region', { name: /^Looks like/ }).count()).toBe(1)
  const [shared] = engine.workspace.opened.films.factsOf('f3').shared
  expect(Math.abs(shared!.otherFrom - shared!.from - 15)).toBeLessThanOrEqual(4)
  expect(shared!.to - shared!.from).toBeGreaterThan(60)
  expect(await barriersOn(page)).toEqual([])
  await found.scrollIntoViewIfNeeded()
  const into = process.env['CLAIMFRAME_PICTURES']
  if (into) await page.screenshot({ path: join(into, 'same-pictures.png') })
})

it('should say in Evidence that a count takes both for two', async () => {
  await page.getByRole('button', { name: 'Evidence' }).click()
  await page.locator('.claim', { hasText: 'The rear heel is up in' }).click()
  await page.getByText('“ringside” and “put up again” look like the same pictures, and the count takes them for two').first().waitFor()
  await page.getByRole('button', { name: 'Footage' }).click()
})

it('should reject its clip with the reason, by one edit that is taken back', async () => {
  await like('ringside.mkv').getByRole('button', { name: 'Reject its clip' }).click()
  await like('ringside.mkv').getByText('What is cut from it here is rejected, so it counts once.').waitFor()
  expect(use()).toEqual({ state: 'rejected', reason: 'the same pictures as ringside.mkv' })
  await page.getByText('✕ rejected: the same pictures as ringside.mkv').waitFor()
  await page.getByRole('button', { name: 'Undo Reject what ringside.mkv shows' }).click()
  await expect.poll(use).toBeUndefined()
})

it('should keep that they are not the same, by keys, and ask again when it is taken back', async () => {
  await like('ringside.mkv').getByRole('button', { name: 'Not the same' }).focus()
  await page.keyboard.press('Enter')
  await page.getByText('Not the same as “ringside.mkv”, as you said.').waitFor()
  expect(unlike()).toEqual(['f1'])
  expect(await barriersOn(page)).toEqual([])
  await page.reload()
  await page.getByRole('button', { name: 'Footage' }).click()
  await page.getByText('Not the same as “ringside.mkv”, as you said.').waitFor()
  await page.getByRole('button', { name: 'Undo Not the same as ringside.mkv' }).click()
  await like('ringside.mkv').waitFor()
  expect(unlike()).toBeUndefined()
})

it('should add a film at once, and find afterwards that it is one of them in a mirror', async () => {
  await page.getByRole('textbox', { name: 'Add a film' }).fill(join(folder, 'mirrored.mp4'))
  await page.keyboard.press('Enter')
  const card = page.getByRole('region', { name: 'mirrored.mp4', exact: true })
  await card
    .getByText(/as in a mirror; probably the same pictures/)
    .first()
    .waitFor({ timeout: 500_000 })
  await expect.poll(() => card.getByRole('region', { name: /^Looks like/ }).count()).toBe(2)
  await card.getByRole('region', { name: 'Looks like ringside.mkv' }).getByRole('button', { name: 'Reject it here' }).click()
  await card.getByText('✕ rejected: the same pictures as ringside.mkv').waitFor()
  expect(faults).toEqual([])
})
