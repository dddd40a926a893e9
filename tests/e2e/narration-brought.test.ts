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
import { barriersOn } from './barriers'

/// Narration that was recorded elsewhere (tests/data/narration), brought in in the window.

let folder: string
let engine: Engine
let door: LoopbackDoor
let browser: Browser
let page: Page
const faults: string[] = []
const breakdown: Breakdown = {
  format: 'claimframe-breakdown', version: 1, title: 'Brought', output: { width: 320, height: 180, rate: '30/1' }, footage: [], subjects: [], clips: [],
  script: [
    { id: 'p1', text: ['He plants, and the pelvis turns sixty seven milliseconds before the shoulders do. At contact the rear knee is bent to about one hundred and forty degrees.'] },
    { id: 'p2', text: ['Nobody ever said these words into it at all.'] },
    { id: 'p3', text: ['The scapula protracts as the acromion travels forward. From the second camera nothing can be said about the spine. That is the part worth slowing down.'] },
  ],
}
const picture = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_PICTURES']) await page.screenshot({ path: join(process.env['CLAIMFRAME_PICTURES'], `${name}.png`) })
}
const inFilm = (): (string | undefined)[] => engine.workspace.opened.project.breakdown().script.map((row) => ('text' in row ? row.take : undefined))

beforeAll(async () => {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  folder = await realpath(await mkdtemp(join(tmpdir(), 'brought-')))
  await mkdir(join(folder, 'state'))
  await copyFile(join(import.meta.dirname, '../data/narration/twice.flac'), join(folder, 'evening.flac'))
  await writeFile(join(folder, 'notes.mp3'), 'these are words, not a sound')
  const made = createProject(join(folder, 'brought.claimframe'), breakdown)
  if (!made.ok) throw made.error
  engine = openEngine({ version: '0.0.0-test', page: resolve('out/renderer'), stateFolder: join(folder, 'state'), log: () => undefined, checked: true })
  door = await openDoor({ engine: engine.answer, onRefused: () => undefined, onFault: (error) => void faults.push(String(error)) })
  engine.workspace.open(join(folder, 'brought.claimframe'))
  browser = await startChromium()
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
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
  await sheet.waitFor({ timeout: 30_000 })
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
  await picture('brought')
  await page.keyboard.press('Control+z')
  await expect.poll(inFilm).toEqual([undefined, undefined, undefined])
  await page.getByRole('button', { name: 'Take apart' }).waitFor()
})
