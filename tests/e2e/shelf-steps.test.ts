import { mkdir, mkdtemp, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { DIM, makePatternFilm } from '../film-patterns'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// What a person does on the shelf, step by step, in the order in which it can go wrong: forms side by side, a film that is
/// gone, what is taken away and brought back.

let window: PatternWindow
let page: Page

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two films of one finish',
  output: { width: 160, height: 90, rate: '10/1' },
  footage: [
    { id: 'f1', file: 'ringside.mp4' },
    { id: 'f2', file: 'stands.mp4' },
  ],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 2, to: 20, capture: { factor: '1', u: 0 }, name: 'entry' },
    { id: 'c2', footage: 'f1', from: 25, to: 40, capture: { factor: '2', u: 0 }, name: 'finish' },
    { id: 'c3', footage: 'f2', from: 0, to: 40, capture: { factor: '1', u: 0 }, name: 'from above' },
  ],
  views: [{ clip: 'c1', subject: 's1', from: 2, to: 20, lead: 'left' }],
  events: [
    { id: 'e1', clip: 'c2', name: 'plant', earliest: 27, latest: 28 },
    { id: 'e2', clip: 'c2', name: 'contact', earliest: 33, latest: 34 },
  ],
  measures: [{ id: 'm1', kind: 'time-between', clip: 'c2', from: 'e1', to: 'e2' }],
  script: [
    {
      id: 'p1',
      text: ['The entry, once.'],
      shots: [
        { card: 'caution', seconds: '5' },
        { run: 'c1', from: 2, to: 20, speed: '1' },
      ],
    },
    { id: 'p2', text: ['From above it takes ', { value: 'm1' }, '.'], shots: [{ hold: 'c3', at: 10, seconds: '2' }] },
    { id: 'p3', text: ['And that is all.'], shots: [{ card: 'end', seconds: '5' }] },
  ],
}

beforeAll(async () => {
  window = await openPatternWindow({
    films: { 'ringside.mp4': { frames: 50, rate: '30', bright: DIM }, 'stands.mp4': { frames: 45, rate: '30', bright: DIM } },
    breakdown,
  })
  page = window.page
  await page.getByRole('button', { name: 'Footage' }).click()
})
afterAll(async () => window?.close())

const now = (): Breakdown => window.engine.workspace.opened.project.breakdown()
const card = (name: string): Locator => page.getByRole('region', { name, exact: true })
const look = async (name: string): Promise<void> => {
  const into = process.env['CLAIMFRAME_LOOK']
  if (into) await page.screenshot({ path: join(into, `${name}.png`) })
}

it('should begin each clip’s form with that clip, whatever form was open before', async () => {
  await card('ringside.mp4').getByRole('button', { name: 'Change entry' }).click()
  await page.getByRole('form', { name: 'Clip entry' }).getByLabel('First frame', { exact: true }).fill('3')
  await card('ringside.mp4').getByRole('button', { name: 'Change finish' }).click()
  const form = page.getByRole('form', { name: 'Clip finish' })
  expect(await form.getByLabel('First frame', { exact: true }).inputValue()).toBe('25')
  expect(await form.getByLabel('Name').inputValue()).toBe('finish')
  await form.getByLabel('Technique').fill('rear hook')
  await form.getByRole('button', { name: 'Keep the clip' }).click()
  await expect.poll(() => now().clips[1]).toEqual({ ...breakdown.clips[1], technique: 'rear hook' })
  expect(now().clips[0]).toEqual(breakdown.clips[0])
  await form.waitFor({ state: 'detached' })
})

it('should keep two new clips of two films whose forms stand open together', async () => {
  const names = ['ringside.mp4', 'stands.mp4']
  for (const name of names) {
    await card(name).getByRole('button', { name: 'Cut a clip' }).click()
    await card(name).getByLabel('Name').fill(`all of ${name}`)
  }
  for (const name of names) await card(name).getByRole('button', { name: 'Keep the clip' }).click()
  await expect
    .poll(() =>
      now()
        .clips.slice(3)
        .map(({ footage, name }) => [footage, name]),
    )
    .toEqual([
      ['f1', 'all of ringside.mp4'],
      ['f2', 'all of stands.mp4'],
    ])
})

