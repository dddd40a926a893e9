import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { ClaimClass, Evidence } from '../../../../app/project/claim'
import type { Measure } from '../../../../app/project/question'
import { holdsBack } from '../../../../app/script/claims/finding'
import { findingsOf } from '../../../../app/script/claims/findings'
import { comparedAs } from '../../../../app/script/claims/word-lists'
import { reading } from '../sample-script'

/// What a sentence rests on is read, not only asked to be there.

const count = (id: string, holds: (boolean | null)[], set = 'every finish of the season'): Measure => ({
  id,
  kind: 'count',
  what: 'rear heel up',
  set,
  cases: holds.map((each, i) => ({ clip: `c${i}`, holds: each })),
})
const yes = (n: number): boolean[] => Array.from({ length: n }, () => true)
const measures: Measure[] = [
  { id: 'knee', kind: 'joint-angle', clip: 'c0', subject: 's1', frame: 10, points: ['hip.left', 'knee.left', 'ankle.left'] },
  { id: 'eye', kind: 'by-eye', clip: 'c0', frame: 10, what: 'knee', value: 140, unit: '°' },
  { id: 'order', kind: 'order', clip: 'c0', from: 'e1', to: 'e2' },
  { id: 'there', kind: 'order', clip: 'c1', from: 'e3', to: 'e4' },
  ...['differs', 'similar', 'open'].map((id): Measure => ({ id, kind: 'comparison', measures: ['knee', 'knee'] })),
  count('four', [true, false, false, false]),
  count('three', yes(3)),
  count('many', yes(12)),
  count('most', [...yes(11), false, null]),
]
const verdict = (id: string, ...reasons: string[]) =>
  reading(id, '9° ± 4°', 'nine degrees', { kind: 'comparison', reasons, verdict: 'good' })
const readings = new Map([
  ...['knee', 'four', 'three', 'many', 'most'].map((id) => [id, reading(id, '142°', 'about 142 degrees', { verdict: 'good' })] as const),
  ['eye', reading('eye', 'by eye ≈ 140°', 'about 140 degrees, by eye', { kind: 'by-eye', verdict: 'warned' })] as const,
  ['order', reading('order', 'not resolved', 'not resolved', { kind: 'order', verdict: 'range', unit: '' })] as const,
  ['refused', reading('refused', 'not measured', 'not measured', { verdict: 'refused', label: 'knee: not measured' })] as const,
  ...[verdict('differs', 'differs'), verdict('similar', 'similar'), verdict('open', 'cannot-tell')].map((each) => [each.id, each] as const),
])

const film = (words: string, classes: ClaimClass[], evidence: Evidence[]): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'T',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: Array.from({ length: 13 }, (_, i) => ({ id: `c${i}`, footage: 'f1', from: 0, to: 100, capture: 'unknown' as const })),
  events: [
    ['e1', 'c0', 'hip turn'],
    ['e2', 'c0', 'shoulder turn'],
    ['e3', 'c1', 'hip turn'],
    ['e4', 'c1', 'shoulder turn'],
  ].map(([id, clip, name]) => ({ id: id!, clip: clip!, name: name!, earliest: 10, latest: 20 })),
  measures: [
    ...measures,
    { id: 'refused', kind: 'joint-angle', clip: 'c0', subject: 's1', frame: 10, points: ['hip.left', 'knee.left', 'ankle.left'] },
  ],
  script: [{ id: 'p1', text: [words] }],
  claims: [{ id: 'a', on: { part: 'sentence', paragraph: 'p1', words }, classes, evidence, state: 'confirmed' }],
})
const open = (words: string, classes: ClaimClass[], evidence: Evidence): string[] =>
  findingsOf(film(words, classes, [evidence]), readings)
    .filter(holdsBack)
    .map(({ code }) => code)

