import { describe, expect, it } from 'vitest'
import type { Paragraph } from '../../../app/project/picture'
import { olderValues } from '../../../app/script/older-take'
import { spokenText } from '../../../app/script/spoken-form'
import { plainWords } from '../../../app/script/plain-words'
import { findingsOf } from '../../../app/script/claims/findings'
import { breakdownOf, reading } from './sample-script'

const said = (...spoken: string[]) => new Map(spoken.map((each, i) => [`m${i}`, reading(`m${i}`, each, each)]))
const paragraph = (words: string | undefined, ...values: number[]): Paragraph => ({
  id: 'p1',
  text: values.flatMap((i) => ['It is ', { value: `m${i}` }, ' here. ']),
  take: 'p1.wav',
  ...(words === undefined ? {} : { narration: { words: plainWords(words) } }),
})
const older = (before: string[], now: string[]): string[] => {
  const values = now.map((_, i) => i)
  return olderValues(paragraph(spokenText(paragraph(undefined, ...values), said(...before)), ...values), said(...now)).map(
    ({ value }) => value,
  )
}

describe('a value that a take says otherwise', () => {
  it('should be found where its words are part of the old ones', () => {
    expect(older(['29 frames'], ['9 frames'])).toEqual(['m0'])
    expect(older(['-12 degrees'], ['12 degrees'])).toEqual(['m0'])
    expect(older(['140 degrees'], ['40 degrees'])).toEqual(['m0'])
    expect(older(['21'], ['20'])).toEqual(['m0'])
    expect(older(['120'], ['100'])).toEqual(['m0'])
    expect(older(['9 frames'], ['29 frames'])).toEqual(['m0'])
  })

  it('should be found where two values of a paragraph have changed places', () => {
    expect(older(['9 frames', '12 frames'], ['12 frames', '9 frames'])).toHaveLength(1)
    expect(older(['9 frames', '12 frames', '30 frames'], ['9 frames', '30 frames', '30 frames'])).toEqual(['m1'])
    expect(older(['9 frames', '9 frames'], ['9 frames', '12 frames'])).toEqual(['m1'])
  })

  it('should be found in a paragraph of any length', () => {
    const many = Array.from({ length: 1500 }, (_, i) => `${(i * 7) % 90} frames`)
    expect(older(many, many.with(700, '95 frames'))).toEqual(['m700'])
  })

  it('should be none where the take says all of them, as they stand', () => {
    for (const values of [
      ['29 frames'],
      ['-12 degrees', '12 degrees'],
      ['about 140 degrees', 'about 40 degrees'],
      ['142° ± 12°', '9', '9'],
    ])
      expect(older(values, values)).toEqual([])
  })
})

it('a take whose words are not known should be said to be unjudged, and hold nothing back', () => {
  const told = (row: Paragraph) =>
    findingsOf(breakdownOf([row]), said('9 frames'))
      .filter(({ code }) => code === 'take-unread')
      .map(({ problem, holds }) => [problem, holds])
  expect(told(paragraph(undefined, 0))).toEqual([['what this take says is not known, so its values are not checked: m0', false]])
  expect(told(paragraph('it is nine frames here', 0))).toEqual([])
  expect(told({ id: 'p1', text: ['No value.'], take: 'p1.wav' })).toEqual([])
})
