import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { ask, openPatternWindow, readBench, type PatternWindow } from '../pattern-window'

/// An interlaced film on the Bench: it is said what it is; split on the shelf, each of its fields is stepped to by itself, and an
/// event lies between two fields.

const FIELDS = 60
const SIZE = [640, 480] as const

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Old tape',
  output: { width: 320, height: 240, rate: '25/1' },
  footage: [{ id: 'f1', file: 'tape.mp4', source: { owner: 'Nela Varga' } }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: FIELDS / 2, capture: { factor: '1', u: 0 }, name: 'as it came' }],
  script: [{ id: 'p1', text: ['Fields.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({
    films: {
      'tape.mp4': {
        frames: FIELDS,
        rate: '50',
        width: SIZE[0],
        height: SIZE[1],
        filter: 'interlace=scan=tff:lowpass=0',
        output: ['-crf', '12', '-flags', '+ilme+ildct', '-x264-params', 'tff=1:bframes=0:scenecut=0'],
      },
    },
    breakdown,
  })
  page = window.page
})
afterAll(async () => window?.close())

const shown = (): Promise<number> => readBench(page, SIZE)

it('should say on the Bench that a frame holds two instants, and split the film on the shelf', async () => {
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.hud').getByText('two fields in one').waitFor()
  await page.getByRole('button', { name: 'Footage', exact: true }).click()
  const card = page.getByRole('region', { name: 'tape.mp4' })
  expect(await card.getByLabel('first').inputValue()).toBe('top')
  await card.getByRole('button', { name: 'Split into fields' }).click()
  await page.getByText('Made of the fields of tape.mp4').waitFor()
  const { films } = (await ask(page, 'footage.facts', {})) as { films: { id: string; file: string }[] }
  expect(films.map(({ file }) => file)).toEqual(['tape.mp4', 'footage/tape fields.mp4'])
  const made = page.getByRole('region', { name: 'tape fields.mp4' })
  await made.getByText(`${FIELDS} frames · 50 frames a second`).waitFor()
  expect(await made.getByRole('button', { name: 'Split into fields' }).count()).toBe(0)
})

it('should step from field to field, each named by its frame, at its own time', async () => {
  const made = page.getByRole('region', { name: 'tape fields.mp4' })
  await made.getByRole('button', { name: 'Cut a clip' }).click()
  await made.getByLabel('Name').fill('by fields')
  await made.getByRole('button', { name: 'Keep the clip' }).click()
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.getByLabel('Clip', { exact: true }).selectOption({ label: 'by fields' })
  await page.locator('.stage').focus()
  for (let i = 0; i < 12; i++) {
    await page.locator(`.bench-canvas[data-frame="${i}"][data-detail="full"]`).waitFor({ state: 'attached' })
    expect(await shown()).toBe(i)
    await page
      .locator('.hud')
      .getByText(
        `frame ${i} · ${(i / 50).toFixed(4)} s · tape.mp4 frame ${Math.floor(i / 2)}, ${i % 2 === 0 ? 'first field (upper lines)' : 'second field (lower lines)'}`,
      )
      .waitFor()
    await page.keyboard.press('.')
  }
  expect(window.faults).toEqual([])
})
