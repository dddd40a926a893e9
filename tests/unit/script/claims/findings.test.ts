import { describe, expect, it } from 'vitest'
import type { Reading } from '../../../../app/measure/reading'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Evidence } from '../../../../app/project/claim'
import type { Inline } from '../../../../app/project/picture'
import { holdsBack } from '../../../../app/script/claims/finding'
import { findingsOf } from '../../../../app/script/claims/findings'
import { statedClaims } from '../../../../app/script/claims/stated-claim'
import { typedNumbersOf } from '../../../../app/script/claims/typed-numbers'

function reading(id: string, parts: Partial<Reading> = {}): Reading {
  return {
    id,
    kind: 'joint-angle',
    clip: 'c1',
    frame: 10,
    value: 142,
    u: 6,
    U: 12,
    low: 130,
    high: 154,
    unit: '°',
    plane: 'image',
    verdict: 'good',
    reasons: [],
    parts: [],
    label: 'apparent knee angle, image plane: 142° ± 12°',
    plate: { value: '142° ± 12°', what: 'apparent knee angle, image plane' },
    spoken: 'about 140 degrees',
    ...parts,
  }
}

const readings = new Map([
  ['m1', reading('m1')],
  ['wide', reading('wide', { verdict: 'range', U: 30, plate: { value: 'roughly 20–70°', what: 'separation' } })],
  [
    'none',
    reading('none', {
      verdict: 'refused',
      value: null,
      u: null,
      U: null,
      low: null,
      high: null,
      label: 'time: not measured',
      plate: { value: 'not measured', what: 'time' },
    }),
  ],
  ['order', reading('order', { kind: 'order', verdict: 'range', unit: '' })],
])

const script = (...text: Inline[]): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'T',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' }],
  events: [{ id: 'e1', clip: 'c1', name: 'contact', earliest: 5, latest: 6 }],
  script: [{ id: 'p1', text }],
})
const codes = (...text: Inline[]): string[] => findingsOf(script(...text), readings).map((finding) => finding.code)

describe('numbers that were typed', () => {
  it.each([
    ['The knee is at 145°.', ['145°']],
    ['It takes 0.2 s.', ['0.2 s']],
    ['He is 9 frames early.', ['9 frames']],
    ['The knee is at about forty-five degrees.', ['forty-five degrees']],
    ['One hundred and forty degrees at contact.', ['One hundred and forty degrees']],
    ['Half a second later he steps.', ['Half a second']],
    ['A fist at 9.3 m/s and 45 ± 12 degrees.', ['9.3 m/s', '45 ± 12 degrees']],
    ['Two shoulder widths apart.', ['Two shoulder widths']],
    ['It is 4x the drop, or 4 × hers.', ['4x', '4 ×']],
    ['The fist moves at 30 mph.', ['30 mph']],
    ['She stands at 80 kg, 176 lbs.', ['80 kg', '176 lbs']],
    ['He steps 2 feet, then six feet back.', ['2 feet']],
    ['He lands two feet away, at thirty miles an hour.', ['two feet away', 'thirty miles']],
  ])('should find them in “%s”', (text, wanted) => {
    expect(typedNumbersOf(text).map((typed) => typed.text)).toEqual(wanted)
  })

  it.each([
    'Shot at 120 frames a second.',
    'Again in a second clip.',
    'In one second bout he waits.',
    'He steps three times.',
    'Round 2 begins.',
    'Two right hands.',
    'At a quarter of the speed.',
    'Both feet are down.',
    'Two feet on the floor.',
    'Once more at 4x slow motion.',
    'A ring of 2 x 3.',
  ])('should leave “%s” alone', (text) => expect(typedNumbersOf(text)).toEqual([]))
})

