import { existsSync } from 'node:fs'
import { mkdtemp, realpath, rm, mkdir } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openEngine, type Engine } from '../../main/engine'
import { openDoor, type LoopbackDoor } from '../../main/loopback/door'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { createProject } from '../../main/store/create-project'
import { startChromium } from '../chromium'
import { makePatternFilm } from '../film-patterns'
import { PATIENCE_MS } from '../pattern-window'
import { barriersOn } from './barriers'

/// The built window in a real browser, over a real door: words typed and undone, a live value, the picture stepped to
/// exact frames, findings, a rendered draft, and no barrier that axe knows of.

let folder: string
let engine: Engine
let door: LoopbackDoor
let browser: Browser
let page: Page
const faults: string[] = []

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two right hands',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 20, latest: 20 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
  ],
  measures: [
    { id: 'm1', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' },
    { id: 'm2', kind: 'time-between', clip: 'c1', from: 'e0', to: 'e1' },
  ],
  references: [
    {
      id: 'okoro2019',
      csl: {
        type: 'article-journal',
        title: 'Knee angles in landing',
        author: [{ family: 'Okoro' }, { family: 'Lind' }],
        issued: { 'date-parts': [[2019]] },
      },
    },
  ],
  script: [
    { chapter: 'The load' },
    {
      id: 'p1',
      text: ['From plant to ', { cue: 'e1', word: 'contact' }, ' it takes ', { value: 'm1' }, '.'],
      shots: [
        { run: 'c1', from: 20, to: 50, speed: '1/2' },
        { hold: 'c1', at: 40, seconds: '1' },
      ],
    },
    {
      id: 'p2',
      text: ['Then the knee is at 145°.'],
      shots: [
        { hold: 'c1', at: 60, seconds: '1' },
        { card: 'caution', seconds: '1' },
      ],
    },
  ],
}

beforeAll(async () => {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  folder = await realpath(await mkdtemp(join(tmpdir(), 'window-')))
  await mkdir(join(folder, 'state'))
  await makePatternFilm(await findFfmpeg(), join(folder, 'bout.mp4'), { frames: 90, rate: '30' })
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
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(PATIENCE_MS)
  page.on('pageerror', (error) => faults.push(error.message))
  await page.goto(door.newAddress())
})
afterAll(async () => {
  await browser?.close()
  await engine?.end()
  await door?.close()
  await rm(folder, { recursive: true, force: true })
})

const barriers = (): Promise<string[]> => barriersOn(page)
/// Keeps a picture of the window where `CLAIMFRAME_PICTURES` names a folder.
const pictured = async (name: string): Promise<void> => {
  const into = process.env['CLAIMFRAME_PICTURES']
  if (into) await page.screenshot({ path: join(into, `${name}.png`) })
}

it('should open a project from its folder', async () => {
  await page.getByRole('heading', { name: 'Claimframe' }).waitFor()
  expect(await barriers()).toEqual([])
  const state = await page.evaluate(
    async (file) => {
      const answer = await fetch('call/project.open', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ file }),
      })
      return answer.status
    },
    join(folder, 'bout.claimframe'),
  )
  expect(state).toBe(200)
  await page.reload()
  await page.getByRole('heading', { name: 'Two right hands' }).waitFor()
})

it('should show words beside their pictures, and each value with its error', async () => {
  await page.locator('.words p').first().waitFor()
  await page.locator('.words .value', { hasText: '20.5 frames' }).waitFor()
  await page.locator('canvas.picture').waitFor()
  await expect.poll(() => page.locator('.pictures .row').count()).toBe(2)
  expect(await barriers()).toEqual([])
})

it('should step the picture to exact programme frames', async () => {
  const at = async (): Promise<string> => (await page.locator('.steps .figures').textContent()) ?? ''
  // On its words: what they rest on lies beneath them within the paragraph.
  await page
    .locator('.words p')
    .first()
    .click({ position: { x: 20, y: 12 } })
  await expect.poll(at).toContain('frame 20')
  for (let i = 0; i < 4; i++) await page.getByRole('button', { name: 'One frame on' }).click()
  await expect.poll(at).toContain('frame 22')
  await page.getByRole('button', { name: 'One frame back' }).click()
  await expect.poll(at).toContain('frame 21')
})

