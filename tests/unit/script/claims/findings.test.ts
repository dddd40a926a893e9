import { describe, expect, it } from 'vitest'
import type { Reading } from '../../../../app/measure/reading'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Inline } from '../../../../app/project/picture'
import { findingsOf } from '../../../../app/script/claims/findings'
import { typedNumbersOf } from '../../../../app/script/claims/typed-numbers'

function reading(id: string, parts: Partial<Reading> = {}): Reading {
  return {
    id, kind: 'joint-angle', clip: 'c1', frame: 10, value: 142, u: 6, U: 12, low: 130, high: 154, unit: '°', plane: 'image', verdict: 'good', reasons: [], parts: [],
    label: 'apparent knee angle, image plane: 142° ± 12°', plate: { value: '142° ± 12°', what: 'apparent knee angle, image plane' }, spoken: 'about 140 degrees', ...parts,
  }
}

const readings = new Map([
  ['m1', reading('m1')],
  ['wide', reading('wide', { verdict: 'range', U: 30, plate: { value: 'roughly 20–70°', what: 'separation' } })],
  ['none', reading('none', { verdict: 'refused', value: null, u: null, U: null, low: null, high: null, label: 'time: not measured', plate: { value: 'not measured', what: 'time' } })],
  ['order', reading('order', { kind: 'order', verdict: 'range', unit: '' })],
])

const script = (...text: Inline[]): Breakdown => ({
  format: 'claimframe-breakdown', version: 1, title: 'T', output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }], subjects: [], clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' }],
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
  ])('should find them in “%s”', (text, wanted) => {
    expect(typedNumbersOf(text).map((typed) => typed.text)).toEqual(wanted)
  })

  it.each(['Shot at 120 frames a second.', 'Again in a second clip.', 'In one second bout he waits.', 'He steps three times.', 'Round 2 begins.', 'Two right hands.', 'At a quarter of the speed.', 'Both feet are down.'])(
    'should leave “%s” alone',
    (text) => expect(typedNumbersOf(text)).toEqual([]),
  )
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
    const document = script('A ', { value: 'm1' }, '. B ', { value: 'wide' }, '.')
    const before = new Map([['m1', reading('m1', { plate: { value: '131° ± 12°', what: '' } })], ['wide', readings.get('wide')!]])
    expect(findingsOf(document, readings, before).map((f) => [f.code, f.sentence])).toEqual([['value-changed', 'A 142° ± 12°.']])
  })

  it('should name wording stronger than the verdict', () => {
    expect(codes('It is exactly ', { value: 'wide' }, '.')).toEqual(['stronger-than-verdict'])
    expect(codes('The hip turns before the shoulder: ', { value: 'order' }, '.')).toContain('stronger-than-verdict')
    expect(codes('Whether the hip turns before the shoulder cannot be told: ', { value: 'order' }, '.')).not.toContain('stronger-than-verdict')
  })

  it('should read chapters, cards and words on the picture too', () => {
    const document = script('Words.')
    document.script = [{ chapter: 'A turn of 40°' }, { id: 'p1', text: ['Words.'], shots: [{ card: 'text', lines: ['0.3 s'] }, { hold: 'c1', at: 5, seconds: '1', marks: ['gone', { word: '90°', at: [1, 1] }, { arrow: [[0, 0], [5, 5]], on: 'e9' }] }, { run: 'c9', from: 0, to: 5, speed: '1' }] }]
    expect(findingsOf(document, readings).map((f) => f.code).filter((code) => code !== 'not-measured')).toEqual(['typed-number', 'typed-number', 'typed-number', 'mark-missing', 'mark-missing', 'shot-missing'])
  })
})