describe('what a sentence rests on', () => {
  it.each<[string, ClaimClass[], Evidence, string]>([
    ['The hips turn before the shoulders.', ['C'], { reading: 'order' }, 'stronger-than-verdict'],
    ['Hips, shoulders, in that order.', ['C'], { reading: 'order' }, 'stronger-than-verdict'],
    ['The knee is bent.', ['B'], { reading: 'refused' }, 'value-refused'],
    ['The knee is bent to a right angle and more.', ['B'], { reading: 'eye' }, 'hedge-missing'],
    ['The knee is bent.', ['A'], { reading: 'gone' }, 'value-missing'],
    ['He always lifts the heel.', ['D'], { count: 'four' }, 'stronger-than-verdict'],
    ['He always lifts the heel.', ['D'], { count: 'three' }, 'stronger-than-verdict'],
    ['In all of them the heel is up.', ['D'], { count: 'four' }, 'stronger-than-verdict'],
    ['It is a habit of his.', ['D'], { count: 'three' }, 'stronger-than-verdict'],
    ['The knee is clearly more bent.', ['E'], { reading: 'similar' }, 'stronger-than-verdict'],
    ['The knee is bent further than hers.', ['E'], { reading: 'similar' }, 'stronger-than-verdict'],
    ['The two knees are the same.', ['E'], { reading: 'differs' }, 'stronger-than-verdict'],
    ['The two knees are not different.', ['E'], { reading: 'differs' }, 'stronger-than-verdict'],
    ['The knee is no more and no less bent than hers.', ['E'], { reading: 'differs' }, 'stronger-than-verdict'],
    ['The knee is not more bent than hers.', ['E'], { reading: 'open' }, 'stronger-than-verdict'],
    ['Nothing is more bent than this knee.', ['E'], { reading: 'open' }, 'stronger-than-verdict'],
    ['Look whether his knee is more bent: it is.', ['E'], { reading: 'open' }, 'stronger-than-verdict'],
  ])('should be read: “%s” (%s) on %o', (words, classes, evidence, code) => expect(open(words, classes, evidence)).toEqual([code]))

  it.each<[string, ClaimClass[], Evidence]>([
    ['Whether the hips turn before the shoulders cannot be told.', ['C'], { reading: 'order' }],
    ['How far the knee is bent can’t be told.', ['B'], { reading: 'refused' }],
    ['The knee is bent to about a right angle.', ['B'], { reading: 'eye' }],
    ['In all 3 clips I checked the heel is up.', ['D'], { count: 'three' }],
    ['He always lifts the heel.', ['D'], { count: 'many' }],
    ['Usually the heel is up.', ['D'], { count: 'most' }],
    ['He does not always lift the heel.', ['D'], { count: 'four' }],
    ['The knee is more bent than hers.', ['E'], { reading: 'differs' }],
    ['The two knees are the same within what we wrote down.', ['E'], { reading: 'similar' }],
    ['The knee is no more bent than hers.', ['E'], { reading: 'similar' }],
    ['The knee is no more bent than hers.', ['E'], { reading: 'differs' }],
    ['The knee is not more bent than hers.', ['E'], { reading: 'differs' }],
    ['At this precision I can’t tell the two apart.', ['E'], { reading: 'open' }],
  ])('should bear words no firmer than it: “%s” (%s) on %o', (words, classes, evidence) =>
    expect(open(words, classes, evidence)).toEqual([]),
  )

  it.each<[string, ClaimClass[], Evidence, string[]]>([
    // What is firm in one clause stays so, whatever is left open in another.
    ['The hips turn before the shoulders, but how far they turn cannot be told.', ['C'], { reading: 'order' }, ['stronger-than-verdict']],
    ['How far they turn is unclear; the hips turn before the shoulders.', ['C'], { reading: 'order' }, ['stronger-than-verdict']],
    ['The hips turn before the shoulders, by how much cannot be told.', ['C'], { events: ['e1', 'e2'] }, ['order-open']],
    ['The knee is more bent, but how far she steps is unclear.', ['E'], { reading: 'open' }, ['stronger-than-verdict']],
    ['The knee is bent, but how far she steps is not known.', ['B'], { reading: 'refused' }, ['value-refused']],
    // What is left open stays silent, and so does what may be.
    ['The foot lands before the hand; whether the hips turn before the shoulders cannot be told.', ['C'], { reading: 'order' }, []],
    ['In the first the hips turn before the shoulders; in the second it is unclear.', ['C'], { reading: 'order' }, []],
    ['The hips seem to lead, but that cannot be told.', ['C'], { reading: 'order' }, []],
    ['Hips before shoulders, or after them: the order is unclear.', ['C'], { events: ['e1', 'e2'] }, []],
    ['Her stance is wider, but whether the knee is more bent cannot be told.', ['E'], { reading: 'open' }, []],
    ['She steps far, but how far the knee is bent cannot be told.', ['B'], { reading: 'refused' }, []],
  ])('should be silenced only by words of openness that are about it: “%s” (%s) on %o', (words, classes, evidence, codes) =>
    expect(open(words, classes, evidence)).toEqual(codes),
  )

  it('should be silenced by another reading that bears the firm clause', () => {
    const words = 'The hips turn before the shoulders; in the second it cannot be told.'
    const told = (resolved: boolean) =>
      findingsOf(
        film(words, ['C'], [{ reading: 'order' }, { reading: 'there' }]),
        new Map([
          ...readings,
          [
            'there',
            reading('there', resolved ? 'hip turn before shoulder turn' : 'not resolved', '', {
              kind: 'order',
              value: resolved ? 1 : 0,
              verdict: resolved ? 'good' : 'range',
              unit: '',
            }),
          ],
        ]),
      )
        .filter(holdsBack)
        .map(({ code }) => code)
    expect([told(true), told(false).includes('stronger-than-verdict')]).toEqual([[], true])
  })

  it('should be told how many were counted, and what may be said of them', () => {
    const [finding] = findingsOf(film('He always lifts the heel.', ['D'], [{ count: 'four' }]), readings).filter(holdsBack)
    expect(finding).toMatchObject({
      problem: '“always” says more than 1 of 4',
      wayOut: 'Say “in 1 of the 4 I could see well”, or count more cases.',
    })
  })
})

it('words that compare should be heard as alike, unlike, a bound on one of the two, or none of these', () => {
  expect(comparedAs('The knee isn’t the same here.')).toEqual({ as: 'unlike', words: 'the same' })
  expect(comparedAs('There is no difference.')).toEqual({ as: 'alike', words: 'difference' })
  expect(comparedAs('The two do not differ.')).toMatchObject({ as: 'alike' })
  expect(comparedAs('It comes up straighter than hers.')).toMatchObject({ as: 'unlike' })
  expect(comparedAs('The knee is not more bent than hers.')).toEqual({ as: 'bounded', words: 'more' })
  expect(comparedAs('The knee is no more bent than hers.')).toMatchObject({ as: 'bounded' })
  expect(comparedAs('It is never deeper than hers.')).toMatchObject({ as: 'bounded' })
  expect(comparedAs('The knee is no more and no less bent than hers.')).toMatchObject({ as: 'alike' })
  expect(comparedAs('On the same side the knee is more bent.')).toBeNull()
  expect(comparedAs('The knee is bent.')).toBeNull()
})
