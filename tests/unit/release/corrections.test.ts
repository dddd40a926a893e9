import { expect, it } from 'vitest'
import type { Reading } from '../../../app/measure/reading'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Correction, Release, SaidValue } from '../../../app/project/release'
import { answerAt } from '../../../app/release/answer'
import { overtakenReleases } from '../../../app/release/correction-draft'
import { correctionLines } from '../../../app/release/description'
import { saidParagraph } from '../../../app/release/said-paragraph'
import { publishedUsesOf, usesOfEvent, usesOfMeasure } from '../../../app/release/where-used'

/// What corrections say of published versions, and where things are used.

const reading = (id: string, value: string, verdict: Reading['verdict'] = 'good'): Reading => ({
  id,
  kind: 'frame-count',
  clip: 'c1',
  frame: null,
  value: 1,
  u: 1,
  U: 1,
  low: 0,
  high: 2,
  unit: 'frames',
  plane: 'time',
  verdict,
  reasons: [],
  parts: [],
  label: id,
  plate: { value, what: 'plant to contact' },
  spoken: value,
})
const value = (measure: string, said: string): SaidValue => ({
  measure,
  kind: 'frame-count',
  value: said,
  what: 'plant to contact',
  spoken: said,
  verdict: 'good',
  number: 1,
  U: 1,
  low: 0,
  high: 2,
  unit: 'frames',
  clip: 'c1',
  frame: null,
  parts: [],
  reasons: [],
  events: ['e0', 'e1'],
})
const release: Release = {
  id: 'r1',
  film: 'Bout',
  version: '1',
  date: '2026-11-20',
  project: 3,
  files: [],
  footage: [],
  values: [value('m1', '9 frames'), value('m2', '1st before 2nd')],
  events: [{ id: 'e0', clip: 'c1', name: 'plant', earliest: 4, latest: 4 }],
  said: [
    { as: 'sentence', words: 'Nine.', from_s: 12, to_s: 14, paragraph: 'p1', values: ['m1'], references: ['ref'] },
    { as: 'label', words: '9 frames', from_s: 13, to_s: 14, values: ['m1'] },
    { as: 'title', words: 'Bout' },
  ],
}
const breakdown = (more: Partial<Breakdown> = {}): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Bout',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 } }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 4, latest: 4 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 13, latest: 13 },
  ],
  measures: [
    { id: 'm1', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' },
    { id: 'm2', kind: 'comparison', measures: ['m1', 'm1'] },
  ],
  script: [
    {
      id: 'p1',
      text: ['It takes ', { value: 'm2' }, '.'],
      take: 'p1.wav',
      shots: [
        {
          pair: [
            { clip: 'c1', event: 'e0' },
            { clip: 'c1', event: 'e1' },
          ],
          before: '1',
          after: '1',
          speed: '1',
          layout: 'beside',
        },
      ],
    },
  ],
  releases: [release],
  ...more,
})
const readings = (m1: string, m2 = '1st before 2nd'): Map<string, Reading> =>
  new Map([
    ['m1', reading('m1', m1)],
    ['m2', reading('m2', m2)],
  ])
const note = (id: string, now: string, state: Correction['state'] = 'published'): Correction => ({
  id,
  release: 'r1',
  date: '2026-12-01',
  state,
  note: 'It was marked too late.',
  changes: [{ of: 'value', id: 'm1', was: '9 frames (plant to contact)', now }],
})
const changesOf = (of: Breakdown, now: Map<string, Reading>): string[] =>
  overtakenReleases(of, now, '2026-12-24').flatMap(({ changes }) => changes.map(({ id, was, now: today }) => `${id}: ${was} > ${today}`))

it('should tell a change from what the latest correction said, also when the value is as first published', () => {
  expect(changesOf(breakdown(), readings('9 frames'))).toEqual([])
  expect(changesOf(breakdown(), readings('8 frames'))).toEqual(['m1: 9 frames (plant to contact) > 8 frames'])
  const noted = breakdown({ corrections: [note('k1', '8 frames'), note('k2', '7 frames', 'draft')] })
  expect(changesOf(noted, readings('7 frames'))).toEqual([])
  expect(changesOf(noted, readings('8 frames'))).toEqual(['m1: 7 frames > 8 frames'])
  expect(changesOf(noted, readings('9 frames'))).toEqual(['m1: 7 frames > 9 frames (plant to contact), as first published'])
})

