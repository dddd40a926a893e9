import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { dumpProject } from '../../main/store/dump-project'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// The Evidence room in a real browser: classes by letter, confirming one and all, evidence, letting stand,
/// references, and hostile text that stays text.

const HOSTILE = '<img src=x onerror="document.title=1"> {\\an5} =1+1 \u202Eabc'
let window: PatternWindow
let folder: string
let page: Page

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: HOSTILE,
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 60, capture: { factor: '1', u: 0 }, name: 'ringside' },
    {
      id: 'c2',
      footage: 'f1',
      from: 0,
      to: 30,
      capture: 'unknown',
      name: 'from the stands',
      use: { state: 'rejected', reason: 'the feet are hidden' },
    },
  ],
  measures: [
    { id: 'm1', kind: 'by-eye', label: 'rear knee', clip: 'c1', frame: 20, what: 'rear knee', value: 140, unit: '°' },
    { id: 'm2', kind: 'by-eye', label: 'lead knee', clip: 'c1', frame: 20, what: 'lead knee', value: 150, unit: '°' },
    {
      id: 'n1',
      kind: 'count',
      what: 'heel up',
      set: 'both clips of the evening',
      cases: [
        { clip: 'c1', holds: true },
        { clip: 'c2', holds: null, note: 'hidden' },
      ],
    },
  ],
  script: [
    {
      id: 'p1',
      text: ['The rear heel is up. The power comes from the floor. He wanted the counter all along. He always does this.'],
      shots: [{ hold: 'c1', at: 20, seconds: '2' }],
    },
    { id: 'p2', text: [`${HOSTILE}. ${'word '.repeat(2000)}end.`], shots: [{ card: 'caution', seconds: '1' }] },
  ],
}

beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 60, rate: '30' } }, breakdown })
  ;({ folder, page } = window)
  await page.getByRole('button', { name: 'Evidence' }).click()
  await page.getByText('open: the film is held back').waitFor()
})
afterAll(async () => window?.close())

const kept = (): Breakdown => {
  const dumped = dumpProject(join(folder, 'test.claimframe'))
  if (!dumped.ok) throw dumped.error
  return dumped.value
}
const rows = () => page.getByRole('list', { name: 'What the film says' })
const take = async (words: string): Promise<void> => {
  await rows().getByText(words).click()
  await rows().focus()
}

it('should count every sentence in its tally, and name medical ones with their class and what is asked of them', async () => {
  const tally = (): Promise<string> => page.locator('.claim-counts').innerText()
  expect(await tally()).not.toContain('medical')
  await take('The rear heel is up.')
  await page.keyboard.press('j')
  await expect.poll(tally).toContain('1 medical (class J; asked of each: a public medical statement, as a reference)')
  const told = [
    ...(await tally()).matchAll(/(\d+)\s+(said|measured or shown|cited or cause|medical|intent|opinion|about the film, or advice)/gu),
  ]
  const [said, ...groups] = told.map(([, count]) => Number(count))
  expect(groups.reduce((sum, count) => sum + count, 0)).toBe(said)
  expect(await barriersOn(page)).toEqual([])
  await page.keyboard.press('j')
  await expect.poll(tally).not.toContain('medical')
})

it('should say when the film says each sentence, and of what is not spoken no time', async () => {
  const timeOf = (words: string): Promise<string> =>
    rows().getByRole('listitem').filter({ hasText: words }).locator('.claim-time').innerText()
  await expect.poll(() => timeOf('The rear heel is up.')).toMatch(/^\d:\d\d$/)
  const seconds = async (words: string): Promise<number> => {
    const [minutes, rest] = (await timeOf(words)).split(':').map(Number)
    return 60 * minutes! + rest!
  }
  expect(await seconds('The power comes from the floor.')).toBeGreaterThan(await seconds('The rear heel is up.'))
  expect(await rows().getByRole('listitem').first().locator('.claim-time').innerText()).toBe('')
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'claim-times.png') })
})

it('should confirm the sentence in hand with one key, and all that nothing is open on with another', async () => {
  await take('The rear heel is up.')
  await page.keyboard.press('Enter')
  await expect
    .poll(() => kept().claims?.map(({ on, classes, state }) => [on.words, classes.join(''), state]))
    .toEqual([['The rear heel is up.', 'A', 'confirmed']])
  await page.keyboard.press('Shift+Enter')
  await expect.poll(() => kept().claims?.some(({ on }) => on.part === 'title')).toBe(true)
  expect(kept().claims?.some(({ on }) => on.words.includes('power'))).toBe(false)
})