it('should say how a replay is linked that shares no event yet, and take what was said back with the choice', async () => {
  const made = now().clips.length
  await card('stands.mp4').getByRole('button', { name: 'Cut a clip' }).click()
  const form = card('stands.mp4').getByRole('form')
  await form.getByLabel('Name').fill('the replay')
  await form.getByLabel('Speed').selectOption('by another clip’s events')
  await form.getByText(/keep the clip with its speed not known/).waitFor()
  await form.getByRole('button', { name: 'Keep the clip' }).click()
  const said = form.getByRole('alert')
  expect(await said.innerText()).toMatch(/Keep the clip with its speed not known/)
  await look('link-without-events')
  await form.getByLabel('Speed').selectOption('not known: frame counts only')
  await said.waitFor({ state: 'detached' })
  await form.getByRole('button', { name: 'Keep the clip' }).click()
  await expect.poll(() => now().clips.at(-1)).toMatchObject({ name: 'the replay', capture: 'unknown' })
  await page.getByRole('button', { name: 'Undo Cut the replay' }).click()
  await expect.poll(() => now().clips.length).toBe(made)
})

it('should take a film’s place in the quotation marks that it was copied in, and keep one that it cannot find to be put right', async () => {
  const field = page.getByRole('textbox', { name: 'Add a film' })
  const wrong = `"${join(window.folder, 'nowhere.mp4')}"`
  await field.fill(wrong)
  await page.keyboard.press('Enter')
  const said = page.getByRole('alert').filter({ hasText: 'nowhere.mp4' })
  await said.waitFor()
  expect(await said.innerText()).toContain(`${join(window.folder, 'nowhere.mp4')} is not there`)
  expect(await field.inputValue()).toBe(wrong)
  await field.fill(`"${join(window.folder, 'stands.mp4')}"`)
  await page.keyboard.press('Enter')
  await page.getByRole('alert').filter({ hasText: 'is here already' }).waitFor()
  await expect.poll(() => field.inputValue()).toBe('')
})

it('should lay everything out while one film is gone, with cards that name it, and refuse the film itself by name', async () => {
  await ask(page, 'project.close', {})
  await rename(join(window.folder, 'stands.mp4'), join(window.folder, 'elsewhere.mp4'))
  await ask(page, 'project.open', { file: join(window.folder, 'test.claimframe') })
  await page.reload()
  await page.getByText('The film “stands.mp4” is not there.').waitFor()
  const rows = page.locator('.row-pick')
  await rows.first().waitFor()
  await expect.poll(() => rows.allInnerTexts().then((texts) => texts.join())).toContain('The film “stands.mp4” is not there')
  await page.getByText('The films are being read').waitFor({ state: 'detached' })
  await page.locator('.script-words, .ProseMirror').getByText('From above it takes').click()
  await page.locator('.row.hand canvas[data-detail="full"]').waitFor()
  await look('film-gone')
  expect(await barriersOn(page)).toEqual([])
  await page.getByRole('button', { name: 'Narration' }).click()
  await page.getByRole('button', { name: 'Bench' }).click()
  await page.locator('.bench-canvas').waitFor()
  await page.getByRole('button', { name: 'Script' }).click()
  await page.getByRole('button', { name: 'Find it in Footage' }).click()
  const { job } = (await ask(page, 'render.start', {
    file: join(window.folder, 'out.mp4'),
    quality: 'draft',
    replace: true,
    burnCaptions: false,
  })) as { job: string }
  await expect
    .poll(async () =>
      (
        (await ask(page, 'jobs.list', {})) as { jobs: { id: string; state: string; refusal: { code: string; message: string } | null }[] }
      ).jobs.find(({ id }) => id === job),
    )
    .toMatchObject({ state: 'failed', refusal: { code: 'file-missing', message: expect.stringContaining('stands.mp4') } })
  await rename(join(window.folder, 'elsewhere.mp4'), join(window.folder, 'stands.mp4'))
  await page.getByRole('button', { name: 'It is where it was: look again' }).click()
  await card('stands.mp4').getByRole('button', { name: 'Cut a clip' }).waitFor()
  await page.getByRole('button', { name: 'Script' }).click()
  await page.getByText('is not there').first().waitFor({ state: 'detached' })
  expect(window.faults).toEqual([])
})

