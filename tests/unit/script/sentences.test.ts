import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { sentencesOf } from '../../../app/script/sentences'

const texts = (text: string): string[] => sentencesOf(text).map((sentence) => sentence.text.trim())

describe('sentences', () => {
  it.each([
    ['The hip turns. Then the fist follows!', ['The hip turns.', 'Then the fist follows!']],
    ['He moves 142° ± 12° vs. the rear one. About half.', ['He moves 142° ± 12° vs. the rear one.', 'About half.']],
    ['It takes approx. 0.5 s. Next.', ['It takes approx. 0.5 s.', 'Next.']],
    ['Clips no. 3 and no. 4 by J. Varga agree. Done.', ['Clips no. 3 and no. 4 by J. Varga agree.', 'Done.']],
    ['Is it? No. The heel lifts.', ['Is it?', 'No.', 'The heel lifts.']],
    ['', []],
  ])('%s', (text, expected) => expect(texts(text)).toEqual(expected))
  it('cover the text without a gap', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom('a', 'B', '. ', '.', ' ', '3', '!', '?', 'vs', 'approx', '“', '\n', 'ß') }), (text) => {
        expect(
          sentencesOf(text)
            .map((sentence) => sentence.text)
            .join(''),
        ).toBe(text)
        let at = 0
        for (const sentence of sentencesOf(text)) {
          expect(sentence.from).toBe(at)
          at = sentence.to
        }
      }),
    )
  })
})
