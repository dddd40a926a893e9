import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openPatternWindow, type PatternWindow } from '../pattern-window'

/// Fields whose value is set by Enter, or as the hand leaves, while the answer is held back: a quick hand loses no letter, and
/// what was refused does not stay.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown', version: 1, title: 'Two hands', output: { width: 320, height: 240, rate: '30/1' },
  footage: [{ id: 'f1', file: 'one.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 20, capture: { factor: '1', u: 0 }, name: 'first' }],
  events: [{ id: 'e1', clip: 'c1', name: 'contact', earliest: 4, latest: 5, definition: 'The glove is there.' }],
  script: [{ id: 'p1', text: ['She waits.'], shots: [{ card: 'text', lines: ['One'], seconds: '4' }] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({ films: { 'one.mp4': { frames: 20, rate: '30', width: 320, height: 240 } }, breakdown })
  page = window.page
})
afterAll(async () => window?.close())

const tables = () => window.engine.workspace.opened.project.state.tables
const called = (): string[] => [...tables().subjects.list()].map(({ name }) => name)
const who = (): Locator => page.getByRole('textbox', { name: 'On film', exact: true })

/// Holds back the answers to edits that are made in `during`, and lets them go behind it.
async function held(during: () => Promise<void>): Promise<void> {
  let letGo = (): void => undefined
  const gate = new Promise<void>((done) => (letGo = done))
  let waiting = 0
  await page.route('**/call/edit.apply', async (route) => {
    waiting++
    await gate
    await route.continue()
  })
  try {
    await during()
    await expect.poll(() => waiting).toBeGreaterThan(0)
  } finally {
    letGo()
    await page.getByText('all saved').waitFor()
    await page.unroute('**/call/edit.apply')
  }
}

it('should keep what is typed behind Enter in a field, and set it against what arrived', async () => {
  await page.getByRole('button', { name: 'Footage', exact: true }).click()
  await held(async () => {
    await who().fill('Ida Koss')
    await page.keyboard.press('Enter')
    await page.keyboard.type('-Lind')
  })
  expect(called()).toEqual(['Ida Koss'])
  expect(await who().inputValue()).toBe('Ida Koss-Lind')
  await page.keyboard.press('Escape')
  await expect.poll(() => who().inputValue()).toBe('Ida Koss')
  await page.keyboard.type('-Varga')
  await page.keyboard.press('Tab')
  await expect.poll(called).toEqual(['Ida Koss-Varga'])
  await page.getByText('all saved').waitFor()
  expect(await who().inputValue()).toBe('Ida Koss-Varga')
})

it('should not go on showing what was refused', async () => {
  await page.route('**/call/edit.apply', (route) => route.fulfill({ json: { ok: false, error: { code: 'disk-full', message: 'The disk is full.', parameters: {} } } }))
  for (const key of ['Enter', 'Tab']) {
    await who().fill('Ada Lindqvist')
    await page.keyboard.press(key)
    await page.getByText('The disk is full.').waitFor()
    await expect.poll(() => who().inputValue()).toBe('Ida Koss-Varga')
  }
  await page.unroute('**/call/edit.apply')
  expect(called()).toEqual(['Ida Koss-Varga'])
})

/// Words that are set as the hand leaves, and typed on before they have arrived.
async function typedOn(field: Locator, kept: () => string | undefined): Promise<void> {
  await held(async () => {
    await field.fill('Set')
    await field.blur()
    await field.focus()
    await page.keyboard.press('End')
    await page.keyboard.type(' on')
  })
  await expect.poll(kept).toBe('Set')
  await page.getByText('all saved').waitFor()
  expect(await field.inputValue()).toBe('Set on')
  await page.keyboard.type('ward')
  await field.blur()
  await expect.poll(kept).toBe('Set onward')
}

it('should keep what is typed on in the words of a card and in what an event means', async () => {
  await page.getByRole('button', { name: 'Script', exact: true }).click()
  await page.locator('.words p').first().click()
  await page.getByRole('button', { name: 'Change', exact: true }).click()
  await typedOn(page.getByLabel('Lines, one below the other'), () => {
    const [shot] = tables().paragraphs.get('p1')?.shots ?? []
    return shot && 'card' in shot ? shot.lines?.join('|') : undefined
  })
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.stage').focus()
  await page.keyboard.press('e')
  await typedOn(page.getByLabel('What contact means'), () => tables().events.get('e1')?.definition)
  expect(window.faults).toEqual([])
})

it('should take one name after the other on the shelf while the first is on its way', async () => {
  await page.getByRole('button', { name: 'Footage', exact: true }).click()
  const field = page.getByLabel('And who else')
  await held(async () => {
    await field.fill('Mara Holt')
    await page.keyboard.press('Enter')
    await page.keyboard.type('Ada Lind')
  })
  await page.getByLabel('Also on film, 2').waitFor()
  expect(await field.inputValue()).toBe('Ada Lind')
  await page.keyboard.type('qvist')
  await page.keyboard.press('Enter')
  await expect.poll(called).toEqual(['Ida Koss-Varga', 'Mara Holt', 'Ada Lindqvist'])
  expect(window.faults).toEqual([])
})