it('should keep what is typed, and take it back', async () => {
  const words = page.locator('.words p').nth(1)
  await words.click()
  await page.keyboard.press('End')
  await page.keyboard.type(' And then he waits.')
  await page.getByText('all saved').waitFor()
  await expect.poll(() => engine.workspace.opened.project.state.script.textContent).toContain('And then he waits.')
  await page.getByRole('button', { name: /^Undo/ }).click()
  await expect.poll(async () => words.textContent()).not.toContain('And then he waits.')
  await page.keyboard.press('Control+Shift+Z')
  await expect.poll(async () => words.textContent()).toContain('And then he waits.')
  await page.reload()
  await page.getByText('And then he waits.').waitFor()
  await page.locator('canvas.picture').waitFor()
  await page.waitForLoadState('networkidle', { timeout: 3000 }).catch(() => undefined)
})

it('should not say saved, and ask before the window is read anew, while words are not on the disk', async () => {
  const words = page.locator('.words p').nth(1)
  const before = await words.textContent()
  await words.click()
  await page.keyboard.press('End')
  let letGo = (): void => undefined
  const held = new Promise<void>((done) => (letGo = done))
  await page.route('**/call/edit.apply', async (route) => {
    await held
    await route.continue()
  })
  const asked: string[] = []
  page.on('dialog', (dialog) => {
    asked.push(dialog.type())
    void dialog.dismiss()
  })
  await page.keyboard.type(' Long.')
  expect(await page.locator('header.top [role=status]').textContent()).toBe('saving …')
  await page.evaluate(() => setTimeout(() => location.reload()))
  await expect.poll(() => asked).toEqual(['beforeunload'])
  await page.waitForTimeout(500)
  expect(await page.locator('header.top [role=status]').textContent()).toBe('saving …')
  expect(await words.textContent()).toContain('And then he waits. Long.')
  letGo()
  await page.getByText('all saved').waitFor()
  await page.unroute('**/call/edit.apply')
  expect(engine.workspace.opened.project.state.script.textContent).toContain('And then he waits. Long.')
  page.removeAllListeners('dialog')
  // Keys that a busy machine lets come with pauses between are steps of their own.
  for (let now = await words.textContent(); now !== before; now = await words.textContent()) {
    await page.getByRole('button', { name: 'Undo Type' }).click()
    await expect.poll(() => words.textContent()).not.toBe(now)
  }
  await page.getByText('all saved').waitFor()
  await page.reload()
  await page.getByText('And then he waits.').waitFor()
  await page.locator('canvas.picture').waitFor()
})

it('should keep words of a refused edit over a reload, and call nothing saved until they are put away', async () => {
  const words = page.locator('.words p').nth(1)
  await words.click()
  await page.keyboard.press('End')
  await page.route('**/call/edit.apply', (route) =>
    route.fulfill({ json: { ok: false, error: { code: 'disk-full', message: 'The disk is full.', parameters: {} } } }),
  )
  await page.keyboard.type(' And lost.')
  const kept = page.getByRole('alert').filter({ hasText: 'Not kept: “ And lost.”' })
  await kept.waitFor()
  await page.unroute('**/call/edit.apply')
  await expect.poll(() => words.textContent()).not.toContain('And lost.')
  await pictured('kept-words')
  const status = (): Promise<string | null> => page.locator('header.top [role=status]').textContent()
  await expect.poll(status).toBe('not all kept: the words stand in Script')
  await page.reload()
  await kept.waitFor()
  expect(await status()).toBe('not all kept: the words stand in Script')
  expect(await barriers()).toEqual([])
  await kept.getByRole('button', { name: 'Put it away' }).click()
  await expect.poll(status).toBe('all saved')
  await page.reload()
  await page.getByText('And then he waits.').waitFor()
  await page.locator('canvas.picture').waitFor()
  expect(await kept.count()).toBe(0)
  expect(await status()).toBe('all saved')
})

it('should split a paragraph and put a live value in', async () => {
  const words = page.locator('.words p').nth(1)
  await words.click()
  await page.locator('.words .in-hand', { hasText: 'And then he waits.' }).waitFor()
  await page.keyboard.press('End')
  await page.keyboard.press('Enter')
  await page.keyboard.type('In all ')
  await page.keyboard.press('Control+.')
  await page.getByRole('combobox', { name: /^Put in/ }).fill('frames')
  await page.getByRole('option', { name: '20.5 frames' }).first().waitFor()
  await page.keyboard.press('Enter')
  await expect.poll(() => page.locator('.words p').count()).toBe(3)
  await page.locator('.words p').nth(2).locator('.value', { hasText: '20.5 frames' }).waitFor()
})

