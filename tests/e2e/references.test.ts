import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { dumpProject } from '../../main/store/dump-project'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'
import { keyHand } from './hand'

/// References in the Evidence room: corrected while sentences cite them, noted with setting, population and limits, entered
/// as books, chapters and web pages, and removed with the sentences that name them read out; by pointer and by keys.

let window: PatternWindow
let page: Page

const SAID = 'A quick stretch before a muscle shortens can add to its force.'
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'One step',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 60, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  references: [
    {
      id: 'made2020',
      csl: {
        type: 'article-journal',
        title: 'Stretch and jump',
        author: [
          { family: 'Berg', 'non-dropping-particle': 'van den', given: 'Ada' },
          { family: 'Made', given: 'Up' },
        ],
        issued: { 'date-parts': [[2020, 4]] },
        'container-title': 'Journal of Invented Studies',
        note: 'kept',
      },
    },
  ],
  claims: [
    {
      id: 'k1',
      on: { part: 'sentence', paragraph: 'p2', words: 'So do other muscles.' },
      classes: ['F'],
      evidence: [{ reference: 'made2020', at: 'p. 12' }],
      state: 'confirmed',
    },
  ],
  script: [
    {
      id: 'p1',
      text: [SAID, { cite: 'made2020' }],
      shots: [
        { run: 'c1', from: 0, to: 60, speed: '1' },
        { card: 'caution', seconds: '1' },
      ],
    },
    {
      id: 'p2',
      text: ['So do other muscles.'],
      shots: [
        { hold: 'c1', at: 20, seconds: '2' },
        { card: 'end', seconds: '1' },
      ],
    },
  ],
}

beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 60, rate: '30' } }, breakdown })
  ;({ page } = window)
  await page.getByRole('button', { name: 'Evidence' }).click()
  await row().waitFor()
})
afterAll(async () => window?.close())

const row = (): Locator => page.locator('.reference').first()
const rests = (): Locator => page.getByRole('group', { name: 'What stands behind it' })
const kept = (): Breakdown => {
  const dumped = dumpProject(join(window.folder, 'test.claimframe'))
  if (!dumped.ok) throw dumped.error
  return dumped.value
}
const take = async (words: string): Promise<void> => {
  await page.getByRole('list', { name: 'What the film says' }).getByText(words).click()
}
const look = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], `${name}.png`) })
}

it('should say of a reference that a sentence leans on what is not noted of it, until it is', async () => {
  await take(SAID)
  const open = page.getByText('it leans on van den Berg and Made 2020, of which it is not noted in whom it was found and how far it holds')
  await open.waitFor()
  await rests().getByText('in whom and how far it holds is not said').waitFor()
  await row().getByLabel('in whom').fill('14 volleyball players')
  await row().getByLabel('how far it holds').fill('jumps, at group level')
  await page.keyboard.press('Tab')
  await expect.poll(() => open.count()).toBe(0)
  // The boxes by keys, one after the other: the hand stays where it is.
  await row().getByLabel('in a laboratory').focus()
  await page.keyboard.press('Space')
  await page.keyboard.press('Tab')
  await page.keyboard.press('Space')
  await expect
    .poll(() => kept().references?.[0])
    .toMatchObject({ population: '14 volleyball players', limits: 'jumps, at group level', setting: ['laboratory', 'other-sport'] })
  await rests().getByText('in a laboratory, in another sport').waitFor()
  await look('reference-noted')
  expect(await barriersOn(page)).toEqual([])
})

it('should correct one that is cited, by keys: all that cites it follows, in one edit that undo takes back', async () => {
  const keys = keyHand(page)
  await page.locator('body').press('r')
  await expect
    .poll(() =>
      row()
        .getByRole('button', { name: /^correct/ })
        .evaluate((node) => node === document.activeElement),
    )
    .toBe(true)
  await page.keyboard.press('Enter')
  const form = page.getByRole('form', { name: 'Correct van den Berg and Made 2020' })
  await form.waitFor()
  await keys.fill(form.getByLabel('year'), 'soon')
  await page.keyboard.press('Enter')
  await form.getByRole('alert').waitFor()
  await keys.fill(form.getByLabel('year'), '2021')
  await keys.fill(form.getByLabel('pages'), '9–15')
  await look('reference-corrected')
  expect(await barriersOn(page)).toEqual([])
  await page.keyboard.press('Enter')
  await row().getByText('van den Berg A, Made U (2021). Stretch and jump. Journal of Invented Studies, 9–15').waitFor()
  // The item as it was given, but for what was typed.
  expect(kept().references?.[0]).toMatchObject({
    id: 'made2020',
    population: '14 volleyball players',
    csl: { note: 'kept', author: [{ 'non-dropping-particle': 'van den' }, {}], issued: { 'date-parts': [[2021]] }, page: '9–15' },
  })
  await rests().getByText('(2021)').waitFor()
  await page.keyboard.press('Alt+1')
  await page.locator('.cite').getByText('van den Berg and Made 2021').waitFor()
  await page.keyboard.press('Alt+5')
  await page.keyboard.press('Control+z')
  await row().getByText('van den Berg A, Made U (2020). Stretch and jump. Journal of Invented Studies', { exact: true }).waitFor()
  await page.keyboard.press('Control+Shift+z')
  await row().getByText('(2021). Stretch and jump.').waitFor()
})

