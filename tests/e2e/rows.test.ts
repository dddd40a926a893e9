import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Pair } from '../../app/project/picture'
import { ask, openPatternWindow, readCanvas, SMALL, type PatternWindow } from '../pattern-window'
import { speechLike, writeWav } from '../sound-signals'
import { barriersOn } from './barriers'
import { keyHand, pointerHand } from './hand'
import { held } from './held-answers'

/// A row's words against its pictures and its take: what is newer than was said, what is out of step, a run that waits for
/// its words, drags that are taken back, pairs of more than two.

const clips = ['ringside', 'corner', 'gantry'].map((name, i) => ({
  id: `c${i + 1}`,
  footage: 'f1',
  from: 0,
  to: 90,
  capture: { factor: '1', u: 0 },
  name,
}))
const LEG = ['hip.left', 'knee.left', 'ankle.left'] as const
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Three views of one knee',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips,
  views: [{ clip: 'c1', subject: 's1', from: 0, to: 90, lead: 'left', yaw: { deg: 5, u: 5 } }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 20, latest: 20 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 40 },
    { id: 'e2', clip: 'c2', name: 'contact', earliest: 42, latest: 42 },
    { id: 'e3', clip: 'c3', name: 'contact', earliest: 44, latest: 44 },
    { id: 'e4', clip: 'c3', name: 'landing', earliest: 60, latest: 60 },
  ],
  landmarks: clips.flatMap(({ id }, clip) =>
    LEG.map((point, i) => ({
      clip: id,
      subject: 's1',
      point,
      samples: [
        {
          frame: 40 + 2 * clip,
          at: (
            [
              [150, 30],
              [175, 95],
              [150, 160],
            ] as [number, number][]
          )[i]!,
          sigma: 1,
        },
      ],
    })),
  ),
  measures: [
    { id: 'm1', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' },
    { id: 'm2', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 40, points: [...LEG] },
  ],
  script: [
    {
      id: 'p1',
      take: 'p1.wav',
      narration: { words: 'it takes about eighteen frames from plant'.split(' ') },
      text: ['It takes about ', { value: 'm1' }, ' frames from ', { cue: 'e0', word: 'plant' }, '.'],
      shots: [
        { run: 'c1', from: 0, to: 60, speed: '1' },
        { hold: 'c1', at: 40, seconds: '1', frameTo: [0, 0, 160, 90] },
      ],
    },
    {
      id: 'p2',
      take: 'p2.wav',
      text: [
        'A knee of about ',
        { value: 'm2', form: 'about' },
        ' at ',
        { cue: 'e1', word: 'contact' },
        ' and at ',
        { cue: 'e4', word: 'landing' },
        '.',
      ],
      shots: [{ hold: 'c1', at: 41, seconds: '4' }],
    },
    {
      id: 'p3',
      text: ['Two views.'],
      shots: [
        {
          pair: [
            { clip: 'c1', event: 'e1' },
            { clip: 'c2', event: 'e2' },
          ],
          before: '1/2',
          after: '1/2',
          speed: '1/4',
          layout: 'beside',
          still: '1',
        },
      ],
    },
  ],
}

let window: PatternWindow

beforeAll(async () => {
  window = await openPatternWindow({
    films: { 'bout.mp4': { frames: 90, rate: '30' } },
    breakdown,
    more: async (folder) => {
      await writeWav(join(folder, 'p1.wav'), [speechLike(2.5, 0.2, 7)])
      await writeWav(join(folder, 'p2.wav'), [speechLike(2.5, 0.2, 8)])
    },
  })
})
afterAll(async () => window?.close())

/// The numbers that so many pictures side by side show on the canvas, each in the middle of its part.
async function panelsShown(page: Page, count: number): Promise<number[]> {
  const smalls = await page.evaluate(
    ({ count, size }) => {
      const canvas = document.querySelector<HTMLCanvasElement>('canvas.picture')!
      const surface = Object.assign(document.createElement('canvas'), size).getContext('2d', { willReadFrequently: true })!
      const width = canvas.width / count
      const height = (width * 9) / 16
      return Array.from({ length: count }, (_, i) => {
        surface.drawImage(canvas, i * width + 1, (canvas.height - height) / 2, width - 2, height, 0, 0, size.width, size.height)
        const { data } = surface.getImageData(0, 0, size.width, size.height)
        return Array.from({ length: data.length / 4 }, (_, at) => data[at * 4] ?? 0)
      })
    },
    { count, size: SMALL },
  )
  return smalls.map((small) => readCanvas(small))
}

