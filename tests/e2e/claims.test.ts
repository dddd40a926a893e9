import { existsSync } from 'node:fs'
import { mkdtemp, mkdir, realpath, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openEngine, type Engine } from '../../main/engine'
import { openDoor, type LoopbackDoor } from '../../main/loopback/door'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { createProject } from '../../main/store/create-project'
import { dumpProject } from '../../main/store/dump-project'
import { startChromium } from '../chromium'
import { makePatternFilm } from '../film-patterns'
import { barriersOn } from './barriers'

/// The Evidence room in a real browser: classes by letter, confirming one and all, evidence, letting stand,
/// references, and hostile text that stays text.

const HOSTILE = '<img src=x onerror="document.title=1"> {\\an5} =1+1 \u202Eabc'
let folder: string
let engine: Engine
let door: LoopbackDoor
let browser: Browser
let page: Page
const faults: string[] = []

const breakdown: Breakdown = {
  format: 'claimframe-breakdown', version: 1, title: HOSTILE, output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }], subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 60, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  script: [
    { id: 'p1', text: ['The rear heel is up. The power comes from the floor. He wanted the counter all along. He always does this.'], shots: [{ hold: 'c1', at: 20, seconds: '2' }] },
    { id: 'p2', text: [`${HOSTILE}. ${'word '.repeat(2000)}end.`], shots: [{ card: 'caution', seconds: '1' }] },
  ],
}

beforeAll(async () => {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  folder = await realpath(await mkdtemp(join(tmpdir(), 'claims-')))
  await mkdir(join(folder, 'state'))
  await makePatternFilm(await findFfmpeg(), join(folder, 'bout.mp4'), { frames: 60, rate: '30' })
  const made = createProject(join(folder, 'bout.claimframe'), breakdown)
  if (!made.ok) throw made.error
  engine = openEngine({ version: '0.0.0-test', page: resolve('out/renderer'), stateFolder: join(folder, 'state'), log: () => undefined, checked: true })
  door = await openDoor({ engine: engine.answer, onRefused: () => undefined, onFault: (error) => void faults.push(String(error)) })
  browser = await startChromium()
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.on('pageerror', (error) => faults.push(error.message))
  await page.goto(door.newAddress())
  await page.evaluate(async (file) => {
    await fetch('call/project.open', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ file }) })
  }, join(folder, 'bout.claimframe'))
  await page.reload()
  await page.getByRole('button', { name: 'Evidence' }).click()
  await page.getByText('open: the film is held back').waitFor()
})
afterAll(async () => {
  await browser?.close()
  await engine?.end()
  await door?.close()
  await rm(folder, { recursive: true, force: true })
})

const kept = (): Breakdown => {
  const dumped = dumpProject(join(folder, 'bout.claimframe'))
  if (!dumped.ok) throw dumped.error
  return dumped.value
}
const rows = () => page.getByRole('list', { name: 'What the film says' })
const take = async (words: string): Promise<void> => {
  await rows().getByText(words).click()
  await rows().focus()
}

it('should confirm the sentence in hand with one key, and all that nothing is open on with another', async () => {
  await take('The rear heel is up.')
  await page.keyboard.press('Enter')
  await expect.poll(() => kept().claims?.map(({ on, classes, state }) => [on.words, classes.join(''), state])).toEqual([['The rear heel is up.', 'A', 'confirmed']])
  await page.keyboard.press('Shift+Enter')
  await expect.poll(() => kept().claims?.some(({ on }) => on.part === 'title')).toBe(true)
  expect(kept().claims?.some(({ on }) => on.words.includes('power'))).toBe(false)
})

it('should close findings by what the sentence rests on, by another class, or by letting them stand with a reason', async () => {
  await take('The power comes from the floor.')
  await page.keyboard.press('o')
  await expect.poll(() => kept().claims?.find(({ on }) => on.words.includes('power'))?.evidence).toEqual(['opinion'])
  await take('He always does this.')
  await page.getByRole('button', { name: 'let it stand …' }).first().click()
  await page.getByLabel('Why it is let stand').fill('Said of these two clips alone.')
  await page.keyboard.press('Enter')
  await expect.poll(() => kept().overrides?.map(({ finding, reason }) => [finding, reason])).toEqual([['count-missing', 'Said of these two clips alone.']])
  await take('He wanted the counter all along.')
  await page.keyboard.press('a')
  await page.keyboard.press('i')
  await expect.poll(() => kept().claims?.find(({ on }) => on.words.includes('wanted'))?.classes).toEqual(['A'])
  await page.getByText('nothing holds the film back').waitFor()
})

it('should add references from BibTeX, and show hostile text as text', async () => {
  await page.getByLabel('BibTeX or CSL-JSON').fill(`@article{made2020, author={Made, Up}, title={${HOSTILE.replaceAll(/[{}\\]/g, '')}}, journal={Journal}, year={2020}}`)
  await page.getByRole('button', { name: 'Read and add' }).click()
  await page.getByText('Made U (2020)').waitFor()
  expect(await page.locator('.evidence img').count()).toBe(0)
  expect(await page.title()).not.toBe('1')
  expect(await rows().getByText('<img src=x', { exact: false }).count()).toBeGreaterThan(0)
  expect(faults).toEqual([])
})

it('should hold no barrier that axe knows of', async () => {
  expect(await barriersOn(page)).toEqual([])
})
