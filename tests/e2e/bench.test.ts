import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { ask, openPatternWindow, readCanvas, SMALL, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// The Bench in a real browser: exact frames, points placed by pointer and by keyboard alone, events, the view, a
/// measure and its value in the script.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'On the Bench',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' },
    { id: 'c2', footage: 'f1', from: 10, to: 60, capture: 'unknown', name: 'flipped', mirrored: true },
  ],
  script: [{ id: 'p1', text: ['At contact the knee is at'], shots: [] }],
}

let window: PatternWindow
let page: Page

beforeAll(async () => {
  window = await openPatternWindow({
    films: { 'bout.mp4': { frames: 90, rate: '30', width: 1280, height: 720, gop: 90, bframes: 2 } },
    breakdown,
    standIns: ['f1'],
  })
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await whole(0)
})
afterAll(async () => window?.close())

const whole = (frame: number): Promise<void> =>
  page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"]`).waitFor({ state: 'attached' })
const samples = async (clip = 'c1'): Promise<Landmark[]> =>
  ((await ask(page, 'landmarks.samples', { clip })) as { landmarks: Landmark[] }).landmarks.filter((l) => l.samples.length > 0)

const barriers = (): Promise<string[]> => barriersOn(page)

/// How the picture lies on the stage: scale, left, top, and the stage's own place on the page. Whole unless zoomed.
async function stageAt(zoom = 1): Promise<{ scale: number; x: number; y: number; left: number; top: number }> {
  const box = await page.locator('.stage').boundingBox()
  if (!box) throw new Error('there is no stage')
  const fit = Math.min(box.width / 1280, box.height / 720)
  const scale = fit * zoom
  return { scale, x: (box.width - 1280 * scale) / 2, y: (box.height - 720 * scale) / 2, left: box.x, top: box.y }
}

const readBench = async (): Promise<number> => {
  const { scale, x, y } = await stageAt()
  const small = await page.evaluate(
    ({ size, from }) => {
      const canvas = document.querySelector<HTMLCanvasElement>('.bench-canvas')
      const small = Object.assign(document.createElement('canvas'), size)
      const surface = small.getContext('2d', { willReadFrequently: true })
      if (!canvas || !surface) throw new Error('there is no Bench')
      surface.drawImage(canvas, from.x, from.y, from.width, from.height, 0, 0, size.width, size.height)
      const { data } = surface.getImageData(0, 0, size.width, size.height)
      return Array.from({ length: data.length / 4 }, (_, i) => data[i * 4] ?? 0)
    },
    { size: SMALL, from: { x, y, width: 1280 * scale, height: 720 * scale } },
  )
  return readCanvas(small)
}

it('should have no barrier, with any of its sheets', async () => {
  expect(await barriers()).toEqual([])
  for (const key of ['m', 'e', 'v', 'l', '?']) {
    await page.locator('.stage').focus()
    await page.keyboard.press(key)
    await page.locator('.sheet').waitFor()
    expect([key, await barriers()]).toEqual([key, []])
    await page.locator('.stage').focus()
    await page.keyboard.press('Escape')
    await page.locator('.sheet').waitFor({ state: 'detached' })
  }
})

it('should show the right frame at every step, small and whole', async () => {
  await page.locator('.stage').focus()
  let frame = 0
  for (const key of [
    '.',
    '.',
    'PageDown',
    ',',
    'ArrowRight',
    'PageDown',
    'PageDown',
    'PageUp',
    'ArrowLeft',
    'End',
    ',',
    'Home',
    '.',
    'End',
  ]) {
    frame =
      key === 'End'
        ? 89
        : key === 'Home'
          ? 0
          : Math.max(0, Math.min(89, frame + ({ '.': 1, ArrowRight: 1, ',': -1, ArrowLeft: -1, PageDown: 10, PageUp: -10 }[key] ?? 0)))
    await page.keyboard.press(key)
    await page.locator(`.bench-canvas[data-frame="${frame}"]`).waitFor({ state: 'attached' })
    expect([key, await readBench()]).toEqual([key, frame])
    await whole(frame)
    expect([key, await readBench()]).toEqual([key, frame])
  }
})

