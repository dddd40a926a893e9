import { describe, expect, it } from 'vitest'
import { inWords, numberInWords, numberPhrasesOf } from '../../../app/script/number-words'

describe('numbers in words', () => {
  it.each([
    ['45° ± 12°', 'forty-five degrees plus or minus twelve degrees'],
    ['0.2 s later', 'zero point two seconds later'],
    ['0.30 s', 'zero point three zero seconds'],
    ['20–70°', 'twenty to seventy degrees'],
    ['at ¼ speed', 'at one quarter speed'],
    ['at 1/8 speed', 'at one eighth speed'],
    ['2/3 of it', 'two thirds of it'],
    ['the 1st of 3', 'the first of three'],
    ['1 s', 'one second'],
    ['3 m/s', 'three metres per second'],
    ['1,245 frames', 'one thousand two hundred and forty-five frames'],
    ['−3.5°', 'minus three point five degrees'],
    ['50 %', 'fifty per cent'],
    ['≈ 7 m/s', 'about seven metres per second'],
    ['three frames', 'three frames'],
    ['clip p1 and x2', 'clip p1 and x2'],
  ])('%s is said "%s"', (text, said) => expect(inWords(text)).toBe(said))
  it('leaves a number too long to say as it stands', () => expect(numberInWords('12345678901234567890')).toBe('12345678901234567890'))
  it('finds a number with its error, unit and unit noun as one phrase', () => {
    const text = 'from 142° ± 12° it takes 0.30 s, that is 9 frames'
    expect(numberPhrasesOf(text).map((phrase) => text.slice(phrase.from, phrase.to))).toEqual(['142° ± 12°', '0.30 s', '9 frames'])
  })
})