describe('findings', () => {
  it('should leave a live value alone and name a number typed beside it', () => {
    expect(codes('The knee is at ', { value: 'm1' }, '.')).toEqual([])
    expect(codes('The knee is at ', { value: 'm1' }, ', not 120 degrees.')).toEqual(['typed-number'])
  })

  it('should say where, which sentence, and what can be done', () => {
    const [finding] = findingsOf(script('He plants. The knee is at 145°. Then he turns.'), readings)
    expect(finding).toMatchObject({ place: 'script[0].text', paragraph: 'p1', sentence: 'The knee is at 145°.' })
    expect(finding!.problem).toContain('145°')
    expect(finding!.wayOut).toContain('live value')
  })

  it('should name values and cues that point at nothing, and values that were refused', () => {
    expect(codes({ value: 'gone' })).toEqual(['value-missing'])
    expect(codes('Here is the ', { cue: 'e9', word: 'contact' })).toEqual(['cue-missing'])
    expect(codes('It takes ', { value: 'none' }, '.')).toEqual(['value-refused'])
  })

  it('should name exactly the users of a value that has changed', () => {
    const confirmed = (words: string, measure: string, reads: string) => ({
      id: words,
      on: { part: 'sentence' as const, paragraph: 'p1', words },
      classes: ['B' as const],
      state: 'confirmed' as const,
      values: [{ measure, reads }],
    })
    const measure = (id: string) => ({
      id,
      kind: 'joint-angle' as const,
      clip: 'c1',
      subject: 's1',
      frame: 10,
      points: ['hip.left', 'knee.left', 'ankle.left'],
    })
    const document = {
      ...script('A ', { value: 'm1' }, '. B ', { value: 'wide' }, '. Nearly straight.'),
      measures: [measure('m1'), measure('wide')],
      claims: [
        confirmed('A {m1}.', 'm1', '131° ± 12°'),
        confirmed('B {wide}.', 'wide', 'roughly 20–70°'),
        { ...confirmed('Nearly straight.', 'm1', '170° ± 12°'), evidence: [{ reading: 'm1' }] },
      ],
    }
    expect(
      findingsOf(document, readings)
        .filter(holdsBack)
        .map((f) => [f.code, f.sentence, f.problem]),
    ).toEqual([
      [
        'value-changed',
        'A 142° ± 12°.',
        'the value of apparent knee angle, frame 10 of c1 was 131° ± 12° when this was confirmed, and is now 142° ± 12°',
      ],
      [
        'value-changed',
        'Nearly straight.',
        'the value of apparent knee angle, frame 10 of c1 was 170° ± 12° when this was confirmed, and is now 142° ± 12°',
      ],
    ])
    expect(
      statedClaims(document, readings)
        .claims.filter(({ saying }) => saying.on.part === 'sentence')
        .map(({ state }) => state),
    ).toEqual(['to-confirm', 'confirmed', 'to-confirm'])
    // Not read yet, or back at what it was: nothing has changed.
    expect(statedClaims(document, new Map()).claims.filter(({ state }) => state === 'to-confirm')).toEqual([])
    expect(
      statedClaims(document, new Map([...readings, ['m1', reading('m1', { plate: { value: '131° ± 12°', what: '' } })]]))
        .claims.filter(({ state }) => state === 'to-confirm')
        .map(({ saying }) => saying.shown),
    ).toEqual(['Nearly straight.'])
  })

  it('should keep letting stand what was let stand while the measure was named by its id', () => {
    const document = {
      ...script('It takes ', { value: 'none' }, '.'),
      measures: [{ id: 'none', kind: 'time-between' as const, clip: 'c1', from: 'e1', to: 'e1', label: 'the whole turn' }],
    }
    const [open] = findingsOf(document, readings)
    expect(open).toMatchObject({
      code: 'value-refused',
      problem: 'the value of the whole turn cannot be given: not measured',
      override: null,
    })
    const stands = (problem: string) =>
      findingsOf(
        {
          ...document,
          overrides: [
            {
              id: 'o1',
              finding: 'value-refused',
              on: open!.on!,
              problem,
              reason: 'It is said to be open.',
              by: 'M. Soray',
              when: '2026-03-01',
            },
          ],
        },
        readings,
      )[0]?.override?.id
    expect([
      stands(open!.problem),
      stands('the value of none cannot be given: time: not measured'),
      stands('the value of another cannot be given: time: not measured'),
    ]).toEqual(['o1', 'o1', undefined])
  })

  it('should name wording stronger than the verdict', () => {
    expect(codes('It is exactly ', { value: 'wide' }, '.')).toEqual(['stronger-than-verdict'])
    expect(codes('The hip turns before the shoulder: ', { value: 'order' }, '.')).toContain('stronger-than-verdict')
    expect(codes('Whether the hip turns before the shoulder cannot be told: ', { value: 'order' }, '.')).not.toContain(
      'stronger-than-verdict',
    )
  })

  it('should ask which earlier film is meant, and hold nothing back for it', () => {
    const words = 'It is the same step as in the last film.'
    const told = (evidence: Evidence[]) =>
      findingsOf(
        {
          ...script(words),
          claims: [{ id: 'k', on: { part: 'sentence', paragraph: 'p1', words }, classes: ['K'], evidence, state: 'confirmed' }],
        },
        readings,
      ).map(({ code, holds }) => [code, holds])
    expect(told([])).toEqual([['film-missing', false]])
    expect(told([{ film: 'The step', at: '8:12' }])).toEqual([])
  })

  it('should read chapters, cards and words on the picture too', () => {
    const document = script('Words.')
    document.script = [
      { chapter: 'A turn of 40°' },
      {
        id: 'p1',
        text: ['Words.'],
        shots: [
          { card: 'text', lines: ['0.3 s'] },
          {
            hold: 'c1',
            at: 5,
            seconds: '1',
            marks: [
              'gone',
              { word: '90°', at: [1, 1] },
              {
                arrow: [
                  [0, 0],
                  [5, 5],
                ],
                on: 'e9',
              },
            ],
          },
          { run: 'c9', from: 0, to: 5, speed: '1' },
        ],
      },
    ]
    expect(
      findingsOf(document, readings)
        .map((f) => f.code)
        .filter((code) => code !== 'not-measured'),
    ).toEqual(['typed-number', 'typed-number', 'typed-number', 'mark-missing', 'mark-missing', 'shot-missing'])
  })

  it('should find nothing on a sentence of the notices, whatever stands before it on the card', () => {
    const onCard = (...lines: string[]) =>
      findingsOf({ ...script('Words.'), script: [{ id: 'p1', text: ['Words.'], shots: [{ card: 'caution', lines }] }] }, readings)
        .filter(({ on }) => on?.part === 'card')
        .map(({ code }) => code)
    expect(onCard('Shows hard punches.', 'Values are estimates from video, with stated error.')).toEqual([])
    expect(onCard('Shows hard punches. Values are estimates from video, with stated error.')).toEqual([])
    expect(onCard('Values are estimates from video, with an error of 12°.')).not.toEqual([])
  })
})
