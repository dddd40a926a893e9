import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { ClaimClass, Evidence } from '../../../../app/project/claim'
import type { Inline, Shot } from '../../../../app/project/picture'
import type { Measure } from '../../../../app/project/question'
import { holdsBack } from '../../../../app/script/claims/finding'
import { findingsOf } from '../../../../app/script/claims/findings'
import { reading } from '../sample-script'

/// What each pair reads, the first measure's first. Of the first clip: the knee is more bent, the forearm and the trunk lean more,
/// the time is shorter, the stance narrower, the fist slower, the peak earlier.

const on = (id: string, clip: string, more: object): Measure =>
  ({ id, clip, subject: clip === 'c1' ? 's1' : 's2', frame: 10, ...more }) as Measure
const both = (name: string, more: object): Measure[] => [
  on(`${name}1`, 'c1', more),
  on(`${name}2`, 'c2', more),
  { id: name, kind: 'comparison', measures: [`${name}1`, `${name}2`] },
]
const times: Measure[] = [
  { id: 'time1', kind: 'time-between', clip: 'c1', from: 'h1', to: 'k1' },
  { id: 'time2', kind: 'time-between', clip: 'c2', from: 'h2', to: 'k2' },
  { id: 'time', kind: 'comparison', measures: ['time1', 'time2'] },
]
const measures: Measure[] = [
  ...both('knee', { kind: 'joint-angle', points: ['hip.lead', 'knee.lead', 'ankle.lead'] }),
  ...both('arm', { kind: 'line-lean', points: ['elbow.rear', 'wrist.rear'] }),
  ...both('trunk', { kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] }),
  ...both('stance', {
    kind: 'distance',
    points: ['ankle.left', 'ankle.right'],
    unit: { points: ['hip.mid', 'shoulder.mid'], frame: 10, name: 'trunk lengths' },
  }),
  ...both('fist', { kind: 'speed', points: ['wrist.rear'] }),
  ...times,
  on('alone1', 'c1', { kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] }),
  on('alone2', 'c2', { kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] }),
  on('near2', 'c2', { kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] }),
  on('way1', 'c1', { kind: 'line-lean', points: ['knee.rear', 'hip.rear'] }),
  on('way2', 'c2', { kind: 'line-lean', points: ['knee.rear', 'hip.rear'] }),
  { id: 'way', kind: 'comparison', measures: ['way1', 'way2'] },
]
const VALUES: Readonly<Record<string, readonly [number, number, string]>> = {
  knee: [120, 150, '°'],
  arm: [70, 40, '°'],
  trunk: [30, 12, '°'],
  stance: [0.8, 1.4, 'trunk lengths'],
  fist: [4, 7, 'm/s'],
  time: [0.2, 0.3, 's'],
  alone: [30, 12, '°'],
  way: [15, -10, '°'],
}
const value = (id: string, is: number, half: number, unit: string, kind: string) =>
  reading(id, `${is} ${unit}`, String(is), { kind, value: is, U: half, low: is - half, high: is + half, unit, verdict: 'good' })
const readings = new Map([
  ...Object.entries(VALUES).flatMap(([name, [a, b, unit]]) => {
    const kind = measures.find(({ id }) => id === `${name}1`)!.kind
    return [
      [`${name}1`, value(`${name}1`, a, Math.abs(a - b) / 4, unit, kind)],
      [`${name}2`, value(`${name}2`, b, Math.abs(a - b) / 4, unit, kind)],
      [name, { ...value(name, a - b, Math.abs(a - b) / 2, unit, 'comparison'), reasons: ['differs'] }],
    ] as const
  }),
  ['near2', value('near2', 24, 12, '°', 'line-lean')] as const,
])

const film = (words: Inline[], evidence: Evidence[], classes: ClaimClass[], shots: Shot[], lead: 'left' | 'right' = 'left'): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'T',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [
    { id: 's1', name: 'Nela Varga' },
    { id: 's2', name: 'Ruta Selmane' },
  ],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 100, name: 'Varga, ringside', capture: 'unknown' },
    { id: 'c2', footage: 'f1', from: 100, to: 200, name: 'Selmane, far side', capture: 'unknown' },
  ],
  views: ['c1', 'c2'].map((clip, i) => ({
    clip,
    subject: `s${i + 1}`,
    from: 0,
    to: 200,
    lead,
    yaw: { deg: 0, u: 3 },
    elevation: { deg: 0, u: 2 },
  })),
  events: [
    ['h1', 'c1', 'hip turn'],
    ['k1', 'c1', 'contact'],
    ['h2', 'c2', 'hip turn'],
    ['k2', 'c2', 'contact'],
  ].map(([id, clip, name], i) => ({ id: id!, clip: clip!, name: name!, earliest: 10 * i, latest: 10 * i + 1 })),
  measures,
  script: [{ id: 'p1', text: words, shots }],
  claims: [
    {
      id: 'a',
      on: {
        part: 'sentence',
        paragraph: 'p1',
        words: words.map((each) => (typeof each === 'string' ? each : 'value' in each ? `{${each.value}}` : '')).join(''),
      },
      classes,
      evidence,
      state: 'confirmed',
    },
  ],
})
const found = (words: Inline[] | string, evidence: Evidence[], classes: ClaimClass[] = ['E'], shots: Shot[] = []) =>
  findingsOf(film(typeof words === 'string' ? [words] : words, evidence, classes, shots), readings).filter(holdsBack)