it('should take books, chapters and web pages, by hand and as BibTeX', async () => {
  await page.getByRole('button', { name: 'Enter one by hand …' }).click()
  const form = page.getByRole('form', { name: 'A new reference' })
  await form.getByLabel('kind of work').selectOption('chapter of a book')
  await form.getByLabel('authors').fill('Okafor, Ada; Lind, B.')
  await form.getByLabel('year').fill('2019')
  await form.getByLabel('title').fill('Turning from the floor')
  await form.getByLabel('editors').fill('Made, Up')
  await form.getByLabel('book', { exact: true }).fill('Movement in the ring')
  await form.getByLabel('pages').fill('10–19')
  await look('reference-chapter')
  await form.getByRole('button', { name: 'Add it' }).click()
  await page
    .locator('.reference')
    .getByText('Okafor A, Lind B (2019). Turning from the floor. In Made U (ed.), Movement in the ring, 10–19')
    .waitFor()
  await page
    .getByLabel('BibTeX or CSL-JSON')
    .fill(
      '@online{rules, author={Made, Up}, title={Rules of the ring}, year={2024}, url={https://example.org/rules}, urldate={2026-11-02}}\n@book{book1, author={Lind, B.}, title={Standing up}, edition={2}, publisher={Invented Press}, year={2011}}',
    )
  await page.getByRole('button', { name: 'Read and add' }).click()
  await page.locator('.reference').getByText('Made U (2024). Rules of the ring. https://example.org/rules, seen 2026-11-02').waitFor()
  await page.locator('.reference').getByText('Lind B (2011). Standing up. 2nd edition, Invented Press').waitFor()
  // One that nothing names goes at once.
  await page.getByRole('button', { name: 'remove Lind 2011' }).click()
  await expect.poll(() => kept().references?.length).toBe(3)
  await expect.poll(() => page.locator('.reference').count()).toBe(3)
})

it('should read out which sentences lean on one before it goes, hold the film back while they do, and bring it back whole', async () => {
  await page.getByRole('button', { name: 'remove van den Berg and Made 2021' }).click()
  const dialog = page.getByRole('dialog', { name: 'Remove van den Berg and Made 2021?' })
  const open = async (): Promise<number> => Number(/(\d+) open/.exec(await page.locator('.claim-counts').innerText())?.[1] ?? 0)
  const before = await open()
  expect(await dialog.getByRole('listitem').allInnerTexts()).toEqual([SAID, 'So do other muscles.'])
  await look('reference-removed')
  expect(await barriersOn(page)).toEqual([])
  await page.keyboard.press('Escape')
  expect(kept().references).toHaveLength(3)
  await page.getByRole('button', { name: 'remove van den Berg and Made 2021' }).click()
  await dialog.getByRole('button', { name: 'Remove it' }).click()
  await expect.poll(open).toBe(before + 2)
  await take('So do other muscles.')
  await page.locator('.claim.in-hand').getByText('it cites the reference made2020, which is not there').waitFor()
  await rests().getByText('made2020 is not there any more: take it away, or put another in its place').waitFor()
  const { references, claims, script } = kept()
  expect([references?.map(({ id }) => id), claims?.[0]?.evidence, JSON.stringify(script).includes('made2020')]).toEqual([
    ['ref2', 'rules'],
    [{ reference: 'made2020', at: 'p. 12' }],
    true,
  ])
  await page.keyboard.press('Control+z')
  await expect.poll(open).toBe(before)
  expect(kept().references?.map(({ id }) => id)).toEqual(['made2020', 'ref2', 'rules'])
  expect(window.faults).toEqual([])
})
