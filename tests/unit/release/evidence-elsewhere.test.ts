import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Claim } from '../../../app/project/claim'
import type { Release, SaidValue } from '../../../app/project/release'
import { evidencePage } from '../../../app/release/evidence-page'
import { evidenceReport } from '../../../app/release/evidence-report'
import { noticesOf } from '../../../app/release/notices'
import { findingsOf } from '../../../app/script/claims/findings'
import { statedClaims } from '../../../app/script/claims/stated-claim'

const sha256 = '0'.repeat(64)
const value: SaidValue = {
  measure: 'm1',
  kind: 'joint-angle',
  value: '142° ± 12°',
  what: 'apparent knee angle',
  spoken: 'about 140 degrees',
  verdict: 'good',
  number: 142,
  U: 12,
  low: 130,
  high: 154,
  unit: '°',
  clip: 'c1',
  frame: 20,
  parts: [],
  reasons: [],
  events: [],
}
const claim = (id: string, on: Claim['on'], classes: Claim['classes'], more: Partial<Claim> = {}): Claim => ({
  id,
  on,
  classes,
  state: 'confirmed',
  ...more,
})

/// The report of a film that says these things on its title, chapters, cards, names and pictures.
function reported(claims: Claim[], overrides: Breakdown['overrides'] = []) {
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Why the rear knee bends',
    question: 'How did it end?',
    output: { width: 640, height: 360, rate: '30/1' },
    footage: [{ id: 'f1', file: 'a.mp4', source: { owner: 'Lantern Yard' } }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown', name: 'ringside' }],
    events: [{ id: 'e1', clip: 'c1', name: 'plant', earliest: 18, latest: 20 }],
    measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 20, points: ['hip.left', 'knee.left', 'ankle.left'] }],
    references: [{ id: 'r1', csl: { type: 'book', author: [{ family: 'Okafor' }] }, population: 'adults', limits: 'none known' }],
    script: [
      { chapter: 'The plant' },
      {
        id: 'p1',
        text: ['He wanted the counter all along.'],
        title: { name: 'Nela Varga' },
        shots: [
          { card: 'text', lines: ['The heel is up.'] },
          { hold: 'c1', at: 20, seconds: '1', marks: [{ word: 'bent', at: [1, 1] }] },
        ],
      },
    ],
    claims,
    overrides,
  }
  const stated = statedClaims(breakdown, new Map())
  const release: Release = {
    id: 'v1',
    film: breakdown.title,
    version: '1',
    date: '2026-03-01',
    project: 1,
    footage: [],
    references: [],
    values: [value],
    events: [{ id: 'e1', clip: 'c1', name: 'plant', earliest: 18, latest: 20 }],
    files: [
      { name: 'stills/c1-20-m1.jpg', sha256, still: { clip: 'c1', frame: 20 } },
      { name: 'stills/c1-18.jpg', sha256, still: { clip: 'c1', frame: 18 } },
      { name: 'stills/c1-20.jpg', sha256, still: { clip: 'c1', frame: 20 } },
    ],
    said: breakdown.script.flatMap((row) =>
      'text' in row
        ? [
            {
              as: 'sentence' as const,
              words: 'He wanted the counter all along.',
              from_s: 0,
              to_s: 2,
              paragraph: row.id,
              on: { part: 'sentence' as const, paragraph: row.id, words: 'He wanted the counter all along.' },
              classes: claims.find(({ on }) => on.part === 'sentence')?.classes ?? (['I'] as const).slice(),
              ...byHandOf(stated.claims),
            },
          ]
        : [],
    ),
  }
  const report = evidenceReport({
    release,
    breakdown,
    context: { clip: () => null } as never,
    seconds: 2,
    sources: [],
    references: [
      {
        id: 'r1',
        text: 'Okafor.',
        runs: [{ text: 'Okafor.', as: [] }],
        finding: '',
        population: 'adults',
        limits: 'none known',
        setting: [],
      },
    ],
    chapters: { chapters: [], told: [] },
    notices: noticesOf(breakdown),
    timeOf: (_clip, frame) => frame / 30,
    findings: findingsOf(
      breakdown,
      new Map([
        [
          'm1',
          {
            id: 'm1',
            plate: { value: '142° ± 12°', what: 'apparent knee angle' },
            reasons: [],
            label: '',
            unit: '°',
            U: 12,
            verdict: 'good',
            kind: 'joint-angle',
          } as never,
        ],
      ]),
    ),
    noticesOpen: [],
    noticeOverrides: [],
    stateOf: () => 'confirmed',
    claims: stated.claims,
  })
  return { report, page: evidencePage(report, new Map()) }
}

/// What the release record keeps of the sentence's class.
const byHandOf = (claims: ReturnType<typeof statedClaims>['claims']): Pick<Release['said'][number], 'byHand'> => {
  const byHand = claims.find(({ saying }) => saying.on.part === 'sentence')?.byHand
  return byHand ? { byHand: { ...byHand, suggested: [...byHand.suggested] } } : {}
}

