import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { held as heldAnswers } from './held-answers'

/// Fields whose value is set by Enter, or as the hand leaves, and boxes and lists whose value is set by choosing, while the answer
/// is held back: a quick hand loses no letter, what is chosen stands at once, and what was refused does not stay.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two hands',
  output: { width: 320, height: 240, rate: '30/1' },
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

const held = (during: () => Promise<unknown>): Promise<void> => heldAnswers(page, during)

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

const FULL = 'The disk is full.'
const refuse = (): Promise<unknown> =>
  page.route('**/call/edit.apply', (route) =>
    route.fulfill({ json: { ok: false, error: { code: 'disk-full', message: FULL, parameters: {} } } }),
  )
const refuseNoMore = (): Promise<void> => page.unroute('**/call/edit.apply')

/// Chooses what is refused: it is said why, and no longer shown as chosen.
async function refused(choose: () => Promise<unknown>): Promise<void> {
  const said = page.getByRole('alert').filter({ hasText: FULL })
  for (const read of await said.getByRole('button').all()) await read.evaluate((button) => (button as HTMLElement).click())
  await said.waitFor({ state: 'detached' })
  await refuse()
  await choose()
  await said.waitFor({ state: 'attached' })
  await refuseNoMore()
}

it('should not go on showing what was refused', async () => {
  await refuse()
  for (const key of ['Enter', 'Tab']) {
    await who().fill('Ada Lindqvist')
    await page.keyboard.press(key)
    await page.getByText(FULL).waitFor()
    await expect.poll(() => who().inputValue()).toBe('Ida Koss-Varga')
  }
  await refuseNoMore()
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

it('should take the next film’s place while one is being added, and give back one that was refused to be put right', async () => {
  await page.getByRole('button', { name: 'Footage', exact: true }).click()
  const field = page.getByRole('textbox', { name: 'Add a film' })
  let letGo = (): void => undefined
  const gate = new Promise<void>((done) => (letGo = done))
  await page.route('**/call/footage.add', async (route) => {
    await gate
    await route.continue()
  })
  await field.fill('first.mp4')
  await page.keyboard.press('Enter')
  await page.getByText('adding first.mp4 …').waitFor()
  await page.keyboard.type('second.mp4')
  letGo()
  await page.getByRole('alert').filter({ hasText: 'first.mp4' }).waitFor()
  await page.unroute('**/call/footage.add')
  expect(await field.inputValue()).toBe('second.mp4')
  await page.keyboard.press('Enter')
  await page.getByRole('alert').filter({ hasText: 'second.mp4' }).waitFor()
  await expect.poll(() => field.inputValue()).toBe('second.mp4')
  await field.fill('')
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

const clipForm = (): Locator => page.getByRole('form', { name: 'Clip first' })
const isBusy = (form: Locator): Promise<void> => expect.poll(() => form.getAttribute('aria-busy')).toBe('true')

it('should take no keys in a form between its button and the answer, and send it once', async () => {
  await page.getByRole('button', { name: 'Change first', exact: true }).click()
  const before = window.engine.workspace.opened.project.state.version
  await clipForm().getByLabel('Technique').fill('cross')
  await held(async () => {
    await page.keyboard.press('Enter')
    await isBusy(clipForm())
    await page.keyboard.type('counter')
    await page.keyboard.press('Enter')
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('FORM')
    expect(await clipForm().locator('input[name="technique"]').inputValue()).toBe('cross')
  })
  await clipForm().waitFor({ state: 'detached' })
  expect(tables().clips.get('c1')?.technique).toBe('cross')
  expect(window.engine.workspace.opened.project.state.version).toBe(before + 1)
})

it('should leave a form as it was filled in where it was refused, with the focus where it was', async () => {
  await page.getByRole('button', { name: 'Change first', exact: true }).click()
  await refuse()
  await clipForm().getByLabel('Bout').fill('the final')
  await page.keyboard.press('Enter')
  await page.getByText(FULL).waitFor()
  await refuseNoMore()
  await expect.poll(() => page.evaluate(() => (document.activeElement as HTMLInputElement).name)).toBe('bout')
  expect(await clipForm().getByLabel('Bout').inputValue()).toBe('the final')
  await page.keyboard.press('Enter')
  await clipForm().waitFor({ state: 'detached' })
  expect(tables().clips.get('c1')?.bout).toBe('the final')
})

it('should empty a field of references for the next only once they are kept', async () => {
  await page.getByRole('button', { name: 'Evidence', exact: true }).click()
  const field = page.getByLabel('BibTeX or CSL-JSON')
  const text = '@book{b1, author={Lind, B.}, title={Standing up}, publisher={Invented Press}, year={2011}}'
  await field.fill(text)
  const add = page.getByRole('button', { name: 'Read and add' })
  await held(async () => {
    await add.click()
    await isBusy(page.locator('form', { has: page.locator('textarea', { hasText: 'Standing up' }) }))
    await page.keyboard.type('more')
  })
  await expect.poll(() => field.inputValue()).toBe('')
  expect([...tables().references.list()].map(({ csl }) => csl.title)).toEqual(['Standing up'])
  expect(window.faults).toEqual([])
})

it('should show a box as it was ticked from the press on, take it back as quickly, and put it back where that is refused', async () => {
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.stage').focus()
  await page.keyboard.press('v')
  const box = page.getByLabel('it stood still in this clip')
  const kept = () => tables().clips.get('c1')?.hall?.camera
  await held(() => box.check())
  expect([kept(), await box.isChecked()]).toEqual(['still', true])
  await held(async () => {
    await box.uncheck()
    await box.check()
    await box.uncheck()
  })
  expect([kept(), await box.isChecked()]).toEqual([undefined, false])
  await refused(() => box.click())
  await expect.poll(() => box.isChecked()).toBe(false)
  expect(kept()).toBeUndefined()
})

it('should keep boxes that are ticked one after the other, each as it was ticked', async () => {
  await page.getByRole('button', { name: 'Evidence', exact: true }).click()
  const studied = page.getByRole('group', { name: 'studied' })
  await held(async () => {
    for (const setting of ['in a laboratory', 'in another sport']) await studied.getByLabel(setting).check()
  })
  expect(tables().references.list()[0]?.setting).toEqual(['laboratory', 'other-sport'])
  expect(await studied.getByRole('checkbox', { checked: true }).count()).toBe(2)
})

it('should go on in a list from what was chosen last, and keep what was chosen in the list beside it', async () => {
  await page.getByRole('button', { name: 'Two hands' }).click()
  const sheet = page.getByRole('dialog', { name: 'This project' })
  const rate = sheet.getByRole('combobox', { name: 'Frames a second' })
  const size = sheet.getByRole('combobox', { name: 'Picture' })
  await held(async () => {
    await size.selectOption('1280x720')
    await rate.focus()
    for (const shown of ['50/1', '60000/1001']) {
      await page.keyboard.press('ArrowDown')
      expect(await rate.inputValue()).toBe(shown)
    }
    expect(await size.inputValue()).toBe('1280x720')
  })
  expect(window.engine.workspace.opened.project.breakdown().output).toEqual({ width: 1280, height: 720, rate: '60000/1001' })
  await refused(() => size.selectOption('1920x1080'))
  await expect.poll(() => size.inputValue()).toBe('1280x720')
  expect(window.faults).toEqual([])
})
