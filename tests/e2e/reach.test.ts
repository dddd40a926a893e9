import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// Every room and every sheet, as axe sees them: at full size, at 200 % (half as many pixels each way), and for someone
/// who asks for less motion. At 200 % nothing lies out of reach to the right.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Within reach',
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
    { id: 'm2', kind: 'order', clip: 'c1', from: 'e0', to: 'e1' },
  ],
  references: [
    {
      id: 'r1',
      csl: {
        id: 'r1',
        type: 'article-journal',
        title: 'Turning in the cross',
        author: [{ family: 'Okoro', given: 'A.' }],
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
        {
          hold: 'c1',
          at: 40,
          seconds: '1',
          marks: [
            {
              arrow: [
                [10, 10],
                [100, 60],
              ],
            },
          ],
        },
      ],
    },
    { id: 'p2', text: ['He always drops the hand because he is tired.'], shots: [{ hold: 'c1', at: 60, seconds: '1' }] },
  ],
}

let window: PatternWindow
beforeAll(async () => {
  window = await openPatternWindow({
    films: { 'bout.mp4': { frames: 90, rate: '30', width: 640, height: 360 } },
    breakdown,
    standIns: ['f1'],
  })
})
afterAll(async () => window?.close())

const barriers = (): Promise<string[]> => barriersOn(window.page)

const toWords = async (): Promise<void> => {
  await window.page.locator('.words .ProseMirror').focus()
  await window.page.keyboard.press('Control+Home')
}

/// Each room, and what stands in it last.
const rooms = [
  ['Script', 'canvas.picture[data-detail="full"]'],
  ['Footage', '[aria-label="Change ringside"]'],
  ['Bench', '.bench-canvas[data-detail="full"]'],
  ['Narration', '.prompt-steps'],
  ['Evidence', '.claim'],
  ['Release', 'button:text-is("Leave it out …")'],
] as const
const sizes = [
  { name: 'at full size', width: 1440, height: 900, reducedMotion: 'no-preference' },
  { name: 'at 200 %', width: 720, height: 450, reducedMotion: 'no-preference' },
  { name: 'with less motion', width: 1440, height: 900, reducedMotion: 'reduce' },
] as const

