import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { ClaimClass, Evidence } from '../../../../app/project/claim'
import type { Inline } from '../../../../app/project/picture'
import type { Measure } from '../../../../app/project/question'
import { holdsBack } from '../../../../app/script/claims/finding'
import { findingsOf } from '../../../../app/script/claims/findings'
import { readingsOf } from '../../../../app/measure/readings'
import { reading } from '../sample-script'
import { evenFrameTable } from '../../../../app/time/frame-table'

/// The shoulder turns first, then the hip; the hand lands, then the foot; the elbow and contact cannot be told apart.

const table = () => evenFrameTable(300, { n: 60, d: 1 })
const measures: Measure[] = [
  { id: 'turns', kind: 'order', clip: 'c1', from: 'hip', to: 'shoulder' },
  { id: 'apart', kind: 'time-between', clip: 'c1', from: 'hip', to: 'shoulder' },
  { id: 'frames', kind: 'frame-count', clip: 'c1', from: 'shoulder', to: 'hip' },
  { id: 'landing', kind: 'order', clip: 'c1', from: 'foot', to: 'hand' },
  { id: 'open', kind: 'order', clip: 'c1', from: 'elbow', to: 'contact' },
  { id: 'hit', kind: 'order', clip: 'c1', from: 'hip', to: 'contact' },
  { id: 'there', kind: 'order', clip: 'c2', from: 'hip2', to: 'shoulder2' },
  { id: 'standing', kind: 'order', clip: 'c1', from: 'down', to: 'contact' },
]
const event = (id: string, name: string, earliest: number, latest = earliest + 1, clip = 'c1') => ({ id, clip, name, earliest, latest })

const film = (words: Inline[], evidence: Evidence[], classes: ClaimClass[] = ['C']): Breakdown => {
  const quoted = words.map((each) => (typeof each === 'string' ? each : 'value' in each ? `{${each.value}}` : '')).join('')
  return {
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
      { id: 'c1', footage: 'f1', from: 0, to: 100, name: 'Varga, ringside', capture: { factor: '1', u: 0 } },
      { id: 'c2', footage: 'f1', from: 100, to: 200, name: 'Selmane, far side', capture: { factor: '1', u: 0 } },
    ],
    views: [
      { clip: 'c1', subject: 's1', from: 0, to: 100 },
      { clip: 'c2', subject: 's2', from: 100, to: 200 },
    ],
    events: [
      event('shoulder', 'shoulder turn', 20),
      event('hip', 'hip turn', 30),
      event('hand', 'hand contact', 40),
      event('foot', 'rear foot plant', 50),
      event('elbow', 'elbow drop', 58, 64),
      event('contact', 'contact', 60),
      event('down', 'foot down', 45),
      event('hip2', 'hip turn', 120, 121, 'c2'),
      event('shoulder2', 'shoulder turn', 130, 131, 'c2'),
    ],
    measures,
    script: [{ id: 'p1', text: words }],
    claims: [{ id: 'a', on: { part: 'sentence', paragraph: 'p1', words: quoted }, classes, evidence, state: 'confirmed' }],
  }
}
const found = (words: Inline[] | string, evidence: Evidence[], classes?: ClaimClass[]) => {
  const document = film(typeof words === 'string' ? [words] : words, evidence, classes)
  return findingsOf(document, new Map(readingsOf(document, table).map((each) => [each.id, each]))).filter(holdsBack)
}
const codes = (...asked: Parameters<typeof found>): string[] => found(...asked).map(({ code }) => code)
const turns: Evidence = { reading: 'turns' }
const landing: Evidence = { reading: 'landing' }