it('should place nothing while the whole picture is not there, and place as soon as it stands', async () => {
  let release = (): void => undefined
  const released = new Promise<void>((done) => (release = done))
  await page.route(/\/(media|still)\//, (route) => released.then(() => route.continue()).catch(() => undefined))
  // The window keeps the bytes of a film that it has read: only a new one has to ask for them. It stays where it opens: while
  // it waits for the whole picture there, it reads no small one elsewhere.
  await page.reload()
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.stage').focus()
  await page.locator('.bench-canvas[data-frame="0"]').waitFor({ state: 'attached' })
  expect(await page.locator('.bench-canvas').getAttribute('data-detail')).toBe('small')
  await page.keyboard.press('p')
  await page.getByText('the whole picture is coming').waitFor()
  await page.locator('.stage').click({ position: { x: 500, y: 300 } })
  await page.keyboard.press('Enter')
  expect(await samples()).toEqual([])
  expect(await page.locator('.bench-canvas').getAttribute('data-detail')).toBe('small')
  // Whoever presses at the very moment at which it stands has placed the point, though the card has not been drawn anew yet.
  await page.evaluate(() => {
    const canvas = document.querySelector<HTMLCanvasElement>('.bench-canvas')!
    const watch = new MutationObserver(() => {
      if (canvas.dataset['detail'] !== 'full') return
      watch.disconnect()
      canvas.parentElement!.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true, cancelable: true }))
    })
    watch.observe(canvas, { attributes: true, attributeFilter: ['data-detail'] })
  })
  release()
  await page.unroute(/\/(media|still)\//)
  await whole(0)
  await expect.poll(async () => (await samples()).length).toBe(1)
  await page.keyboard.press('Backspace')
  await expect.poll(async () => (await samples()).length).toBe(0)
  await page.keyboard.press('Escape')
})

it('should place 19 points by pointer at 400 %, none more than a quarter pixel off, each undone alone', async () => {
  await page.keyboard.press('End')
  await whole(89)
  await page.keyboard.press('0')
  // Six steps of 1.25 about the middle, until one picture pixel is four of the stage or more.
  const fit = (await stageAt()).scale
  const steps = Math.ceil(Math.log(4 / fit) / Math.log(1.25))
  for (let i = 0; i < steps; i++) await page.keyboard.press('+')
  await page.keyboard.press('p')
  await page.getByText('click, or Enter').waitFor()
  const { scale, x, y, left, top } = await stageAt(1.25 ** steps)
  expect(scale).toBeGreaterThanOrEqual(4)
  const targets: [number, number][] = []
  for (let i = 0; i < 19; i++) {
    const target: [number, number] = [640 - 70 + ((i * 53) % 140) + i * 0.37, 360 - 30 + ((i * 29) % 60) + i * 0.21]
    targets.push(target)
    await page.mouse.click(left + x + target[0] * scale, top + y + target[1] * scale)
    await page.getByText('arrow keys: a quarter pixel').waitFor()
    await page.keyboard.press(' ')
  }
  await page.keyboard.press('Escape')
  await page.getByText('all saved').waitFor()
  const placed = await samples()
  const off = placed.map(({ samples: [sample] }, i) =>
    Math.hypot((sample?.at[0] ?? 0) - (targets[i]?.[0] ?? 0), (sample?.at[1] ?? 0) - (targets[i]?.[1] ?? 0)),
  )
  console.info(`pointer at ${Math.round(scale * 100)} %: ${placed.length} points, furthest off ${Math.max(...off).toFixed(3)} px`)
  expect(placed.length).toBe(19)
  expect(Math.max(...off)).toBeLessThanOrEqual(0.25)
  await page.getByRole('button', { name: /^Undo Place/ }).click()
  await expect.poll(async () => (await samples()).length).toBe(18)
  await page.keyboard.press('Control+Shift+Z')
  await expect.poll(async () => (await samples()).length).toBe(19)
})

it('should place by keyboard alone, to the quarter pixel, three times with the earlier ones hidden', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('0')
  await page.keyboard.press('Home')
  await whole(0)
  await page.locator('.guide select').nth(1).selectOption('legs')
  await page.locator('.guide').getByRole('button', { name: 'Place' }).press('Enter')
  await page.locator('.guide', { hasText: 'first placing of three' }).waitFor()
  await page.keyboard.press('Enter')
  await page.getByText('arrow keys: a quarter pixel').waitFor()
  const at = async () => (await samples()).find((l) => l.point === 'hip.left')?.samples.filter((s) => s.frame === 0) ?? []
  await expect.poll(async () => (await at()).length).toBe(1)
  const [start] = await at()
  for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight')
  await page.keyboard.press('Shift+ArrowUp')
  await page.keyboard.press('h')
  await expect
    .poll(async () => (await at())[0])
    .toEqual({ ...start, at: [(start?.at[0] ?? 0) + 0.75, (start?.at[1] ?? 0) - 5], seen: 'occluded' })
  // One point placed and moved: the next round begins after the tenth point; nothing of this one is shown then.
  for (let i = 0; i < 10; i++) await page.keyboard.press(' ')
  await page.locator('.guide', { hasText: 'second placing of three' }).waitFor()
  await page.keyboard.press('Enter')
  await expect.poll(async () => (await at()).length).toBe(2)
  await page.keyboard.press('Backspace')
  await expect.poll(async () => (await at()).length).toBe(1)
  await page.keyboard.press('Escape')
})