/// Keeps a picture of the window, and of one at 200 %, where `CLAIMFRAME_LOOK` names a folder.
const look = async (name: string): Promise<void> => {
  const into = process.env['CLAIMFRAME_LOOK']
  if (!into) return
  const { page } = window
  await page.screenshot({ path: join(into, `${name}.png`) })
  await page.setViewportSize({ width: 720, height: 900 })
  await page.waitForTimeout(400)
  await page.screenshot({ path: join(into, `${name}-200.png`), fullPage: true })
  await page.setViewportSize({ width: 1440, height: 900 })
  await page.waitForTimeout(400)
}
const rowAt = (i: number) => window.page.locator('.words p').nth(i)
const take = async (i: number): Promise<void> => {
  await rowAt(i).click({ position: { x: 20, y: 20 } })
  await rowAt(i).and(window.page.locator('.in-hand')).waitFor()
}

it('should show by shape and in words that a value is newer than the take, and only there', async () => {
  const { page } = window
  const value = rowAt(0).locator('.value')
  await value.and(page.locator('.value-older')).waitFor()
  expect(await value.textContent()).toMatch(/^≠ 20/)
  expect(await value.getAttribute('title')).toMatch(/Newer than the take, which says “eighteen”: it is now “20 frames”/)
  expect(await value.evaluate((node) => getComputedStyle(node).outlineStyle)).toBe('dashed')
  expect(await page.locator('.words .value-older').count()).toBe(1)
  await take(0)
  await page
    .getByRole('region', { name: 'What these words rest on' })
    .getByText(/^Newer than the take/)
    .waitFor()
  await look('rows-older')
})

it('should go to the first word by a key that comes right behind the one that came to the words', async () => {
  const { page } = window
  for (let i = 0; i < 3; i++) {
    await take(1)
    await page.getByLabel('Add a shot').focus()
    await keyHand(page).goTo(page.locator('.words .ProseMirror'))
    await page.keyboard.press('Control+Home')
    await rowAt(0).and(page.locator('.in-hand')).waitFor({ timeout: 20_000 })
  }
})

it('should say “about” once, and again when the word before it goes', async () => {
  const value = rowAt(1).locator('.value')
  expect(await value.textContent()).not.toContain('about')
  await take(1)
  // The keys come once the editor has heard where the caret is.
  await value.evaluate(async (node) => {
    const heard = new Promise((done) => document.addEventListener('selectionchange', done, { once: true }))
    getSelection()?.collapse(node.previousSibling, node.previousSibling?.textContent?.length)
    await heard
  })
  for (let i = 0; i < 6; i++) await window.page.keyboard.press('Backspace')
  await expect.poll(() => value.textContent()).toMatch(/^about /)
  await window.page.getByText('all saved').waitFor()
  await window.page.keyboard.type('about ')
  await expect.poll(() => value.textContent()).not.toContain('about')
})