it('should say what goes with a clip and a film before they go, keep what a shot shows, and bring all of it back', async () => {
  await page.getByRole('button', { name: 'Footage' }).click()
  await card('stands.mp4').getByRole('button', { name: 'Remove from above' }).click()
  const shown = page.getByRole('dialog', { name: 'from above is shown in the film' })
  await shown.getByRole('button', { name: /^From above it takes/ }).waitFor()
  expect(await barriersOn(page)).toEqual([])
  await page.keyboard.press('Escape')
  const before = now()
  await card('ringside.mp4').getByRole('button', { name: 'Remove finish' }).click()
  const asked = page.getByRole('dialog', { name: 'Remove finish?' })
  const said = (await asked.innerText()).replaceAll(/\s+/g, ' ')
  expect(said).toContain('2 events: plant, contact')
  expect(said).toContain('1 measure: plant to contact')
  expect(said).toMatch(/These words name it.*From above it takes/)
  await look('clip-goes')
  expect(await barriersOn(page)).toEqual([])
  await asked.getByRole('button', { name: 'Remove it' }).click()
  await expect
    .poll(() => [now().clips.map(({ id }) => id), now().events, now().measures])
    .toEqual([before.clips.map(({ id }) => id).filter((id) => id !== 'c2'), [], []])
  expect(now().script).toEqual(before.script)
  const undo = page.getByRole('button', { name: 'Undo Remove finish' })
  expect(await undo.innerText()).toMatch(/in Footage$/)
  await page.getByRole('button', { name: 'Script' }).click()
  await undo.click()
  await expect.poll(() => page.getByRole('button', { name: 'Footage' }).getAttribute('aria-current')).toBe('page')
  await expect.poll(now).toEqual(before)
  await card('ringside.mp4').getByRole('button', { name: 'Remove the film' }).click()
  await page.getByRole('dialog', { name: 'ringside.mp4 is shown in the film' }).getByRole('button', { name: 'Close' }).click()
  expect(now()).toEqual(before)
  expect(window.faults).toEqual([])
})

it('should take an event away with the measures that ask for it, once that was said', async () => {
  const before = now()
  await card('ringside.mp4').getByRole('button', { name: 'Measure finish' }).click()
  await page.getByRole('button', { name: 'Events', exact: true }).click()
  await page.getByRole('button', { name: 'Remove contact' }).click()
  const asked = page.getByRole('dialog', { name: 'Remove contact?' })
  await asked.getByText('1 measure: plant to contact').waitFor()
  await asked.getByRole('button', { name: 'Remove it' }).click()
  await expect.poll(() => [now().events?.map(({ id }) => id), now().measures]).toEqual([['e1'], []])
  await page.getByRole('button', { name: 'Undo Remove contact' }).click()
  await expect.poll(now).toEqual(before)
  await page.getByRole('button', { name: 'Footage' }).click()
})

it('should show who is on a clip, call them otherwise, and take another name', async () => {
  await card('ringside.mp4').getByText('Nela Varga').waitFor()
  const who = page.getByRole('group', { name: 'Who is on film' })
  await who.getByLabel('On film', { exact: true }).fill('Nela Varga-Holt')
  await page.keyboard.press('Enter')
  await card('ringside.mp4').getByText('Nela Varga-Holt').waitFor()
  await who.getByLabel('And who else').fill('Ada Lindqvist')
  await page.keyboard.press('Enter')
  await expect
    .poll(() => now().subjects)
    .toEqual([
      { id: 's1', name: 'Nela Varga-Holt' },
      { id: 's2', name: 'Ada Lindqvist' },
    ])
  await look('shelf')
  expect(await barriersOn(page)).toEqual([])
})

it('should say why cuts were not found, and look again when asked', async () => {
  await away('stands.mp4', async () => {
    await card('stands.mp4').getByRole('button', { name: 'Look for cuts' }).click()
    await card('stands.mp4').getByRole('alert').waitFor()
  })
  await card('stands.mp4').getByRole('button', { name: 'Look for cuts' }).click()
  await card('stands.mp4').getByRole('list', { name: 'Pieces between likely cuts' }).waitFor()
  await card('stands.mp4')
    .getByText(/^Source: not stated · less than 0\.1 s of it used, [2-9]\.\d s on screen$/)
    .waitFor()
  await card('ringside.mp4')
    .getByText(/^Source: not stated · 0\.2 s of it used, \d\.\d s on screen$/)
    .waitFor()
})

it('should leave nothing of a file that is no film, is here already, or does not arrive, and say so', async () => {
  const added = now().footage.length
  const bring = async (name: string, buffer: Buffer, words: RegExp): Promise<void> => {
    await page.getByLabel('Films of this machine').setInputFiles({ name, mimeType: 'video/mp4', buffer })
    await page.getByRole('alert').getByText(words).waitFor()
    await expect.poll(() => readdir(join(window.folder, 'footage')).catch(() => [])).toEqual([])
  }
  await bring('notes.mp4', Buffer.from('no film at all'), /notes\.mp4 is not a film/)
  await bring('twice.mp4', await readFile(join(window.folder, 'ringside.mp4')), /twice\.mp4 is here already, as ringside\.mp4/)
  await page.route(/footage\?name=/, (route) => route.abort())
  await bring('lost.mp4', Buffer.from('x'), /engine/i)
  await page.unroute(/footage\?name=/)
  expect(now().footage).toHaveLength(added)
  expect(window.faults).toEqual([])
})

