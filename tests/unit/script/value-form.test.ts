import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fromTo, spoken, valueWithError } from '../../../app/measure/wording'
import type { Reading } from '../../../app/measure/reading'
import { findingsOf } from '../../../app/script/claims/findings'
import { sayingsOf } from '../../../app/script/claims/saying'
import { tokensOf } from '../../../app/align/spoken-tokens'
import { headingText } from '../../../app/script/heading-text'
import { olderValues } from '../../../app/script/older-take'
import { shownText, spokenText, wordsOf } from '../../../app/script/spoken-form'
import { formsOf, saidAs, shownAs } from '../../../app/script/value-form'
import { breakdownOf, paragraph, reading } from './sample-script'

const numbers = (value: number, U: number, unit: string, ends: readonly [number, number] = [value - U, value + U]): Reading =>
  reading('m1', valueWithError(value, U, unit), spoken(value, U, unit), { value, U, u: U / 1.96, low: ends[0], high: ends[1], unit })
const knee = numbers(145.2, 5.6, '°')

describe('the forms of a value', () => {
  it('say one reading with its error, with “about”, as a range, aloud and with its name', () => {
    expect(formsOf(knee)).toEqual([
      { form: 'value', shown: '145° ± 6°' },
      { form: 'about', shown: 'about 145°' },
      { form: 'range', shown: '139° to 151°' },
      { form: 'spoken', shown: '145 degrees' },
      { form: 'label', shown: 'apparent knee angle, image plane: 145° ± 6°' },
    ])
  })
  it('round to five from an error of 8° on, as it is said aloud', () => expect(shownAs(numbers(142, 12, '°'), 'about')).toBe('about 140°'))
  it('keep the unit behind both ends, and a minus before an end', () => {
    expect(shownAs(numbers(0.3, 0.027, 's'), 'range')).toBe('0.273 to 0.327 s')
    expect(shownAs(numbers(0.3, 0.027, 's'), 'about')).toBe('about 0.30 s')
    expect(shownAs(numbers(1, 6, '°'), 'range')).toBe('−5° to 7°')
    expect(saidAs(numbers(1, 6, '°'), 'range')).toBe('minus 5 to 7 degrees')
  })
  it('round the ends of a lopsided or bounded interval outwards', () =>
    expect(shownAs(numbers(172, 12.4, '°', [159.6, 180]), 'range')).toBe('159° to 180°'))
  it('offer no numbers beside a range, an order or a comparison, whose words are all that they say', () => {
    const range = reading('m1', 'roughly 20–70°', 'roughly 20 to 70 degrees', { verdict: 'range', value: 45, U: 25, low: 20, high: 70 })
    expect([shownAs(range, 'about'), shownAs(range, 'range')]).toEqual(['roughly 20–70°', 'roughly 20–70°'])
    const apart = reading('m1', '−9° ± 17°, cannot tell apart at this precision', 'cannot tell apart at this precision', {
      kind: 'comparison',
      value: -9,
      U: 17,
      low: -26,
      high: 8,
    })
    expect(
      formsOf(apart)
        .map(({ form, shown }) => [form, shown])
        .slice(0, 2),
    ).toEqual([
      ['value', apart.plate.value],
      ['spoken', 'cannot tell apart at this precision'],
    ])
    expect(formsOf(apart).some(({ form }) => form === 'about' || form === 'range')).toBe(false)
  })
  it('offer nothing where nothing was measured', () =>
    expect(
      formsOf(reading('m1', 'not measured', 'not measured', { verdict: 'refused', value: null, u: null, U: null, low: null, high: null })),
    ).toEqual([]))
  it('give a range that the value with its error says as well, whatever the unit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -500, max: 500, noNaN: true }),
        fc.double({ min: 0.01, max: 40, noNaN: true }),
        fc.constantFrom('°', 's', 'm', 'head heights'),
        (value, U, unit) => {
          const read = (text: string): number[] =>
            [...text.replaceAll('−', '-').matchAll(/-?\d+(?:\.\d+)?/g)].map(([number]) => Number(number))
          const [middle = NaN, error = NaN] = read(valueWithError(value, U, unit))
          const [low = NaN, high = NaN] = read(fromTo(value, U, value - U, value + U, unit))
          expect(low).toBeCloseTo(middle - error, 9)
          expect(high).toBeCloseTo(middle + error, 9)
        },
      ),
    )
  })
})