it('should close findings by what the sentence rests on, by another class, or by letting them stand with a reason', async () => {
  await take('The power comes from the floor.')
  await page.keyboard.press('o')
  await expect.poll(() => kept().claims?.find(({ on }) => on.words.includes('power'))?.evidence).toEqual(['opinion'])
  await take('He always does this.')
  await page.getByRole('button', { name: 'let it stand …' }).first().click()
  await page.getByLabel('Why it is let stand').fill('Said of these two clips alone.')
  await page.keyboard.press('Enter')
  await expect
    .poll(() => kept().overrides?.map(({ finding, reason }) => [finding, reason]))
    .toEqual([['count-missing', 'Said of these two clips alone.']])
  await take('He wanted the counter all along.')
  await page.keyboard.press('a')
  await page.keyboard.press('i')
  await expect.poll(() => kept().claims?.find(({ on }) => on.words.includes('wanted'))?.classes).toEqual(['A'])
  await rows().getByText('Class changed by hand: the rules suggest intent, stated as observed (the analyst, ').waitFor()
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'class-by-hand.png') })
  // What is claimed holds nothing back any more; the notices do, here as in the Release room.
  await page.getByText('the film has no end card').waitFor()
  await expect.poll(() => page.locator('.claim-counts .open-mark').innerText()).toBe('2 open: the film is held back')
})

it('should rest a sentence on any frame of a clip, on two readings, or on an earlier film', async () => {
  const evidence = () => kept().claims?.find(({ on }) => on.words === 'The rear heel is up.')?.evidence
  const what = page.getByLabel('What it rests on')
  await take('The rear heel is up.')
  await what.selectOption('frame')
  const frame = page.getByRole('form', { name: 'A frame of a clip' })
  await frame.getByLabel('frame').fill('60')
  expect(await frame.getByRole('button', { name: 'Add' }).isDisabled()).toBe(true)
  await frame.getByLabel('frame').fill('33')
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'evidence-frame.png') })
  await page.keyboard.press('Enter')
  await expect.poll(evidence).toEqual([{ frame: 33, clip: 'c1' }])
  // The keys go on at the list, not at the page's body.
  const isAtList = (): Promise<boolean> => what.evaluate((list) => list === document.activeElement)
  await expect.poll(isAtList).toBe(true)
  await what.selectOption('readings')
  await page.keyboard.press('Escape')
  expect(await isAtList()).toBe(true)
  await what.selectOption('readings')
  await page.getByRole('form', { name: 'Two readings' }).getByRole('button', { name: 'Add' }).click()
  await expect.poll(evidence).toEqual([{ frame: 33, clip: 'c1' }, { readings: ['m1', 'm2'] }])
  await what.selectOption('film')
  const film = page.getByRole('form', { name: 'An earlier film' })
  await film.getByLabel('film').fill('The step')
  await film.getByLabel('at', { exact: true }).fill('8:12')
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'evidence-film.png') })
  await page.keyboard.press('Enter')
  await expect.poll(evidence).toEqual([{ frame: 33, clip: 'c1' }, { readings: ['m1', 'm2'] }, { film: 'The step', at: '8:12' }])
  await what.selectOption({ label: 'my view (O)' })
  await page.locator('.claim.in-hand').getByRole('button', { name: 'Add', exact: true }).click()
  await expect.poll(() => evidence()?.at(-1)).toBe('opinion')
  expect(await isAtList()).toBe(true)
  await page.getByRole('button', { name: 'take away: frame' }).click()
  await expect.poll(() => evidence()?.[0]).toEqual({ readings: ['m1', 'm2'] })
  expect(await rows().evaluate((list) => list === document.activeElement)).toBe(true)
  expect(await barriersOn(page)).toEqual([])
})

it('should add references from BibTeX, and show hostile text as text', async () => {
  await page
    .getByLabel('BibTeX or CSL-JSON')
    .fill(`@article{made2020, author={Made, Up}, title={${HOSTILE.replaceAll(/[{}\\]/g, '')}}, journal={Journal}, year={2020}}`)
  await page.getByRole('button', { name: 'Read and add' }).click()
  await page.locator('.reference').getByText('Made U (2020)').waitFor()
  expect(await page.getByLabel('What it rests on').locator('option').allInnerTexts()).toEqual(
    expect.arrayContaining(['reading rear knee', 'reference Made 2020']),
  )
  expect(await page.locator('.evidence img').count()).toBe(0)
  expect(await page.title()).not.toBe('1')
  expect(await rows().getByText('<img src=x', { exact: false }).count()).toBeGreaterThan(0)
  expect(window.faults).toEqual([])
})

