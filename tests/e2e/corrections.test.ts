import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Release } from '../../app/project/release'
import { dumpProject } from '../../main/store/dump-project'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// Published versions in the Evidence room, by keys: what is otherwise since, with every place that said it and a dated
/// note; and where a measure, an event or a reference is used.

let window: PatternWindow
let page: Page

const release: Release = {
  id: 'release-1',
  film: 'From plant to contact',
  version: '1',
  date: '2026-11-20',
  project: 7,
  files: [],
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  values: [
    {
      measure: 'm1',
      kind: 'frame-count',
      value: '19.5 frames ± 1.5',
      what: 'plant to contact',
      spoken: 'nineteen and a half frames',
      verdict: 'warned',
      number: 19.5,
      U: 1.5,
      low: null,
      high: null,
      unit: 'frames',
      clip: 'c1',
      frame: null,
      parts: [],
      reasons: [],
      events: ['e0', 'e1'],
    },
  ],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 20, latest: 22 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
  ],
  said: [
    {
      as: 'sentence',
      words: 'From plant to contact it takes 19.5 frames ± 1.5.',
      from_s: 492,
      to_s: 495,
      paragraph: 'p1',
      values: ['m1'],
      events: ['e0', 'e1'],
    },
    { as: 'caption', words: 'From plant to contact it takes\n19.5 frames ± 1.5.', from_s: 492, to_s: 495, paragraph: 'p1', values: ['m1'] },
    { as: 'label', words: '19.5 frames ± 1.5 from plant to contact', from_s: 492, to_s: 497, values: ['m1'] },
    {
      as: 'take',
      words: 'from plant to contact it takes nineteen and a half frames',
      from_s: 492,
      to_s: 495,
      paragraph: 'p1',
      take: 'takes/p1.wav',
      values: ['m1'],
    },
    { as: 'card', words: '19.5 frames ± 1.5', from_s: 501, to_s: 503, values: ['m1'] },
    { as: 'sentence', words: 'The rear heel is up.', from_s: 498, to_s: 500, paragraph: 'gone' },
  ],
}

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'From plant to contact',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 20, latest: 22 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
  ],
  measures: [{ id: 'm1', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' }],
  script: [
    { chapter: ['Contact after ', { value: 'm1' }] },
    { id: 'p0', text: ['The finish, once at full speed.'], shots: [{ run: 'c1', from: 0, to: 90, speed: '1' }] },
    {
      id: 'p1',
      text: ['From plant to contact it takes ', { value: 'm1' }, '.', { cite: 'made2020' }],
      shots: [
        { hold: 'c1', at: 40, seconds: '5' },
        { card: 'caution', seconds: '4' },
      ],
    },
    ...Array.from({ length: 30 }, (_, i) => ({ id: `between${i}`, text: ['The gap closes.'] })),
    {
      id: 'p2',
      text: ['Again at ', { cue: 'e1', word: 'contact' }, '.'],
      shots: [
        { hold: 'c1', at: 60, seconds: '3' },
        { card: 'end', seconds: '4' },
      ],
    },
  ],
  references: [
    {
      id: 'made2020',
      csl: {
        type: 'article-journal',
        title: 'Steps and straight punches',
        author: [{ family: 'Made', given: 'Up' }],
        issued: { 'date-parts': [[2020]] },
      },
    },
  ],
  releases: [release],
}

beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 90, rate: '30' } }, breakdown })
  ;({ page } = window)
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write'])
  await page.getByRole('button', { name: 'Evidence' }).click()
  await page.getByText('all as it said').waitFor()
})
afterAll(async () => window?.close())

const kept = (): Breakdown => {
  const dumped = dumpProject(join(window.folder, 'test.claimframe'))
  if (!dumped.ok) throw dumped.error
  return dumped.value
}
const look = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], `${name}.png`), fullPage: true })
}
const versions = () => page.getByRole('list', { name: 'Versions' })
const toEvidence = async (key: string): Promise<void> => {
  await page.keyboard.press('Alt+5')
  await page.getByRole('heading', { name: 'Where it is used' }).waitFor()
  await page.locator('body').press(key)
}

/// Moves the first frame on which an event can have been.
async function widen(earliest: number): Promise<void> {
  const state = (await ask(page, 'project.state', {})) as { version: number; replica: { events: { id: string; earliest: number }[] } }
  const from = state.replica.events.find(({ id }) => id === 'e1')!
  await ask(page, 'edit.apply', {
    edit: {
      id: `widen-${earliest}`,
      label: 'Widen contact',
      group: null,
      steps: [],
      diffs: [{ table: 'events', key: 'e1', change: 'updated', from, to: { ...from, earliest } }],
      selection: null,
      base: state.version,
    },
  })
}