it('should name a tied word’s event, say below the words what is out of step, and when the event is gone', async () => {
  const { page, engine } = window
  await take(1)
  const cue = rowAt(1).locator('[data-cue="e4"]')
  expect(await cue.getAttribute('title')).toBe('comes as landing is shown: gantry, frame 60')
  const lines = page.getByRole('list', { name: 'Words out of step with their pictures' })
  await expect
    .poll(() => lines.locator('li').allTextContents())
    .toEqual(['“contact” is said, but contact is not shown here', '“landing” is said, but landing is not shown here'])
  const { project } = engine.workspace.opened
  const [event] = project.state.tables.events.list().filter(({ id }) => id === 'e4')
  await ask(page, 'edit.apply', {
    edit: {
      id: crypto.randomUUID(),
      label: 'Take the event away',
      group: null,
      selection: null,
      base: project.state.version,
      steps: [],
      diffs: [{ table: 'events', key: 'e4', change: 'removed', record: event, after: 'e3' }],
    },
  })
  await cue.and(page.locator('.cue-gone')).waitFor()
  expect(await cue.getAttribute('title')).toMatch(/^The event that it was tied to is not there any more/)
  expect(await cue.evaluate((node) => [getComputedStyle(node).borderBottomStyle, getComputedStyle(node, '::before').content])).toEqual([
    'dashed',
    '"◌\u00a0"',
  ])
  await lines.getByText('“landing” was tied to an event that is not there any more').waitFor()
  await take(0)
  await lines.getByText(/^“plant” is said \d+ frames after plant is shown$/).waitFor()
  // Rows at rest say it beside their pictures.
  await page.locator('.row-pick', { hasText: '2 words out of step' }).waitFor()
  await take(1)
  await look('rows-cues')
  expect(await barriersOn(page)).toEqual([])
})

it('should wait with a run for its words, and read those of that run alone', async () => {
  const { page } = window
  await take(0)
  const slider = page.getByLabel('Place in this paragraph')
  const first = (await slider.getAttribute('min')) ?? '0'
  await slider.fill(first)
  await page.locator(`canvas.picture[data-frame="${first}"][data-detail="full"]:not([data-waiting])`).waitFor()
  const asked: string[] = []
  await page.route(/p[12]\.wav/, async (route) => {
    asked.push(route.request().url())
    await new Promise((done) => setTimeout(done, 700))
    await route.continue()
  })
  const shown = await page.evaluate(async () => {
    const canvas = document.querySelector<HTMLCanvasElement>('canvas.picture')!
    ;[...document.querySelectorAll('button')].find((button) => button.textContent === 'Run')?.click()
    const shown: { at: number; frame: number }[] = []
    const runs = (): boolean => shown.length > 0 && shown.at(-1)!.frame - shown[0]!.frame > 10
    for (const began = performance.now(); !runs() && performance.now() - began < 20_000;) {
      await new Promise((done) => requestAnimationFrame(done))
      shown.push({ at: performance.now() - began, frame: Number(canvas.dataset['frame']) })
    }
    ;[...document.querySelectorAll('button')].find((button) => button.textContent === 'Pause')?.click()
    return shown
  })
  await page.unroute(/p[12]\.wav/)
  expect(shown.filter(({ frame }, i) => frame < (shown[i - 1]?.frame ?? 0))).toEqual([])
  expect(shown.filter(({ at, frame }) => at < 600 && frame > shown[0]!.frame)).toEqual([])
  expect(shown.at(-1)!.frame - shown[0]!.frame).toBeGreaterThan(10)
  expect(asked.length).toBe(1)
  expect(asked[0]).toContain('p1.wav')
})

it('should keep the row and its time where they are, whatever tool is chosen', async () => {
  const { page } = window
  await take(0)
  await page.getByRole('button', { name: 'Point', exact: true }).click()
  const places = () =>
    Promise.all(['.mark-list', '.words .in-hand', '.spine .bar-stop >> nth=0'].map((what) => page.locator(what).boundingBox()))
  const before = await places()
  await look('rows-point')
  for (const width of [1440, 1000]) {
    await page.setViewportSize({ width, height: 900 })
    await page.waitForTimeout(300)
    const still = await places()
    for (const tool of await page.getByRole('group', { name: 'Draw on the picture' }).getByRole('button').all()) {
      await tool.click()
      await page.waitForTimeout(100)
      expect(await places()).toEqual(still)
    }
    await page.getByRole('button', { name: 'Word', exact: true }).click()
    await page.getByRole('textbox', { name: 'Word' }).fill('the lead knee')
    expect(await page.getByRole('textbox', { name: 'Word' }).count()).toBe(1)
    await page.getByText('Click where it stands.').waitFor()
    await look(`rows-word-${width}`)
    await page.getByRole('button', { name: 'Word', exact: true }).click()
  }
  await page.setViewportSize({ width: 1440, height: 900 })
  await expect.poll(places).toEqual(before)
  await page.getByRole('button', { name: 'Point', exact: true }).click()
})