it('should not judge what is measured on a film that is not there, nor what builds on it, but events all the same', () => {
  const of = breakdown({ events: [{ id: 'e0', clip: 'c1', name: 'plant', earliest: 2, latest: 4 }] })
  const away = overtakenReleases(of, readings('not measured', 'not measured'), '2026-12-24', new Set(['c1']))
  expect(away.flatMap(({ changes }) => changes.map(({ id, now }) => `${id} ${now}`))).toEqual(['e0 plant: frames 2 to 4'])
})

it('should keep the old value in a correction however its note is worded, and say nothing twice', () => {
  const [drafted] = overtakenReleases(breakdown(), readings('8 frames'), '2026-12-24')
  const line = correctionLines(breakdown({ corrections: [{ id: 'k1', ...drafted!.draft, state: 'published' }] }))
  expect(line).toEqual([
    'Correction, 2026-12-24, to “Bout” (version 1, 2026-11-20). At 0:12: we said 9 frames (plant to contact); it is now 8 frames.',
  ])
  expect(correctionLines(breakdown({ corrections: [note('k1', '8 frames')] }))).toEqual([
    '2026-12-01 (version 1): It was marked too late. was 9 frames (plant to contact), now 8 frames.',
  ])
})

it('should word what was said as said and what only lay beneath as rested on, and leave out what nothing rested on', () => {
  const said: Release['said'] = [
    {
      as: 'sentence',
      words: 'The plant comes first.',
      from_s: 12,
      to_s: 14,
      paragraph: 'p1',
      on: { part: 'sentence', paragraph: 'p1', words: 'The plant comes first.' },
      values: ['m2'],
    },
    { as: 'caption', words: 'The plant comes\nfirst.', from_s: 12, to_s: 14, paragraph: 'p1', values: ['m2'] },
    { as: 'label', words: '9 frames', from_s: 20, to_s: 22, values: ['m3'] },
  ]
  const of = breakdown({
    releases: [
      {
        ...release,
        said,
        values: [value('m1', '9 frames'), value('m2', '1st before 2nd'), value('m3', '9 frames'), value('m4', '142°')],
        events: [
          { id: 'e0', clip: 'c1', name: 'plant', earliest: 4, latest: 4 },
          { id: 'gone', clip: 'c1', name: 'contact', earliest: 9, latest: 9 },
        ],
      },
    ],
  })
  const now = new Map([...readings('8 frames', 'not resolved'), ['m3', reading('m3', '8 frames')], ['m4', reading('m4', '150°')]])
  const [overtaken] = overtakenReleases(of, now, '2026-12-24')
  expect(overtaken!.draft.note.split('\n').slice(1)).toEqual([
    'At 0:12: it rested on 9 frames (plant to contact); it is now 8 frames.',
    'At 0:12: it rested on 1st before 2nd (plant to contact); it is now not resolved.',
    'At 0:20: we said 9 frames (plant to contact); it is now 8 frames.',
  ])
  expect(overtaken!.changes.map(({ id, said: by }) => [id, by.map(({ as }) => as)])).toEqual([
    ['m1', ['sentence', 'caption']],
    ['m2', ['sentence', 'caption']],
    ['m3', ['label']],
  ])
})

it('should tell of a reference that is printed, or noted, otherwise than a version said, and of one that is gone', () => {
  const kept = { id: 'ref', text: 'Made U (2020) Steps.', population: 'twelve amateurs', limits: 'one hall' }
  const of = breakdown({ releases: [{ ...release, references: [kept] }] })
  const today = (more: object) => [{ ...kept, finding: '', setting: [], runs: [], ...more }]
  const told = (references: ReturnType<typeof today>) =>
    overtakenReleases(of, readings('9 frames'), '2026-12-24', new Set(), references).flatMap(({ draft }) => draft.note.split('\n').slice(1))
  expect(told(today({}))).toEqual([])
  expect(told(today({ population: 'ten amateurs' }))).toEqual([
    'At 0:12: it rested on Made U (2020) Steps. In: twelve amateurs Limits: one hall; it is now Made U (2020) Steps. In: ten amateurs Limits: one hall.',
  ])
  expect(told([])).toEqual([
    'At 0:12: it rested on Made U (2020) Steps. In: twelve amateurs Limits: one hall; it is now not among the references any more.',
  ])
})