it('should show the markup of a reference’s title as the style that it stands for', async () => {
  await page
    .getByLabel('BibTeX or CSL-JSON')
    .fill(JSON.stringify({ type: 'book', title: 'Force <i>in vivo</i>, <b onclick=x>10<sup>-3</sup>', author: [{ family: 'Made' }] }))
  await page.getByRole('button', { name: 'Read and add' }).click()
  const printed = page.locator('.reference').filter({ hasText: 'Force in vivo, <b onclick=x>10-3' })
  await printed.waitFor()
  expect(await printed.locator('sup').allInnerTexts()).toEqual(['-3'])
  expect(await printed.getByText('in vivo', { exact: true }).evaluate((node) => getComputedStyle(node).fontStyle)).toBe('italic')
})

it('should say that a sentence was typed over, give what it had to the new one, or let it go', async () => {
  const said = kept().script[0] as { text: string[] }
  const words = said.text[0]!
  const { version } = (await ask(page, 'project.state', {})) as { version: number }
  await ask(page, 'edit.apply', {
    edit: {
      id: 'typed-over',
      label: 'Typing',
      group: null,
      diffs: [],
      selection: null,
      base: version,
      steps: [{ stepType: 'replace', from: 1, to: 1 + words.length, slice: { content: [{ type: 'text', text: 'Look here.' }] } }],
    },
  })
  const now = rows().getByText('Look here.')
  await now.click()
  await page
    .getByText('“The rear heel is up.” was confirmed as observed, with what it rests on; other words stand in its place', { exact: false })
    .waitFor()
  await page.getByText('claims whose words are gone').click()
  const gone = page.getByRole('list', { name: 'Claims whose words are gone' })
  const before = await gone.getByRole('listitem').count()
  await gone
    .getByRole('listitem')
    .filter({ hasText: 'The rear heel is up.' })
    .getByRole('button', { name: 'Give it to the sentence in hand' })
    .click()
  await expect.poll(() => kept().claims?.find(({ on }) => on.words === 'Look here.')).toMatchObject({ classes: ['A'], state: 'suggested' })
  await expect.poll(() => gone.getByRole('listitem').count()).toBe(before - 1)
  await gone.getByRole('button', { name: 'Let it go' }).first().click()
  await expect.poll(() => gone.getByRole('listitem').count()).toBe(before - 2)
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'lost-claims.png') })
})

it('should tell how it was measured, what was counted over which set, and which clips were left out and why', async () => {
  await page.getByRole('heading', { name: 'How it was measured' }).scrollIntoViewIfNeeded()
  expect(await page.getByRole('region', { name: 'What was counted' }).getByRole('listitem').innerText()).toBe(
    'heel up: 1 of 1, 1 not usable\nLooked at: both clips of the evening\nringside: seen; from the stands: not usable (hidden)',
  )
  expect(await page.getByRole('region', { name: 'Clips that were left out' }).getByRole('listitem').innerText()).toBe(
    'from the stands\nthe feet are hidden',
  )
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'room-parts.png') })
})

it('should say why what the script claims cannot be read, and read it when asked again', async () => {
  const refuse = (): Promise<unknown> =>
    page.route('**/call/claims.list', (route) =>
      route.fulfill({ json: { ok: false, error: { code: 'disk-full', message: 'The disk is full.', parameters: {} } } }),
    )
  const told = page.getByRole('alert').filter({ hasText: 'What the script claims' })
  await refuse()
  await page.reload()
  await page.getByRole('button', { name: 'Evidence' }).click()
  await told.getByText('What the script claims cannot be shown. The disk is full.').waitFor()
  expect(await page.getByText('Reading what the script claims').count()).toBe(0)
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'claims-refused.png') })
  await page.unroute('**/call/claims.list')
  await told.getByRole('button', { name: 'Ask again' }).click()
  await rows().waitFor()
  expect(await told.count()).toBe(0)
  await refuse()
  await rows().focus()
  await page.keyboard.press('o')
  await told.getByText('is shown as it was last read; it could not be read again. The disk is full.').waitFor()
  expect(await rows().getByRole('listitem').count()).toBeGreaterThan(0)
  await page.unroute('**/call/claims.list')
  await told.getByRole('button', { name: 'Ask again' }).click()
  await told.waitFor({ state: 'detached' })
})

it('should hold no barrier that axe knows of', async () => {
  expect(await barriersOn(page)).toEqual([])
})
