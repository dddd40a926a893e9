import { readdir, rename } from 'node:fs/promises'
import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { cautionText } from '../../app/script/caution-text'
import { reportPolicy } from '../../main/engine/answer-headers'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { dumpProject } from '../../main/store/dump-project'
import { readPattern } from '../film-patterns'
import { ask, openPatternWindow, readCanvas, SMALL, type PatternWindow } from '../pattern-window'
import { eachFrame } from '../render/render-document'
import { barriersOn } from './barriers'

/// A version goes out from the window; then its footage is gone, and a question with a time of the film is answered from what
/// was kept.

let window: PatternWindow
let folder: string
let page: Page

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'From plant to contact',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4', source: { owner: 'Lantern Yard', where: 'club ring', basis: 'with leave' } }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 20, latest: 22 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
  ],
  measures: [{ id: 'm1', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' }],
  script: [
    { chapter: 'The load' },
    { id: 'p1', text: ['From plant to contact it takes ', { value: 'm1' }, '.'], shots: [{ hold: 'c1', at: 40, seconds: '5' }] },
    { id: 'p2', text: [], shots: [{ hold: 'c1', at: 60, seconds: '1' }] },
  ],
}

beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 90, rate: '30' } }, breakdown })
  ;({ folder, page } = window)
})
afterAll(async () => window?.close())

const dumped = (): Breakdown => {
  const read = dumpProject(join(folder, 'test.claimframe'))
  if (!read.ok) throw read.error
  return read.value
}
/// The number that the picture of a part of the window shows.
const shownOn = async (part: Locator): Promise<number | null> =>
  readCanvas(
    await part.locator('canvas').evaluate((node, size) => {
      const small = Object.assign(document.createElement('canvas'), size)
      const surface = small.getContext('2d', { willReadFrequently: true })!
      surface.drawImage(node as HTMLCanvasElement, 0, 0, size.width, size.height)
      const { data } = surface.getImageData(0, 0, size.width, size.height)
      return Array.from({ length: data.length / 4 }, (_, i) => data[i * 4] ?? 0)
    }, SMALL),
  )
const barriers = (): Promise<string[]> => barriersOn(page)

it('should say what holds the film back, and record why a caution is left out', async () => {
  await page.getByRole('button', { name: 'Release' }).click()
  await page.getByText('the film has no end card').first().waitFor()
  await page.getByText('Chapters are left out: There is one chapter; at least 3 are needed.').waitFor()
  const endCard = page.getByRole('listitem').filter({ has: page.getByText('End card', { exact: true }) })
  // Each notice is read once: the description repeats the cards' and only says so.
  const description = page.getByRole('listitem').filter({ has: page.getByText('In the description', { exact: true }) })
  expect(await page.getByRole('region', { name: 'Cautions' }).getByText(cautionText.health).count()).toBe(1)
  expect(await description.locator('p').first().textContent()).toBe('The words of the start card and the end card again.')
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'cautions.png'), fullPage: true })
  await endCard.getByRole('button', { name: 'Leave it out …' }).click()
  await page.getByLabel('Reason, which stands in the evidence report').fill('shown to coaches of the club only')
  await endCard.getByRole('button', { name: 'Leave it out', exact: true }).click()
  await page.getByText('shown to coaches of the club only').waitFor()
  // What no card says any more stands where it is still said.
  await expect
    .poll(() => description.locator('p').first().textContent())
    .toBe(
      `The words of the start card again, and: Practice: ${cautionText.practice} What the values are: ${cautionText.estimates} Health: ${cautionText.health}`,
    )
  await expect.poll(() => page.getByText('hold the film back').or(page.getByText('holds the film back')).count()).toBe(0)
  expect(await barriers()).toEqual([])
})

it('should show the frame that goes with the film as its small picture, take another by keys, and give it up by undo', async () => {
  const thumbnail = page.getByRole('region', { name: 'Thumbnail' })
  const kept = (): string | null => dumped().output.thumbnail ?? null
  const shows = (frame: number): Promise<void> => expect.poll(() => shownOn(thumbnail)).toBe(frame)
  await thumbnail.getByText('chosen automatically').waitFor()
  await shows(40)
  await thumbnail.getByLabel('Frame of the film').press('End')
  await thumbnail.getByText('chosen by hand').waitFor()
  await shows(60)
  await expect.poll(kept).toMatch(/^\d+\/30$/)
  await page.getByRole('button', { name: 'Undo Choose the thumbnail' }).click()
  await thumbnail.getByText('chosen automatically').waitFor()
  await shows(40)
  expect(kept()).toBeNull()
  await thumbnail.getByLabel('Frame of the film').press('End')
  await expect.poll(kept).not.toBeNull()
  await thumbnail.getByRole('button', { name: 'Choose automatically' }).click()
  await expect.poll(kept).toBeNull()
  await thumbnail.getByLabel('Frame of the film').press('End')
  await expect.poll(kept).not.toBeNull()
  await shows(60)
  if (process.env['CLAIMFRAME_LOOK']) await thumbnail.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'thumbnail.png') })
  expect(await barriers()).toEqual([])
})