it('should put a reference in, readable among the words', async () => {
  await page.waitForTimeout(300)
  await page.keyboard.press('Control+.')
  await page.getByRole('combobox', { name: /^Put in/ }).fill('cite okoro')
  await page.keyboard.press('Enter')
  const cite = page.locator('.words p').nth(2).locator('.cite', { hasText: 'Okoro and Lind 2019' })
  await cite.waitFor()
  expect(await cite.getAttribute('title')).toContain('Knee angles in landing')
  await page.getByText('all saved').waitFor()
  expect(await barriers()).toEqual([])
})

it('should say a value in another form, by keys and by pointer, as one edit that is taken back', async () => {
  const words = page.locator('.words p').nth(2)
  const value = words.locator('.value', { hasText: /0\.\d+ s|frames/ }).last()
  await words.click()
  await page.keyboard.press('End')
  await page.keyboard.type(' It takes ')
  await page.keyboard.press('Control+.')
  await page.getByRole('combobox', { name: /^Put in/ }).fill('plant to contact 0.6')
  await page.getByRole('option', { name: '0.683 s' }).first().waitFor()
  await page.keyboard.press('Enter')
  await expect.poll(() => value.textContent()).toBe('0.683 s ± 0.026 s')
  await page.keyboard.press('Alt+v')
  const sheet = page.getByRole('dialog', { name: 'Say the value otherwise' })
  await sheet.waitFor()
  expect(await sheet.getByRole('option').locator('.value').allTextContents()).toEqual([
    '0.683 s ± 0.026 s',
    'about 0.68 s',
    '0.657 to 0.709 s',
    'about 0.68 seconds',
    'plant to contact: 0.683 s ± 0.026 s',
  ])
  expect(await barriers()).toEqual([])
  await pictured('say-otherwise')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Enter')
  await expect.poll(() => value.textContent()).toBe('0.657 to 0.709 s')
  await page.getByText('all saved').waitFor()
  const captions = await page.evaluate(async () => {
    const answer = await fetch('call/captions.list', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' })
    return JSON.stringify(await answer.json())
  })
  expect(captions).toContain('It takes 0.657 to 0.709 s')
  await value.dblclick()
  await sheet.getByRole('option', { name: 'about 0.68 s rounded' }).click()
  await expect.poll(() => value.textContent()).toBe('about 0.68 s')
  for (const was of ['0.657 to 0.709 s', '0.683 s ± 0.026 s']) {
    await page.getByRole('button', { name: 'Undo Say the value otherwise' }).click()
    await expect.poll(() => value.textContent()).toBe(was)
  }
  expect(await barriers()).toEqual([])
})

it('should underline words that no list knows, and spell or keep them by keys', async () => {
  const words = page.locator('.words p').nth(1)
  await words.click()
  await page.keyboard.press('End')
  await page.keyboard.type(' Varga’s acromion and shuolder meet the kazushi.')
  await page.getByText('all saved').waitFor()
  await page.locator('.words p').first().click()
  const marked = (): Promise<string[]> => page.locator('.words .misspelt').allTextContents()
  await expect.poll(marked).toEqual(['shuolder', 'kazushi'])
  await page.keyboard.press('Alt+w')
  const bar = page.getByRole('group', { name: 'Spelling' })
  await bar.getByRole('button', { name: 'shoulder', exact: true }).waitFor()
  // The first answer takes the keys.
  const firstHasKeys = (): Promise<boolean> =>
    bar
      .getByRole('button')
      .first()
      .evaluate((node) => node === document.activeElement)
  await expect.poll(firstHasKeys).toBe(true)
  expect(await barriers()).toEqual([])
  await page.keyboard.press('Enter')
  await bar.getByText('“kazushi” is in no word list.').waitFor()
  const keep = bar.getByRole('button', { name: 'Keep “kazushi”' })
  await keep.waitFor()
  await expect.poll(firstHasKeys).toBe(true)
  await keep.focus()
  await page.keyboard.press('Enter')
  await bar.getByText('Every word is in a word list.').waitFor()
  await expect.poll(firstHasKeys).toBe(true)
  await page.keyboard.press('Escape')
  await bar.waitFor({ state: 'detached' })
  await expect.poll(marked).toEqual([])
  await expect.poll(() => words.textContent()).toContain('acromion and shoulder meet the kazushi.')
  await page.getByText('all saved').waitFor()
  expect(engine.workspace.opened.project.breakdown().vocabulary).toEqual(['kazushi'])
  for (const label of ['Keep the word kazushi', 'Spell a word']) await page.getByRole('button', { name: `Undo ${label}` }).click()
  await expect.poll(() => words.textContent()).toContain('acromion and shuolder')
  // Keys that a busy machine lets come with pauses between are steps of their own.
  for (let now = await words.textContent(); now?.includes('acromion'); now = await words.textContent()) {
    await page.getByRole('button', { name: 'Undo Type' }).click()
    await expect.poll(() => words.textContent()).not.toBe(now)
  }
})

it('should call the film something else, and make it another size, from the sheet behind its title', async () => {
  await page.getByRole('button', { name: 'Two right hands' }).click()
  const sheet = page.getByRole('dialog', { name: 'This project' })
  await sheet.getByLabel('Title').fill('Two left hooks')
  await page.keyboard.press('Enter')
  await sheet.getByRole('combobox', { name: 'Picture' }).selectOption('1280x720')
  await page.getByRole('heading', { name: 'Two left hooks' }).waitFor()
  expect(await barriers()).toEqual([])
  await page.keyboard.press('Escape')
  await expect.poll(() => engine.workspace.opened.project.breakdown().output).toEqual({ width: 1280, height: 720, rate: '30/1' })
  await page.getByRole('button', { name: 'Undo Change the picture’s size' }).click()
  await page.getByRole('button', { name: 'Undo Change the title' }).click()
  await page.getByRole('heading', { name: 'Two right hands' }).waitFor()
  expect(engine.workspace.opened.project.breakdown().output).toEqual(breakdown.output)
})

it('should draw a path on the picture, by hand and corner by corner', async () => {
  await page.locator('.words p').nth(1).click()
  await page.locator('.words .in-hand', { hasText: 'And then he waits.' }).waitFor()
  await page.getByRole('button', { name: 'Point', exact: true }).click()
  await page.getByRole('button', { name: 'Path', exact: true }).click()
  const layer = page.getByRole('application', { name: /^Path/ })
  // Once it lies still.
  await layer.hover()
  const box = (await layer.boundingBox())!
  await page.mouse.move(box.x + box.width * 0.3, box.y + box.height * 0.5)
  await page.mouse.down()
  for (let i = 1; i <= 30; i++)
    await page.mouse.move(box.x + box.width * (0.3 + i / 75), box.y + box.height * (0.5 + 0.25 * Math.sin(i / 5)))
  await page.mouse.up()
  const rows = page.locator('.mark-row', { hasText: 'path' })
  await expect.poll(() => rows.count()).toBe(1)
  for (const key of ['Enter', 'ArrowLeft', 'ArrowLeft', 'Enter', 'ArrowUp', 'ArrowUp', 'Enter', 'Enter']) await page.keyboard.press(key)
  await expect.poll(() => rows.count()).toBe(2)
  const shot = engine.workspace.opened.project.state.tables.paragraphs.get('p2')?.shots?.[0]
  const [drawn, set] =
    shot && 'marks' in shot ? (shot.marks ?? []).map((mark) => (typeof mark === 'object' && 'path' in mark ? mark.path : [])) : []
  expect(drawn!.length).toBeGreaterThan(5)
  expect(drawn!.length).toBeLessThanOrEqual(60)
  expect(set).toHaveLength(3)
  await page.keyboard.press('Escape')
})

it('should name the number that was typed, in the Evidence room', async () => {
  await page.getByRole('button', { name: 'Evidence' }).click()
  await page.getByText('“145°” is typed').waitFor()
  expect(await page.locator('.values tbody tr').count()).toBe(2)
  expect(await barriers()).toEqual([])
})

it('should render a draft and say where it is', async () => {
  await page.getByRole('button', { name: 'Release' }).click()
  expect(await barriers()).toEqual([])
  await page.getByRole('button', { name: 'Render a draft' }).click()
  await page.getByText('bout-draft.mp4').last().waitFor({ timeout: 500_000 })
  await expect.poll(() => existsSync(join(folder, 'bout-draft.mp4')), { timeout: 500_000 }).toBe(true)
  expect(faults).toEqual([])
})