it('should tell what is otherwise since a version went out, with every sentence, caption, label, take and card that said it', async () => {
  await widen(30)
  await versions().getByText('2 things have changed since').waitFor()
  const value = page.getByRole('list', { name: /^Where version 1 said 19.5 frames/ })
  const rows = await value.getByRole('button').allInnerTexts()
  expect(rows.map((row) => row.split('\n').slice(0, 2))).toEqual([
    ['8:12', 'sentence'],
    ['8:12', 'caption'],
    ['8:12', 'label'],
    ['8:12', 'take'],
    ['8:21', 'card'],
  ])
  expect(
    await page
      .getByRole('list', { name: /^Where version 1 said contact: frames 40 to 41/ })
      .getByRole('button')
      .count(),
  ).toBe(5)
  // What stands in no paragraph of today's script goes nowhere.
  expect(await value.getByRole('button').evaluateAll((buttons) => buttons.map((button) => (button as HTMLButtonElement).disabled))).toEqual(
    [false, false, false, false, true],
  )
  expect(await barriersOn(page)).toEqual([])
  await look('versions')
})

it('should copy the dated note, keep it as it is worded, and put it into the next description, all by keys', async () => {
  const words = versions().getByRole('textbox')
  const drafted = await words.inputValue()
  expect(drafted).toMatch(
    /^Correction, \d{4}-\d\d-\d\d, to “From plant to contact” \(version 1, 2026-11-20\)\.\nAt 8:12: we said 19\.5 frames ± 1\.5 \(plant to contact\); it is now /,
  )
  expect(drafted).toContain('contact: frames 40 to 41; it is now contact: frames 30 to 41.')
  await page.locator('body').press('v')
  await page.keyboard.press('y')
  await page.getByText('The note is copied.').waitFor()
  expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(drafted)
  await page.keyboard.press('n')
  await page.keyboard.press('Control+End')
  await page.keyboard.type('\nThe first frame of contact was marked too late.')
  await page.keyboard.press('Escape')
  await expect
    .poll(() => kept().corrections?.map(({ state, note }) => [state, note]))
    .toEqual([['draft', `${drafted}\nThe first frame of contact was marked too late.`]])
  await versions().getByText('1 note').waitFor()
  await page.keyboard.press('p')
  await expect.poll(() => kept().corrections?.map(({ state }) => state)).toEqual(['published'])
  // The version itself stays as it was published.
  expect(kept().releases).toEqual([release])
  await page.keyboard.press('Alt+6')
  await expect.poll(() => page.getByLabel('The description').inputValue()).toContain('Corrections\nCorrection, ')
  const description = await page.getByLabel('The description').inputValue()
  expect(description).toContain('we said 19.5 frames ± 1.5 (')
  expect(description).toContain('The first frame of contact was marked too late.')
})

it('should tell again what has changed since the note, also when it is as first published', async () => {
  await widen(35)
  await toEvidence('v')
  await versions().getByText('2 things have changed since').waitFor()
  expect(await versions().getByRole('textbox').first().inputValue()).toContain(
    'it rested on contact: frames 30 to 41; it is now contact: frames 35 to 41.',
  )
  await widen(40)
  await expect
    .poll(() => versions().getByRole('textbox').first().inputValue())
    .toContain('it is now contact: frames 40 to 41, as first published.')
})

it('should list where a measure, an event and a reference are used, and go there by keys', async () => {
  await page.locator('body').press('u')
  const listed = async (): Promise<string[][]> =>
    (
      await page
        .getByRole('list', { name: /^Where .* is used$/ })
        .getByRole('button')
        .allInnerTexts()
    ).map((row) => row.split('\n').filter((part) => part !== ''))
  await expect.poll(listed).toEqual([
    ['chapter', 'Contact after 19.5 frames ± 1.5'],
    ['sentence', 'From plant to contact it takes 19.5 frames ± 1.5.'],
    ['caption', 'From plant to contact it takes 19.5 frames ± 1.5.'],
  ])
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowDown')
  await expect
    .poll(async () => (await listed()).map(([kind, words]) => `${kind}: ${words}`))
    .toEqual([
      'sentence: Again at contact.',
      'measure: plant to contact, ringside',
      'chapter: Contact after 19.5 frames ± 1.5 by plant to contact, ringside',
      'sentence: From plant to contact it takes 19.5 frames ± 1.5. by plant to contact, ringside',
      'caption: From plant to contact it takes 19.5 frames ± 1.5. by plant to contact, ringside',
    ])
  expect(await page.getByRole('list', { name: 'Where version 1 used contact' }).getByRole('button').count()).toBe(5)
  await page.keyboard.press('End')
  await expect.poll(async () => (await listed()).map(([kind]) => kind)).toEqual(['sentence'])
  await look('where-used')
  expect(await barriersOn(page)).toEqual([])
  await page.keyboard.press('ArrowUp')
  await page.keyboard.press('ArrowRight')
  await expect.poll(() => page.evaluate(() => document.activeElement?.classList.contains('place'))).toBe(true)
  await page.keyboard.press('Enter')
  await expect.poll(() => page.locator('.room[aria-current]').innerText()).toBe('Script')
  await expect
    .poll(() =>
      page.locator('p[data-paragraph="p2"]').evaluate((node) => {
        const [box, hand] = [node.getBoundingClientRect(), document.querySelector('.hand-band')?.getBoundingClientRect()]
        return box.top > 0 && box.bottom <= innerHeight + 1 && hand !== undefined && hand.top <= box.top && hand.bottom >= box.bottom
      }),
    )
    .toBe(true)
  await toEvidence('u')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('b')
  await expect.poll(() => page.locator('.room[aria-current]').innerText()).toBe('Bench')
  expect(window.faults).toEqual([])
})