it('should take back and do again what was done last while the picture that is drawn on, a list, a button or the place on the film has the focus', async () => {
  const { page, engine } = window
  await take(0)
  await page.getByRole('button', { name: 'Point', exact: true }).click()
  await page.getByRole('button', { name: 'Arrow', exact: true }).click()
  const marks = (): number => {
    const [shot] = engine.workspace.opened.project.state.tables.paragraphs.get('p1')?.shots ?? []
    return shot && !('card' in shot) ? (shot.marks ?? []).length : -1
  }
  const before = marks()
  const layer = (await page.locator('.pointing').boundingBox())!
  await page.mouse.move(layer.x + 60, layer.y + 60)
  await page.mouse.down()
  await page.mouse.move(layer.x + 180, layer.y + 100)
  await page.mouse.up()
  await expect.poll(marks).toBe(before + 1)
  const places = [
    page.locator('.pointing'),
    page.getByLabel('Add a shot'),
    page.getByRole('button', { name: 'Ring', exact: true }),
    page.getByLabel('Place in this paragraph'),
  ]
  for (const place of places) {
    await place.focus()
    await page.keyboard.press('Control+z')
    await expect.poll(marks).toBe(before)
    await place.focus()
    await page.keyboard.press('Control+y')
    await expect.poll(marks).toBe(before + 1)
  }
  // Words that are typed are the field's own to take back.
  await page.getByRole('button', { name: 'Word', exact: true }).click()
  await page.getByRole('textbox', { name: 'Word' }).pressSequentially('x')
  await page.keyboard.press('Control+z')
  await page.waitForTimeout(300)
  expect(marks()).toBe(before + 1)
  await page.getByRole('button', { name: 'Word', exact: true }).click()
  await page.keyboard.press('Control+z')
  await expect.poll(marks).toBe(before)
  await page.getByRole('button', { name: 'Point', exact: true }).click()
})

it('should draw and move nothing when Escape takes a drag back', async () => {
  const { page, engine } = window
  await take(0)
  await page.getByText('all saved').waitFor()
  const { version } = engine.workspace.opened.project.state
  await page.getByRole('button', { name: 'Point', exact: true }).click()
  const drag = async (what: Locator, from: readonly [number, number], by: readonly [number, number], escape: boolean): Promise<void> => {
    // Hovering waits until what is dragged stands still.
    await what.hover({ position: { x: from[0], y: from[1] } })
    const box = (await what.boundingBox())!
    await page.mouse.down()
    await page.mouse.move(box.x + from[0] + by[0] / 2, box.y + from[1] + by[1] / 2)
    await page.mouse.move(box.x + from[0] + by[0], box.y + from[1] + by[1])
    if (escape) await page.keyboard.press('Escape')
    await page.mouse.up()
  }
  const dragArrow = async (escape: boolean): Promise<void> => {
    await page.getByRole('button', { name: 'Arrow', exact: true, pressed: false }).click()
    await drag(page.locator('.pointing'), [60, 60], [120, 40], escape)
    await page.getByRole('button', { name: 'Arrow', exact: true, pressed: true }).click()
    await page.locator('.pointing').waitFor({ state: 'detached' })
  }
  const dragEnd = (escape: boolean): Promise<void> => drag(page.locator('.spine .bar-stop').first(), [10, 3], [0, -40], escape)
  await dragArrow(true)
  await dragEnd(true)
  await page.getByText('all saved').waitFor()
  expect(engine.workspace.opened.project.state.version).toBe(version)
  // And both do something when they are let go, the second while the first is still on its way.
  let send = (): void => undefined
  const sent = new Promise<void>((done) => (send = done))
  await page.route(/call\/edit\.apply/, async (route) => {
    await sent
    await route.continue()
  })
  const barHeight = async (): Promise<number> => (await page.locator('.spine .bar:has(.bar-stop)').first().boundingBox())!.height
  const high = await barHeight()
  await dragArrow(false)
  await dragEnd(false)
  expect(engine.workspace.opened.project.state.version).toBe(version)
  // Until it is answered the end stays where it was dragged to.
  expect(await barHeight()).toBeLessThan(high - 20)
  send()
  await expect.poll(() => engine.workspace.opened.project.state.version).toBe(version + 2)
  await page.unroute(/call\/edit\.apply/)
  const shot = engine.workspace.opened.project.state.tables.paragraphs.get('p1')?.shots?.[0]
  expect(shot).toMatchObject({ run: 'c1', marks: [{}] })
  expect(shot && 'run' in shot && shot.to).toBeLessThan(60)
  expect(window.faults).toEqual([])
})