describe('an order that is named the other way round than it was measured', () => {
  it.each<[string, Evidence]>([
    ['The hip turns before the shoulder.', turns],
    ['The hip turns before the shoulder turns.', turns],
    ['The hips turn well before the shoulders.', turns],
    ['Before the shoulder turns, the hip has turned.', turns],
    ['After the hip turn, the shoulder turns.', turns],
    ['The shoulder turns after the hip.', turns],
    ['The shoulder follows the hip.', turns],
    ['The hip is followed by the shoulder.', turns],
    ['The hip leads the shoulder.', turns],
    ['The hip leads and the shoulder follows.', turns],
    ['Hip, then shoulder.', turns],
    ['First the hip turns, then the shoulder.', turns],
    ['The hip turns first.', turns],
    ['Hips first, shoulders second.', turns],
    ['The turn of the hip comes before the turn of the shoulder.', turns],
    ['The hip turns a moment before the shoulder.', turns],
    ['The hip leads.', turns],
    ['The hip comes first, then the shoulder.', turns],
    ['Varga’s hip turns before her shoulder.', turns],
    ['The hip rotates earlier than the shoulder.', turns],
    ['The foot lands before the hand.', landing],
    ['The rear foot lands before the hand.', landing],
    ['The hand lands after the foot.', landing],
    ['The hip turns before the shoulder.', { reading: 'apart' }],
    ['The hip turns before the shoulder.', { reading: 'frames' }],
    ['The hip turns before the shoulder.', { events: ['hip', 'shoulder'] }],
    ['The hip turns before the shoulder.', { events: ['shoulder', 'hip'] }],
    ['In the first clip the hip turns before the shoulder.', turns],
    ['In the first the hip leads the shoulder; in the second it cannot be told.', turns],
    ['The hip turns after contact.', { reading: 'hit' }],
    ['The hip turns before the shoulder, but how far it turns cannot be told.', turns],
    ['How far the knee bends is unclear; the hip turns before the shoulder.', turns],
    ['The contact came before the foot was down.', { reading: 'standing' }],
    ['Contact comes before foot down.', { reading: 'standing' }],
    ['The foot came down after contact.', { reading: 'standing' }],
    ['After contact, the foot is down.', { events: ['contact', 'down'] }],
  ])('should be named: “%s” on %o', (words, evidence) => expect(codes(words, [evidence])).toEqual(['order-reversed']))

  it.each<[string, Evidence]>([
    ['The shoulder turns before the hip.', turns],
    ['After the shoulder turn, the hip turns.', turns],
    ['The hip follows the shoulder.', turns],
    ['The shoulder is followed by the hip.', turns],
    ['Shoulder, then hip.', turns],
    ['The shoulder turns first.', turns],
    ['The hand lands before the foot.', landing],
    ['The shoulder turns before the hip.', { events: ['hip', 'shoulder'] }],
    ['The hip turns before contact.', { reading: 'hit' }],
    ['The foot was down before contact.', { reading: 'standing' }],
    ['The contact came before the foot was not down.', { reading: 'standing' }],
    ['The contact came before the foot was lifted down.', { reading: 'standing' }],
    // Taken back, supposed, asked, wished for.
    ['The hip does not turn before the shoulder.', turns],
    ['The hip never turns before the shoulder here.', turns],
    ['The hip should turn before the shoulder.', turns],
    ['You would think the hip turns before the shoulder.', turns],
    ['The hip seems to turn before the shoulder.', turns],
    ['The textbook has the hip turn before the shoulder.', turns],
    ['Does the hip turn before the shoulder?', turns],
    ['Look whether the hip turns before the shoulder.', turns],
    ['Whether the hip turns before the shoulder cannot be told.', turns],
    ['The hip turns before the shoulder, or the other way round.', turns],
    // Other things than what was measured.
    ['The hip bends before the shoulder turns.', turns],
    ['The hip moves before the shoulder.', turns],
    ['The rear hip turns before the shoulder.', turns],
    ['The second hip turn comes before the shoulder.', turns],
    ['The knee turns before the shoulder.', turns],
    ['The hip turns before the knee, and the shoulder with it.', turns],
    ['The hip turns before contact, the shoulder after.', turns],
    ['The foot lifts before the hand lands.', landing],
    ['The lead foot lands before the hand.', landing],
    ['At first the hip and the shoulder turn together.', turns],
    ['The first hip turn, and then the fall.', turns],
    ['Selmane’s hip turns before her shoulder.', turns],
    ['From the far side, the hip turns before the shoulder.', turns],
    ['Hip first. No more.', turns],
    ['The hip turns first. ', { events: ['hip', 'shoulder', 'foot'] }],
    ['Hand first, foot second.', { reading: 'hit' }],
    ['It lands foot first.', landing],
    ['First, watch the hip turn.', turns],
    ['First, watch the hip turn, then the shoulder turn.', turns],
    ['In the second clip the hip turns before the shoulder.', turns],
    ['The hip starts to turn before the shoulder.', turns],
    ['In the first the hip turns before the shoulder, in the second after it.', turns],
  ])('should not be heard in “%s” on %o', (words, evidence) => expect(codes(words, [evidence])).not.toContain('order-reversed'))

  it('should be told with what was measured and what can be done', () => {
    expect(found('The hip turns before the shoulder.', [{ reading: 'apart' }])).toMatchObject([
      {
        problem: '“before” puts hip turn before shoulder turn, and by what was measured shoulder turn came first, by 0.167 s ± 0.013 s',
        wayOut: 'Turn the words round, or look at both events again.',
        holds: true,
      },
    ])
    expect(found('Hip, then shoulder.', [turns])[0]?.problem).toMatch(/came first, by at least 9 frames$/u)
    expect(found('Hip, then shoulder.', [turns, { reading: 'apart' }])).toMatchObject([
      { problem: expect.stringMatching(/0\.167 s/u) as string },
    ])
  })

  it('should be heard beside a live value as well, and in other films not', () => {
    expect(codes(['The hip turns before the shoulder: ', { value: 'turns' }, '.'], [])).toContain('order-reversed')
    expect(codes(['The shoulder turns before the hip: ', { value: 'turns' }, '.'], [])).not.toContain('order-reversed')
    expect(codes('The hip turns before the shoulder.', [turns], ['M'])).not.toContain('order-reversed')
    expect(codes('The hip turns before the shoulder.', [turns], ['C', 'K'])).not.toContain('order-reversed')
  })

  it('should be heard of the peaks of two turns', () => {
    const peak = (id: string, joint: string, more: object = {}): Measure => ({
      id,
      kind: 'peak-time',
      clip: 'c1',
      subject: 's1',
      fromFrame: 0,
      toFrame: 60,
      points: [`${joint}.left`, `${joint}.right`],
      ...more,
    })
    const told = (words: string, value: number, more: object = {}) => {
      const document = film([words], [{ reading: 'peaks' }])
      const peaks: Measure[] = [
        peak('p-hip', 'hip'),
        peak('p-shoulder', 'shoulder', more),
        { id: 'peaks', kind: 'peak-order', measures: ['p-hip', 'p-shoulder'] },
      ]
      return findingsOf(
        { ...document, measures: peaks },
        new Map([
          [
            'peaks',
            reading('peaks', 'one before the other', '', { kind: 'peak-order', value, unit: '', verdict: value === 0 ? 'range' : 'good' }),
          ],
        ]),
      )
        .filter(holdsBack)
        .map(({ code }) => code)
    }
    expect([
      told('The hips turn before the shoulders.', -1),
      told('The hips turn before the shoulders.', 1),
      told('The hips turn before the shoulders.', 0),
    ]).toEqual([['order-reversed'], [], ['stronger-than-verdict']])
    expect(told('The hips turn before the shoulders.', -1, { subject: 's2' })).toEqual([])
  })

  it('should not be heard where something else that it rests on bears it', () => {
    expect(codes('The hip turns before the shoulder.', [turns, { reading: 'there' }])).toEqual([])
    expect(codes('Varga’s hip turns before her shoulder.', [turns, { reading: 'there' }])).toEqual(['order-reversed'])
    expect(codes('The elbow drops before contact.', [{ reading: 'open' }])).toEqual(['stronger-than-verdict'])
  })
})