it('should answer a time by what the version kept: what a comparison was built on, references as they were printed, earlier films', () => {
  const said: Release['said'] = [
    {
      as: 'sentence',
      words: 'Higher than before.',
      from_s: 12,
      to_s: 14,
      paragraph: 'p1',
      values: ['m2'],
      references: ['ref', 'old'],
      evidence: [{ film: 'Left hooks', at: '4:10', says: '9 frames' }],
      stills: ['stills/a.jpg'],
    },
  ]
  const frozen: Release = {
    ...release,
    said,
    values: [value('m1', '9 frames'), { ...value('m2', 'differs'), measures: ['m1'] }],
    references: [{ id: 'ref', text: 'Made U (2020) Steps.', limits: 'one hall' }],
    clips: [{ id: 'c1', name: 'ringside', footage: 'f1' }],
    footage: [{ id: 'f1', file: 'a.mp4', source: 'Lantern Yard, club ring' }],
    files: [{ name: 'stills/a.jpg', sha256: 'a'.repeat(64), still: { clip: 'c1', frame: 4, at_s: 0.25 } }],
  }
  // The project has no such measures, clips and references any more.
  const found = answerAt({ releases: [frozen] }, '0:12')
  expect(found).toMatchObject({
    values: [{ measure: 'm1' }, { measure: 'm2' }],
    references: [
      { text: 'Made U (2020) Steps.', limits: 'one hall' },
      { id: 'old', text: 'old' },
    ],
    films: [{ film: 'Left hooks', at: '4:10', says: '9 frames' }],
    stills: [{ clipName: 'ringside', frame: 4, at_s: 0.25, file: 'a.mp4', source: 'Lantern Yard, club ring' }],
  })
  // A version that went out before versions kept that is answered by what the project says.
  const { references: _references, clips: _clips, ...older } = frozen
  const before = answerAt(
    {
      ...breakdown({ references: [{ id: 'ref', csl: { type: 'article-journal', title: 'Steps' } }] }),
      releases: [{ ...older, values: [value('m1', '9 frames'), value('m2', 'differs')] }],
    },
    '0:12',
  )
  expect(before).toMatchObject({ values: [{ measure: 'm1' }, { measure: 'm2' }], references: [{ text: 'Steps' }, { text: 'old' }] })
})

it('should list an event’s bracket as rested on, by what is measured between events and what builds on that', () => {
  const said: Release['said'] = [
    {
      as: 'sentence',
      words: 'The plant comes first.',
      from_s: 12,
      to_s: 14,
      paragraph: 'p1',
      on: { part: 'sentence', paragraph: 'p1', words: 'The plant comes first.' },
      values: ['m2'],
    },
  ]
  const of = breakdown({
    releases: [
      {
        ...release,
        said,
        values: [{ ...value('m1', '9 frames'), events: ['e0'] }, value('m2', '1st before 2nd')],
        events: [{ id: 'e0', clip: 'c1', name: 'plant', earliest: 2, latest: 4 }],
      },
    ],
  })
  const [overtaken] = overtakenReleases(of, readings('9 frames'), '2026-12-24')
  expect(overtaken!.draft.note).toMatch(/\nAt 0:12: it rested on plant: frames 2 to 4; it is now plant: frame 4\.$/)
})

it('should find the uses of what a value builds on, and of the events below it', () => {
  const uses = usesOfMeasure('m1', breakdown(), readings('9 frames')).map(({ as, through }) => `${as}${through ? ` by ${through}` : ''}`)
  expect(uses).toEqual(['measure', 'sentence by m2', 'caption by m2', 'take by m2'])
  expect(usesOfEvent('e1', breakdown(), readings('9 frames')).map(({ as, through }) => `${as}${through ? ` by ${through}` : ''}`)).toEqual([
    'shot',
    'measure',
    'measure by m1',
    'sentence by m2',
    'caption by m2',
    'take by m2',
  ])
})

it('should find what published versions said with a value, an event or a reference, and the paragraph of a label', () => {
  const words = (of: 'measure' | 'event' | 'reference', id: string): string[] =>
    publishedUsesOf(of, id, [release]).flatMap(({ said }) => said.map((each) => each.as))
  expect([words('measure', 'm1'), words('event', 'e1'), words('reference', 'ref'), words('event', 'none')]).toEqual([
    ['sentence', 'label'],
    ['sentence', 'label'],
    ['sentence'],
    [],
  ])
  expect(release.said.map((said) => saidParagraph(said, release))).toEqual(['p1', 'p1', null])
})