const codes = (...asked: Parameters<typeof found>): string[] =>
  found(...asked)
    .map(({ code }) => code)
    .filter((code) => code !== 'comparison-missing')

describe('a direction that is said the other way round than it was measured', () => {
  it.each([
    ['The second right hand is steeper than the first.', 'arm', false],
    ['The first right hand is steeper than the second.', 'arm', true],
    ['The first is steeper than the second.', 'arm', true],
    ['The first forearm is steeper than the second.', 'arm', false],
    ['The second right hand is slower than the first.', 'time', false],
    ['The second right hand is faster than the first.', 'time', true],
    ['The second right hand is later than the first.', 'time', false],
    ['The first right hand is later than the second.', 'time', true],
    ['In the first, contact comes later than in the second.', 'time', true],
    ['In the first the trunk leans more than in the second.', 'trunk', false],
    ['In the second the trunk leans more than in the first.', 'trunk', true],
    ['In the second clip the trunk leans less than in the first.', 'trunk', false],
    ['The trunk is more upright in the first than in the second.', 'trunk', true],
    ['The knee is straighter in the second than in the first.', 'knee', false],
    ['In the first the knee is straighter than in the second.', 'knee', true],
    ['In the second the knee is more bent.', 'knee', true],
    ['In the second the knee is straighter.', 'knee', false],
    ['Varga’s knee is less bent than Selmane’s.', 'knee', true],
    ['Selmane’s knee is less bent than Varga’s.', 'knee', false],
    ['Selmane’s lead knee bends more than Varga’s.', 'knee', true],
    ['Selmane’s front leg is more bent than Varga’s.', 'knee', true],
    ['Ringside the knee is straighter than from the far side.', 'knee', false],
    ['The first stance is wider than the second.', 'stance', false],
    ['Varga’s stance is wider than Selmane’s.', 'stance', true],
    ['The fist is faster in the first than in the second.', 'fist', true],
    ['The second punch is slower than the first.', 'fist', true],
    ['In the second she leans more than in the first.', 'trunk', true],
    ['Selmane is faster than Varga.', 'time', true],
    ['Varga takes longer than Selmane.', 'time', true],
    ['The second is steeper.', 'arm', false],
    ['The second leans more than the first.', 'trunk', true],
    ['The first one is steeper than the second one.', 'arm', true],
    ['The knee angle is larger in the first than in the second.', 'knee', true],
    ['In the first the knee is not more bent than in the second.', 'knee', true],
    ['In the first the knee is no more bent than in the second.', 'knee', true],
    ['In the second the knee is no more bent than in the first.', 'knee', false],
    ['In the second the knee is not less bent than in the first.', 'knee', true],
    ['Selmane’s stance is no wider than Varga’s.', 'stance', true],
    ['Varga’s stance isn’t wider than Selmane’s.', 'stance', false],
    ['Varga does not lean more than Selmane.', 'trunk', true],
    ['Selmane does not lean more than Varga.', 'trunk', false],
  ] as const)('“%s” on the comparison of %s: %s', (words, reading, turned) => {
    // Where a noun follows "the first" that is no case, nothing is told.
    expect(codes(words, [{ reading }])).toEqual(turned ? ['comparison-reversed'] : [])
  })

  it.each([
    ['The second right hand is straighter than the first.', 'knee'],
    ['In the first the knee is not much more bent than in the second.', 'knee'],
    ['In the first the knee is not only more bent than in the second.', 'knee'],
    ['In the first the knee is not more bent.', 'knee'],
    ['Nobody said that in the first the knee is not more bent than in the second.', 'knee'],
    ['In the second the knee is not more bent than in the first.', 'knee'],
    ['In the second the knee looks more bent than in the first.', 'knee'],
    ['Is the knee more bent in the second than in the first?', 'knee'],
    ['You would expect the knee to be more bent in the second than in the first.', 'knee'],
    ['Whether the knee is more bent in the second than in the first cannot be told.', 'knee'],
    ['Selmane’s rear knee is more bent than Varga’s.', 'knee'],
    ['Selmane’s elbow is more bent than Varga’s.', 'knee'],
    ['In the second the knee gets more bent.', 'knee'],
    ['In the second the knee is more bent than at the start.', 'knee'],
    ['The knee is more bent than in the first.', 'knee'],
    ['In the second the knee is deeper than in the first.', 'knee'],
    ['In the second the knee is more bent and the stance narrower than in the first.', 'knee'],
    ['In a second clip the knee is more bent.', 'knee'],
    ['The third knee is more bent than the second.', 'knee'],
    ['The second step is more bent than the first.', 'knee'],
    ['The first trunk is steeper than the second.', 'trunk'],
    ['The first is steeper than the second.', 'trunk'],
    ['In the second, the hip turn comes later than in the first.', 'time'],
    ['In the second, the hip turn comes earlier than in the first.', 'time'],
    ['In the first the thigh leans less than in the second.', 'way'],
    ['In the second the thigh leans more than in the first.', 'way'],
    ['In the second both are more bent than in the first.', 'knee'],
    ['In the second counter the knee is more bent than in the first.', 'knee'],
    ['The second clip is slower than the first.', 'time'],
    ['The second clip is longer than the first.', 'time'],
    ['Selmane is shorter than Varga.', 'time'],
    ['Selmane is more bent than Varga.', 'knee'],
    ['In the second she is more bent than in the first.', 'knee'],
    ['In the second she is more bent over than in the first.', 'knee'],
    ['In the second she stands further from the ropes than in the first.', 'stance'],
    ['In the second the guard is more open than in the first.', 'knee'],
    ['In the second the knee is more bent at contact.', 'knee'],
    ['Varga is wider than Selmane.', 'stance'],
  ])('should not be heard in “%s” on %s', (words, reading) => expect(codes(words, [{ reading }])).not.toContain('comparison-reversed'))

  it('should be told with what each reads', () => {
    expect(found('The first is steeper than the second.', [{ reading: 'arm' }])).toMatchObject([
      {
        code: 'comparison-reversed',
        holds: true,
        problem: expect.stringMatching(
          /^“steeper” is said of .*Varga, ringside.* against .*Selmane, far side.*, and they read the other way round: 70 ° against 40 ° \(the more upright, the smaller\)$/u,
        ) as string,
        wayOut: 'Turn the words round, or look again at what was measured and which is which.',
      },
    ])
  })

  it('should be heard of a live comparison, and of two readings that lie apart and were seen alike', () => {
    expect(codes(['In the second the knee is more bent than in the first: ', { value: 'knee' }, '.'], [])).toEqual(['comparison-reversed'])
    const words = 'In the second the trunk leans more than in the first.'
    expect(codes(words, [{ readings: ['alone1', 'alone2'] }])).toEqual(['comparison-reversed'])
    expect(codes(words, [{ reading: 'alone1' }, { reading: 'alone2' }])).toEqual(['comparison-reversed'])
    expect(
      codes(['In the first the trunk leans less, ', { value: 'alone1' }, ', than in the second, ', { value: 'alone2' }, '.'], []),
    ).toEqual(['comparison-reversed'])
    expect(codes('In the first the trunk leans more than in the second.', [{ readings: ['alone1', 'alone2'] }])).toEqual([])
    // Their intervals touch, another measure stands beside them, or one was made into a comparison that says otherwise.
    expect(codes(words, [{ readings: ['alone1', 'near2'] }])).toEqual([])
    expect(codes(words, [{ reading: 'alone1' }, { reading: 'alone2' }, { reading: 'near2' }])).toEqual([])
    const document = film([words], [{ readings: ['alone1', 'alone2'] }], ['E'], [])
    const reversed = (change: Partial<Breakdown>): boolean =>
      findingsOf({ ...document, ...change }, readings).some(({ code }) => code === 'comparison-reversed')
    expect([
      reversed({}),
      reversed({ views: [] }),
      reversed({ views: document.views!.map((view, i) => ({ ...view, yaw: { deg: 30 * i, u: 3 } })) }),
    ]).toEqual([true, false, false])
    expect(reversed({ measures: [...measures, { id: 'made', kind: 'comparison', measures: ['alone2', 'alone1'] }] })).toBe(false)
  })

  it('should take “the first” for the first measure only where the film shows it first', () => {
    const words = 'In the second the knee is more bent than in the first.'
    const hold = (clip: string): Shot => ({ hold: clip, at: 10, seconds: '1' })
    expect(codes(words, [{ reading: 'knee' }], ['E'], [hold('c1'), hold('c2')])).toEqual(['comparison-reversed'])
    expect(codes(words, [{ reading: 'knee' }], ['E'], [hold('c2'), hold('c1')])).toEqual([])
  })

  it('should not be heard in advice, or of another film', () => {
    expect(codes('In the second the knee is more bent than in the first.', [{ reading: 'knee' }], ['M'])).toEqual([])
    expect(codes('In the second the knee is more bent than in the first.', [{ reading: 'knee' }], ['E', 'K'])).not.toContain(
      'comparison-reversed',
    )
  })
})