describe('a form among words', () => {
  const words = paragraph('p1', 'The knee is at ', { value: 'm1', form: 'range' }, '.')
  const readings = new Map([['m1', knee]])
  it('is shown and said in captions and narration', () => {
    expect(shownText(words, readings)).toBe('The knee is at 139° to 151°.')
    expect(spokenText(words, readings)).toBe('The knee is at one hundred and thirty-nine to one hundred and fifty-one degrees.')
    expect(spokenText(paragraph('p1', 'At ', { value: 'm1', form: 'about' }, '.'), readings)).toBe(
      'At about one hundred and forty-five degrees.',
    )
  })
  it.each(['about', 'Around', 'roughly', 'approximately', 'approx.'])('does not say again what “%s” before it says already', (hedge) => {
    const typed = paragraph('p1', `It is bent. ${hedge} `, { value: 'm1', form: 'about' }, ' and about ', { value: 'm2' }, ' lie between.')
    const both = new Map([
      ['m1', knee],
      ['m2', reading('m2', 'roughly 20–70°', 'roughly 20 to 70 degrees', { verdict: 'range', value: 45, U: 25, low: 20, high: 70 })],
    ])
    expect(shownText(typed, both)).toBe(`It is bent. ${hedge} 145° and about 20–70° lie between.`)
    expect(spokenText(typed, both)).toContain(' one hundred and forty-five degrees and about twenty to seventy degrees lie between.')
    expect(spokenText(typed, both)).not.toMatch(/about about|(?:around|roughly|approximately) about|about roughly/i)
    // Evidence and captions say the same, and a take of these words is not older than they are.
    expect(
      sayingsOf(breakdownOf([typed]), both)
        .map(({ shown }) => shown)
        .join(' '),
    ).toContain(`${hedge} 145° and about 20–70° lie between.`)
    const taken = { ...typed, take: 'p1.wav', narration: { words: tokensOf(wordsOf(typed, both)).map(({ word }) => word) } }
    expect(olderValues(taken, both)).toEqual([])
    expect(olderValues(taken, new Map(both).set('m1', numbers(150, 5.6, '°'))).map(({ value, said }) => [value, said])).toEqual([
      ['m1', '150 degrees'],
    ])
  })
  it('keeps its “about” behind any other word', () => {
    expect(
      shownText(
        paragraph('p1', 'Not about it: ', { value: 'm1', form: 'about' }, ', nearly ', { value: 'm1', form: 'about' }, '.'),
        readings,
      ),
    ).toBe('Not about it: about 145°, nearly about 145°.')
    expect(headingText({ chapter: ['About ', { value: 'm1', form: 'about' }] }, readings)).toBe('About 145°')
  })
  it('is what the evidence quotes as said, under the same words as before', () => {
    const said = sayingsOf(breakdownOf([words]), readings).find(({ on }) => on.part === 'sentence')
    expect([said?.shown, said?.on.words, said?.values]).toEqual(['The knee is at 139° to 151°.', 'The knee is at {m1}.', ['m1']])
  })
  it('makes a take that says the value otherwise an older one', () => {
    const spokenWith = (said: string) =>
      findingsOf(breakdownOf([{ ...words, take: 'p1.wav', narration: { words: said.split(' ') } }]), readings).filter(
        ({ code }) => code === 'take-older',
      )
    expect(spokenWith('the knee is at one hundred and thirty nine to one hundred and fifty one degrees')).toEqual([])
    expect(spokenWith('the knee is at one hundred and forty five degrees')).toHaveLength(1)
  })
})