describe.each(sizes)('$name', ({ width, height, reducedMotion }) => {
  beforeAll(async () => {
    await window.page.setViewportSize({ width, height })
    await window.page.emulateMedia({ reducedMotion })
  })

  it.each(rooms.map(([name, last], i) => [name, i + 1, last] as const))('the %s room has no barrier', async (name, number, last) => {
    const { page } = window
    await page.keyboard.press(`Alt+Digit${number}`)
    await page.getByRole('button', { name, exact: true, disabled: false }).and(page.locator('[aria-current]')).waitFor()
    await page.locator(last).first().waitFor({ state: 'attached' })
    expect(await barriers()).toEqual([])
    const over = (): Promise<number[]> =>
      page.evaluate(() => [...document.querySelectorAll('.room-body, .window')].map((box) => box.scrollWidth - box.clientWidth))
    await expect.poll(async () => Math.max(...(await over()))).toBeLessThanOrEqual(1)
    if (name === 'Release') {
      // What holds the film back is said with its sentence, also where the finding quotes one word of it.
      await page
        .locator('li', { hasText: 'always' })
        .locator('q')
        .getByText('He always drops the hand because he is tired.')
        .first()
        .waitFor()
    }
    if (name === 'Narration') {
      // What is to be said can be read and recorded without rolling: a lane with no take in it takes no room from it.
      const [bottom, end] = await Promise.all(
        ['.prompt .say', '.prompt'].map((at) => page.locator(at).evaluate((box) => box.getBoundingClientRect().bottom)),
      )
      expect(bottom).toBeLessThanOrEqual(end!)
      const lane = (await page.locator('.wave-lane').boundingBox())!
      expect(lane.height).toBeLessThanOrEqual(0.2 * height)
    }
    if (name !== 'Bench') return
    // Its tools are all in sight, and the picture keeps two fifths of the window.
    const tools = await page
      .locator('.hand-tools button')
      .evaluateAll((buttons) => buttons.map((button) => button.getBoundingClientRect().right))
    expect(tools.length).toBeGreaterThan(5)
    expect(Math.max(...tools)).toBeLessThanOrEqual(width)
    expect((await page.locator('.stage').boundingBox())!.height).toBeGreaterThanOrEqual(0.4 * height)
    // A reading is read whole, also where its value is a sentence.
    await page.locator('.stage').focus()
    for (const key of ['Home', ']']) await page.keyboard.press(key)
    const sentence = page.locator('.edge-reading', { hasText: 'plant before contact' })
    await sentence.waitFor()
    const hidden = await sentence
      .locator('span')
      .evaluateAll((lines) => lines.map((line) => Math.max(line.scrollWidth - line.clientWidth, line.scrollHeight - line.clientHeight)))
    expect(Math.max(...hidden)).toBeLessThanOrEqual(0)
  })

  it('the sheets of the Script room have none', async () => {
    const { page } = window
    await page.keyboard.press('Alt+Digit1')
    await toWords()
    await page.locator('canvas.picture').waitFor()
    for (const panel of ['Change', 'Point', 'Names']) {
      await page.getByRole('button', { name: panel, exact: true }).click()
      expect([panel, await barriers()]).toEqual([panel, []])
    }
    await page.getByRole('button', { name: 'Names', exact: true }).click()
    await toWords()
    for (const [key, role] of [
      ['Control+.', 'dialog'],
      ['F1', 'dialog'],
      ['Control+f', 'search'],
    ] as const) {
      await page.keyboard.press(key)
      await page.getByRole(role).waitFor()
      expect([key, await barriers()]).toEqual([key, []])
      await page.keyboard.press('Escape')
      await page.getByRole(role).waitFor({ state: 'detached' })
    }
    await page.locator('.title').click()
    await page.getByRole('dialog').waitFor()
    expect(await barriers()).toEqual([])
    await page.keyboard.press('Escape')
  })

  it('the clip form and the Bench’s sheets have none', async () => {
    const { page } = window
    await page.keyboard.press('Alt+Digit2')
    await page.getByRole('button', { name: 'Cut a clip' }).click()
    expect(await barriers()).toEqual([])
    await page.getByRole('button', { name: 'Leave it' }).click()
    await page.keyboard.press('Alt+Digit3')
    for (const name of ['Measures', 'Events', 'View', 'Points', 'Keys']) {
      await page.locator('.bench-tools').getByRole('button', { name }).click()
      await page.locator('.sheet').waitFor()
      expect([name, await barriers()]).toEqual([name, []])
    }
    await page.locator('.bench-tools').getByRole('button', { name: 'Keys' }).click()
    expect(window.faults).toEqual([])
  })
})

/// Pieces of the Bench that lie upon each other, "guide / hud"; of a list that rolls, what is in sight.
const overlaps = (): Promise<string[]> =>
  window.page.evaluate(() => {
    const names = ['.stage', '.hud', '.bench-tools', '.edge-reading', '.guide', '.said-here', '.sheet', '.hand-tools', '.time-strip']
    const pieces = names.flatMap((name) =>
      [...document.querySelectorAll(name)].map((piece) => {
        const { left, right, top, bottom } = piece.getBoundingClientRect()
        const list = piece.parentElement?.closest('.edge-readings')?.getBoundingClientRect()
        return { name, left, right, top: Math.max(top, list?.top ?? top), bottom: Math.min(bottom, list?.bottom ?? bottom) }
      }),
    )
    return pieces.flatMap((a, i) =>
      pieces
        .slice(i + 1)
        .filter(
          (b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1,
        )
        .map((b) => `${a.name} / ${b.name}`),
    )
  })

it.each([
  [720, 450],
  [960, 600],
])('the Bench lays nothing upon another piece of it in a window of %i by %i', async (width, height) => {
  const { page } = window
  await page.setViewportSize({ width, height })
  await page.keyboard.press('Alt+Digit3')
  await page.locator('.stage').focus()
  for (const key of ['Home', ']']) await page.keyboard.press(key)
  await expect.poll(() => page.locator('.edge-reading').count()).toBe(2)
  await expect.poll(overlaps).toEqual([])
  for (const name of ['Measures', 'Events', 'View', 'Points', 'Keys']) {
    await page.locator('.bench-tools').getByRole('button', { name }).click()
    await page.getByRole('region', { name }).waitFor()
    expect([name, await overlaps()]).toEqual([name, []])
  }
  await page.getByRole('button', { name: 'Close Keys' }).click()
  expect(await page.locator('.room-body').evaluate((body) => body.scrollWidth - body.clientWidth)).toBeLessThanOrEqual(1)
})