it('should make the whole delivery, captions in the picture as chosen, and keep the version', async () => {
  await page.getByRole('checkbox', { name: 'Captions in the picture' }).press('Space')
  await page.getByRole('button', { name: 'Make the delivery' }).click()
  await page.getByText('Version 1', { exact: true }).waitFor({ timeout: 300_000 })
  await page.getByText('chosen frames found in the film').waitFor()
  const film = page.getByLabel('The finished film, test-1')
  await expect.poll(() => film.evaluate((node) => (node as HTMLVideoElement).duration)).toBeGreaterThan(6)
  expect(await barriers()).toEqual([])
  const names = await readdir(join(folder, 'test-1'))
  for (const name of ['manifest.json', 'from-plant-to-contact.mp4', 'evidence.html', 'from-plant-to-contact.otio'])
    expect(names).toContain(name)
  expect((await readdir(folder)).filter((name) => name.endsWith('.part'))).toEqual([])
  const pictures: number[] = []
  await eachFrame(
    await findFfmpeg(),
    join(folder, 'test-1', 'from-plant-to-contact-thumbnail.png'),
    { width: 320, height: 180 },
    (pixels) => void pictures.push(readPattern(pixels, 320, 180) ?? -1),
  )
  expect(pictures).toEqual([60])
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'release.png') })
})

it('should show the version’s evidence report in its own styles, with its stills, under a policy that runs nothing', async () => {
  const [report, answer] = await Promise.all([
    page.waitForEvent('popup'),
    page.context().waitForEvent('response', (each) => each.url().endsWith('evidence.html')),
    page.getByRole('link', { name: 'Evidence report' }).click(),
  ])
  const blocked: string[] = []
  report.on('console', (line) => void (line.type() === 'error' && blocked.push(line.text())))
  await report.waitForURL(/evidence\.html$/)
  await report.reload()
  expect(answer.headers()['content-security-policy']).toBe(reportPolicy)
  expect(await report.getByRole('heading', { level: 1 }).innerText()).toBe('From plant to contact')
  expect(await report.locator('main').evaluate((main) => getComputedStyle(main).maxWidth)).not.toBe('none')
  await expect
    .poll(() => report.locator('img').evaluateAll((images) => images.map((image) => (image as HTMLImageElement).naturalWidth)))
    .toEqual([320, 320, 320, 320])
  expect(blocked).toEqual([])
  if (process.env['CLAIMFRAME_LOOK']) await report.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'report.png'), fullPage: true })
  await report.close()
})

it('should have the caption in the delivered film’s picture while its words stand, and nothing else changed', async () => {
  const { captions } = (await ask(page, 'captions.list', {})) as { captions: { from_s: number; to_s: number }[] }
  const [said] = captions as [{ from_s: number; to_s: number }]
  expect(said.to_s - said.from_s).toBeLessThan(4.4)
  const at = Math.round(said.from_s * 30)
  const kept = new Map<number, Buffer>()
  await eachFrame(
    await findFfmpeg(),
    join(folder, 'test-1', 'from-plant-to-contact.mp4'),
    { width: 320, height: 180 },
    (pixels, n) => void ((n === at + 15 || n === at + 138) && kept.set(n, Buffer.from(pixels))),
  )
  const [during, after] = [kept.get(at + 15)!, kept.get(at + 138)!]
  const difference = (from: number, to: number): number => {
    let sum = 0
    for (let y = from; y < to; y++) for (let x = 120; x < 200; x++) sum += Math.abs(during[y * 320 + x]! - after[y * 320 + x]!)
    return sum / (80 * (to - from))
  }
  expect(difference(0, 140)).toBeLessThan(3)
  expect(difference(156, 172)).toBeGreaterThan(20)
})

it('should answer a time of the film with the footage gone', async () => {
  await rename(join(folder, 'bout.mp4'), join(folder, 'elsewhere.mp4'))
  await page.getByRole('button', { name: 'Evidence' }).click()
  await page.getByLabel('How do you know?').fill('0:05, how do you know?')
  const answer = page.locator('.answer-sheet')
  await answer.getByText('From plant to contact it takes 19.5 frames ± 1.5.').waitFor()
  await answer.getByText('plant: frames 20 to 22 of ringside').waitFor()
  await answer.getByText('contact: frames 40 to 41 of ringside').waitFor()
  await expect
    .poll(() => answer.locator('img').evaluateAll((images) => images.map((image) => (image as HTMLImageElement).naturalWidth)))
    .toEqual([320, 320, 320, 320])
  await answer.getByText(/version 1 of \d{4}-\d\d-\d\d/).waitFor()
  expect(await barriers()).toEqual([])
  expect(window.faults).toEqual([])
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'answer.png') })
})
