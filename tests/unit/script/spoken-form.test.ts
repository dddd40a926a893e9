import { describe, expect, it } from 'vitest'
import { MISSING_VALUE, shownText, spokenText, wordsOf, type Readings } from '../../../app/script/spoken-form'
import { paragraph, reading, readings } from './sample-script'

const knee = paragraph(
  'p1',
  'The lead knee is at ',
  { value: 'm1' },
  ' at ',
  { cue: 'e1', word: 'contact' },
  '. ',
  { note: 'breathe' },
  'It took ',
  { value: 'm2' },
  '.',
)

describe('the spoken and the shown form', () => {
  it('say live values in their spoken form, numbers in words, notes left out', () => {
    expect(spokenText(knee, readings)).toBe(
      'The lead knee is at about one hundred and forty-two degrees at contact. It took about zero point three seconds.',
    )
  })
  it('show live values with their error', () =>
    expect(shownText(knee, readings)).toBe('The lead knee is at 142° ± 12° at contact. It took 0.30 s ± 0.03 s.'))
  it('show the whole label, the value with its error, or the words, by the value’s form', () => {
    const show = (form: 'label' | 'value' | 'spoken'): string => shownText(paragraph('p', { value: 'm1', form }), readings)
    expect([show('label'), show('value'), show('spoken')]).toEqual([
      'apparent knee angle, image plane: 142° ± 12°',
      '142° ± 12°',
      'about 142 degrees',
    ])
  })
  it('name a value that points at nothing', () => {
    expect(shownText(paragraph('p', 'At ', { value: 'gone' }, '.'), readings)).toBe(`At ${MISSING_VALUE}.`)
    expect(spokenText(paragraph('p', 'At ', { value: 'gone' }, '.'), readings)).toBe('At no value.')
  })
  it('keep a number with its hedge, sign, error, unit and punctuation in one piece', () => {
    const words = wordsOf(
      paragraph('p', 'It is about 45 degrees, roughly ', { value: 'm1' }, '; at least 0.2 s (', { value: 'm3' }, ').'),
      readings,
    )
    expect(words.map((word) => word.shown)).toEqual([
      'It',
      'is',
      'about 45 degrees,',
      'roughly 142° ± 12°;',
      'at least 0.2 s',
      '(roughly 20–70°).',
    ])
  })
  it('let a long label break, but not in its number', () => {
    const words = wordsOf(paragraph('p', { value: 'm1', form: 'label' }), readings)
    expect(words.map((word) => word.shown)).toEqual(['apparent', 'knee', 'angle,', 'image', 'plane:', '142° ± 12°'])
    expect(words.map((word) => word.spoken).join('')).toBe('about one hundred and forty-two degrees')
  })
  it('say nothing of the marks that stand in a label', () => {
    const order = paragraph('p', 'The order is ', { value: 'o' }, '.')
    const known: Readings = new Map([
      ['o', reading('o', 'hip turn before shoulder turn (by at least 2 frames)', 'hip turn before shoulder turn')],
    ])
    expect(spokenText(order, known)).toBe('The order is hip turn before shoulder turn.')
    expect(wordsOf(order, known).map(({ shown }) => shown)).toEqual([
      'The',
      'order',
      'is',
      'hip',
      'turn',
      'before',
      'shoulder',
      'turn',
      '(by',
      'at least 2 frames).',
    ])
  })
  it('say the mark behind a value whose end is not said with its last word that is', () => {
    const known: Readings = new Map([
      ['d', reading('d', '−13° ± 17°, cannot tell apart at this precision', 'cannot tell apart at this precision')],
    ])
    const row = paragraph('p', 'The two ', { value: 'd' }, '. ', { value: 'd' }, ', she says.')
    const said = 'cannot tell apart at this precision'
    expect(spokenText(row, known)).toBe(`The two ${said}. ${said}, she says.`)
    expect(shownText(row, known)).toBe(
      'The two −13° ± 17°, cannot tell apart at this precision. −13° ± 17°, cannot tell apart at this precision, she says.',
    )
  })
  it('tell where a cue word begins', () => {
    expect(wordsOf(knee, readings).filter((word) => word.cues.length > 0)).toMatchObject([{ shown: 'contact.', cues: ['e1'] }])
  })
  it('give each piece its characters in the shown text', () => {
    const text = shownText(knee, readings)
    for (const word of wordsOf(knee, readings)) expect(text.slice(word.from, word.to)).toBe(word.shown)
  })
  it('make one line of line breaks', () => expect(shownText(paragraph('p', 'one\n two\r\n\tthree '), readings)).toBe('one two three'))
})