it('should bracket an event, state the view, measure, and put the value into the script', async () => {
  await page.keyboard.press('End')
  await whole(89)
  await page.keyboard.press('e')
  await page.getByLabel('Event', { exact: true }).fill('contact')
  await page.getByRole('button', { name: 'Mark it on frame 89' }).click()
  await page.getByText('frame 89', { exact: true }).waitFor()
  await page.locator('.stage').focus()
  await page.keyboard.press(',')
  await page.getByRole('button', { name: 'contact: not before here, frame 88' }).click()
  await page.getByText('frames 88 to 89').waitFor()
  await page.locator('.stage').focus()
  await page.keyboard.press('v')
  await page.getByLabel('Lead side').selectOption('left')
  await page.getByLabel('Yaw, degrees from side-on').fill('5')
  await page.getByRole('button', { name: 'State it' }).click()
  await expect
    .poll(() => window.engine.workspace.opened.project.state.tables.views.list())
    .toEqual([{ clip: 'c1', subject: 's1', from: 0, to: 90, lead: 'left', yaw: { deg: 5, u: 0 } }])
  await page.locator('.stage').focus()
  await page.keyboard.press('.')
  await page.keyboard.press('m')
  await page.getByLabel('Which limb').selectOption('rear knee')
  await page.locator('.told').waitFor()
  await page.getByRole('button', { name: 'Keep it' }).click()
  const reading = page.locator('.edge-reading', { hasText: 'rear knee' })
  await reading.waitFor()
  expect(await reading.textContent()).toMatch(/°/)
  await page.locator('.stage').focus()
  await page.keyboard.press('i')
  await page.getByText('It stands at the end of “At contact the knee is at”').waitFor()
  await page.getByRole('button', { name: 'Script', exact: true }).click()
  await page.locator('.words .value').waitFor()
  expect(await page.locator('.words .value').textContent()).toMatch(/°|range/)
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await whole(89)
})

it('should do what is stated while what was stated before is on its way', async () => {
  let letGo = (): void => undefined
  const hold = async (): Promise<void> => {
    const gone = new Promise<void>((done) => (letGo = done))
    await page.route(/call\/edit\.apply/, (route) => gone.then(() => route.continue()))
  }
  await hold()
  const { tables } = window.engine.workspace.opened.project.state
  const now = () => window.engine.workspace.opened.project.state.tables
  await page.locator('.stage').focus()
  await page.keyboard.press('e')
  await page.getByLabel('Frame of the clip').fill('85')
  await page.getByRole('button', { name: 'contact: not before here, frame 85' }).click()
  await page.getByLabel('Frame of the clip').fill('88')
  await page.getByRole('button', { name: 'contact: not after here, frame 88' }).click()
  expect(now().events).toBe(tables.events)
  letGo()
  await expect.poll(() => now().events.list()).toMatchObject([{ name: 'contact', earliest: 85, latest: 88 }])
  await page.getByText('all saved').waitFor()
  await page.unroute(/call\/edit\.apply/)
  await hold()
  await page.locator('.stage').focus()
  await page.keyboard.press('v')
  await page.getByLabel('it stood still in this clip').click()
  await page.getByLabel('Roll of the camera, degrees clockwise').fill('2')
  await page.getByRole('button', { name: 'State it' }).click()
  await page.getByRole('button', { name: 'State it' }).click()
  expect(now().clips).toBe(tables.clips)
  letGo()
  await expect.poll(() => now().clips.get('c1')).toMatchObject({ hall: { camera: 'still' }, roll: { deg: 2, u: 0 } })
  await page.getByText('all saved').waitFor()
  await page.unroute(/call\/edit\.apply/)
  expect(await page.locator('.refusal').count()).toBe(0)
  expect(now().views.list()).toHaveLength(1)
})

it('should keep points of a mirrored clip in unmirrored pixels', async () => {
  await page.getByLabel('Clip', { exact: true }).selectOption('c2')
  await whole(10)
  await page.locator('.stage').focus()
  await page.keyboard.press('p')
  await page.getByText('click, or Enter').waitFor()
  const { scale, x, y, left, top } = await stageAt()
  await page.mouse.click(left + x + 1000 * scale, top + y + 100 * scale)
  await page.getByText('arrow keys: a quarter pixel').waitFor()
  await page.keyboard.press('ArrowRight')
  await expect.poll(async () => (await samples('c2'))[0]?.samples[0]?.at.map((v) => Math.round(v))).toEqual([280, 100])
  await page.keyboard.press('Escape')
  expect(window.faults).toEqual([])
})