const sectionOf = (page: string): string => /<section aria-labelledby="elsewhere">.*?<\/section>/su.exec(page)?.[0] ?? ''

describe('what the film says besides its sentences', () => {
  it('is in the report where it was stated or rests on something, with all that it rests on; a name that names is not', () => {
    const { report, page } = reported([
      claim('k1', { part: 'title', words: 'Why the rear knee bends' }, ['B'], {
        evidence: [{ reading: 'm1' }, { reference: 'r1', at: 'p. 4' }],
      }),
      claim('k2', { part: 'chapter', words: 'The plant' }, ['C'], { evidence: [{ events: ['e1'] }] }),
      claim('k3', { part: 'card', paragraph: 'p1', words: 'The heel is up.' }, ['A']),
      claim('k4', { part: 'name', paragraph: 'p1', words: 'Nela Varga' }, ['A']),
      claim('k5', { part: 'mark', paragraph: 'p1', words: 'bent' }, ['H'], { evidence: ['opinion'] }),
    ])
    expect(report.elsewhere.map(({ part, words, classes, state }) => [part, words, classes.join(''), state])).toEqual([
      ['title', 'Why the rear knee bends', 'B', 'confirmed'],
      ['chapter', 'The plant', 'C', 'confirmed'],
      ['card', 'The heel is up.', 'A', 'confirmed'],
      ['mark', 'bent', 'H', 'confirmed'],
    ])
    const [title, chapter] = report.elsewhere
    expect([title!.values.map(({ value: text }) => text), title!.references, title!.stills.map(({ name }) => name)]).toEqual([
      ['142° ± 12°'],
      [{ id: 'r1', at: 'p. 4' }],
      ['stills/c1-20-m1.jpg'],
    ])
    expect([
      chapter!.events.map(({ name, clipName }) => [name, clipName]),
      chapter!.stills.map(({ name, frame }) => [name, frame]),
    ]).toEqual([
      [['plant', 'ringside']],
      [
        ['stills/c1-18.jpg', 18],
        ['stills/c1-20.jpg', 20],
      ],
    ])
    const section = sectionOf(page)
    for (const words of [
      'In the title, chapters and pictures',
      'Why the rear knee bends',
      '<strong>142° ± 12°</strong>',
      'Okafor.',
      ', p. 4',
      'plant: frames 18 to 20 of ringside',
      'marked as the analyst’s view',
    ])
      expect(section).toContain(words)
    expect(section).not.toContain('Nela Varga')
  })

  it('is there for what is open or let stand on it, and not where it claims nothing', () => {
    const none = reported([])
    expect(none.report.elsewhere.filter(({ part }) => part !== 'title')).toEqual([])
    const on: Claim['on'] = { part: 'card', paragraph: 'p1', words: 'The heel is up.' }
    const open = reported([claim('k1', on, ['D'])]).report.elsewhere.find(({ part }) => part === 'card')!
    expect([open.open, open.letStand]).toEqual([['the sentence speaks of more than one case, and nothing was counted'], []])
    const stood = reported(
      [claim('k1', on, ['D'])],
      [
        {
          id: 'o1',
          finding: 'count-missing',
          on,
          problem: open.open[0]!,
          reason: 'Said of this bout alone.',
          by: 'M. Soray',
          when: '2026-03-01',
        },
      ],
    )
    const entry = stood.report.elsewhere.find(({ part }) => part === 'card')!
    expect([entry.open, entry.letStand]).toEqual([[], [{ problem: open.open[0], reason: 'Said of this bout alone.' }]])
    expect(sectionOf(stood.page)).toContain('<strong>Reason:</strong> Said of this bout alone.')
  })
})

describe('a class that was stated weaker than the rules suggest', () => {
  const on: Claim['on'] = { part: 'sentence', paragraph: 'p1', words: 'He wanted the counter all along.' }
  const told = (claims: Claim[]) => reported(claims)

  it('is told in the report: what was suggested, what was stated, by whom and when', () => {
    const { report, page } = told([claim('k1', on, ['A'], { by: 'the analyst', when: '2026-03-01T10:00:00.000Z' })])
    expect(report.entries.map(({ byHand }) => byHand)).toEqual([{ suggested: ['I'], by: 'the analyst', when: '2026-03-01T10:00:00.000Z' }])
    expect(page).toContain('changed by hand: the rules suggest intent, stated as observed (the analyst, 2026-03-01)')
  })

  it('says nothing where the suggested class was kept, more was added to it, or nobody stated one', () => {
    for (const claims of [[], [claim('k1', on, ['I'])], [claim('k1', on, ['G', 'I'])]]) {
      const { report, page } = told(claims)
      expect(report.entries.map(({ byHand }) => byHand)).toEqual([null])
      expect(page).not.toContain('changed by hand')
    }
  })
})