it('should put a third clip into a pair by pointer, lay them over each other by keys, and take one out again', async () => {
  const { page, engine } = window
  await take(2)
  const pair = (): Pair => {
    const shot = engine.workspace.opened.project.state.tables.paragraphs.get('p3')?.shots?.[0]
    if (!shot || !('pair' in shot)) throw new Error('there is no pair')
    return shot
  }
  await page.getByRole('button', { name: 'Change', exact: true }).click()
  const fields = page.getByRole('group', { name: 'This pair' })
  const first = fields.getByRole('combobox', { name: 'In step at', exact: true })
  const atContact = await first.evaluate((list) => (list as HTMLSelectElement).selectedOptions[0]!.text)
  await held(page, async () => {
    await pointerHand.choose(fields.getByRole('combobox', { name: 'and', exact: true }), 'contact in gantry')
    await pointerHand.choose(first, atContact.replace('contact', 'plant'))
  })
  expect(pair().pair.map(({ event }) => event)).toEqual(['e0', 'e2', 'e3'])
  await pointerHand.choose(first, atContact)
  await expect
    .poll(() => pair().pair.map(({ clip, event }) => [clip, event]))
    .toEqual([
      ['c1', 'e1'],
      ['c2', 'e2'],
      ['c3', 'e3'],
    ])
  await page.locator('.shot .still img').nth(2).waitFor()
  // All three stand on the canvas, in step at contact: its frame shows after two seconds at a quarter of the speed.
  const slider = page.getByLabel('Place in this paragraph')
  await slider.fill(String(Number(await slider.getAttribute('min')) + 60))
  await expect.poll(() => panelsShown(page, 3)).toEqual([40, 42, 44])
  await look('rows-pair-three')
  const hand = keyHand(page)
  await hand.choose(fields.getByRole('combobox', { name: 'Laid', exact: true }), 'over each other')
  await expect.poll(pair).toMatchObject({ layout: 'over', over: { subjects: ['s1', 's1', 's1'], points: ['hip.left', 'knee.left'] } })
  await hand.choose(fields.getByRole('combobox', { name: 'and at', exact: true }), 'left ankle')
  await expect.poll(() => pair().over?.points).toEqual(['hip.left', 'ankle.left'])
  await look('rows-pair-over')
  expect(await barriersOn(page)).toEqual([])
  await fields.getByRole('button', { name: 'Take out: contact in corner' }).click()
  await expect.poll(pair).toMatchObject({ pair: [{ clip: 'c1' }, { clip: 'c3' }], over: { subjects: ['s1', 's1'] } })
  await pointerHand.choose(fields.getByRole('combobox', { name: 'Laid', exact: true }), 'one above the other')
  await expect.poll(() => [pair().layout, pair().over]).toEqual(['above', undefined])
  expect(window.faults).toEqual([])
})

it('should take rows that are selected together away with their pictures and takes, and bring all of them back in one step', async () => {
  const { page, engine } = window
  const { project } = engine.workspace.opened
  const before = project.breakdown()
  await take(0)
  await page.keyboard.press('Control+a')
  await page.keyboard.press('Delete')
  await expect.poll(() => project.state.tables.paragraphs.list()).toEqual([])
  expect(project.state.script.textContent).toBe('')
  await page.getByText('all saved', { exact: true }).waitFor()
  expect(await page.getByRole('alert').count()).toBe(0)
  await page.keyboard.press('Control+z')
  await expect.poll(() => project.breakdown()).toEqual(before)
  expect(window.faults).toEqual([])
})