it('should say what a copy elsewhere does not find, and why a gathering failed, with the sheet open or closed', async () => {
  await page.locator('.top .title').click()
  const sheet = page.getByRole('dialog', { name: 'This project' })
  await mkdir(join(window.folder, 'apart'))
  await sheet.getByLabel('Keep a copy as').fill(join(window.folder, 'apart', 'copy.claimframe'))
  await sheet.getByRole('button', { name: 'Copy' }).click()
  await sheet.getByText('The copy does not find ringside.mp4, stands.mp4 there').waitFor()
  const folder = join(window.folder, 'handed over')
  await sheet.getByLabel(/to hand over/).fill(folder)
  await away('stands.mp4', async () => {
    await sheet.getByRole('button', { name: 'Gather it' }).click()
    await sheet.getByText(/Nothing was handed over: .*stands\.mp4/).waitFor()
  })
  await look('bundle-failed')
  expect(await barriersOn(page)).toEqual([])
  await sheet.getByRole('button', { name: 'Gather it' }).click()
  await sheet.getByText(`All of it lies in ${folder}.`).waitFor()
  await page.keyboard.press('Escape')
  await page.locator('.room-body > .refusal').getByText('stands.mp4').waitFor()
  await page.getByRole('button', { name: 'Understood' }).click()
})

it('should do what the desktop’s menus ask for, and link a dropped film from where it lies', async () => {
  const outside = await mkdtemp(join(tmpdir(), 'outside-'))
  await makePatternFilm(await findFfmpeg(), join(outside, 'third.mp4'), { frames: 20, rate: '30' })
  await page.addInitScript(
    (place) => {
      const listeners = new Set<(command: string) => void>()
      const double = {
        onMenu: (listener: (command: string) => void) => (listeners.add(listener), () => listeners.delete(listener)),
        pathOf: (file: File) => (file.name === 'third.mp4' ? place : ''),
      }
      Object.assign(globalThis, {
        claimframeDesktop: double,
        menu: (command: string) => [...listeners].forEach((listener) => listener(command)),
      })
    },
    join(outside, 'third.mp4'),
  )
  await page.reload()
  await page.locator('.ProseMirror').waitFor()
  const menu = (command: string): Promise<void> =>
    page.evaluate((name) => (globalThis as unknown as { menu: (command: string) => void }).menu(name), command)
  await menu('keyboard-map')
  await page.getByRole('dialog', { name: 'Keys' }).waitFor()
  await page.keyboard.press('Escape')
  await menu('render')
  await page.getByRole('button', { name: 'Make the delivery' }).waitFor()
  await menu('find')
  await page.getByRole('search', { name: 'Find words' }).waitFor()
  await menu('add-films')
  await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('name'))).toBe('path')
  await page.getByLabel('Films of this machine').setInputFiles(join(outside, 'third.mp4'))
  await card('third.mp4').waitFor()
  expect((await stat(join(window.folder, 'footage', 'third.mp4'))).nlink).toBe(2)
  // Files whose place is known and files that come as bytes, at once: what is said of the one stays when the other is told of.
  await writeFile(join(outside, 'notes.mp4'), 'no film at all')
  await page.getByLabel('Films of this machine').setInputFiles([join(outside, 'third.mp4'), join(outside, 'notes.mp4')])
  await page
    .getByRole('alert')
    .getByText(/notes\.mp4 is not a film/)
    .waitFor()
  expect(await page.getByRole('alert').locator('p').allTextContents()).toEqual([
    expect.stringMatching(/^third\.mp4 is here already, as third\.mp4\.$/),
    expect.stringMatching(/notes\.mp4 is not a film/),
  ])
  await page.getByRole('heading', { name: 'third.mp4' }).click()
  await menu('undo')
  await card('third.mp4').waitFor({ state: 'detached' })
  await menu('redo')
  await card('third.mp4').waitFor()
  await menu('save-copy')
  await page.getByRole('dialog', { name: 'This project' }).waitFor()
  await page.keyboard.press('Escape')
  await menu('new-project')
  await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('name'))).toBe('title')
  await rm(outside, { recursive: true })
  expect(window.faults).toEqual([])
})

/// Does something while a file of the project lies elsewhere.
async function away(file: string, during: () => Promise<void>): Promise<void> {
  await rename(join(window.folder, file), join(window.folder, `${file}.away`))
  await during()
  await rename(join(window.folder, `${file}.away`), join(window.folder, file))
}
