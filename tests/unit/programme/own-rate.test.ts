import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { tokensOf } from '../../../app/align/spoken-tokens'
import { expectedSound, FEWEST_TAKES, ownRate } from '../../../app/programme/own-rate'
import type { Paragraph } from '../../../app/project/picture'
import { DEFAULT_RATE, speakingTime, SPEAKING_TOLERANCE, type SpeakingRate } from '../../../app/script/speaking-time'
import { wordsOf } from '../../../app/script/spoken-form'
import { paragraph, readings } from '../script/sample-script'

const sentence = fc
  .array(
    fc.constantFrom(
      'the rear hip,',
      'rotation',
      'turns over the pelvis',
      'about 45°',
      'before the shoulders;',
      'a planted foot',
      'supraspinatus',
    ),
    { minLength: 2, maxLength: 8 },
  )
  .map((pieces) => `The ${pieces.join(' ')} stops.`)
const text = fc.array(sentence, { minLength: 1, maxLength: 5 }).map((sentences) => sentences.join(' '))
/// Speakers within what people do, and one paragraph's departure from the model, as a fraction.
const within = (from: number, to: number) => fc.noBias(fc.integer({ min: 0, max: 1000 })).map((part) => from + ((to - from) * part) / 1000)
const speaker = fc.record({
  syllablesPerSecond: within(3.2, 5.6),
  comma: within(0.1, 0.5),
  sentence: within(0.2, 0.9),
  paragraph: fc.constant(0.9),
})
/// About normal, σ = 0.05: the sum of four uniform parts.
const departure = fc
  .tuple(within(-1, 1), within(-1, 1), within(-1, 1), within(-1, 1))
  .map((parts) => (0.05 * parts.reduce((sum, x) => sum + x, 0)) / Math.sqrt(4 / 3))

function recorded(id: string, words: string, rate: SpeakingRate, off: number): Paragraph {
  const plain = paragraph(id, words)
  const pieces = wordsOf(plain, readings)
  const times = speakingTime(plain, readings, rate).words
  const tokens = tokensOf(pieces)
  return {
    ...plain,
    take: `${id}.wav`,
    narration: { words: tokens.map(({ word }) => word), onsets: tokens.map(({ piece }) => 0.7 + (1 + off) * times[piece]!.from) },
  }
}

describe("a speaker's own rate", () => {
  it('is the default with its ± 10 % while fewer than three paragraphs are recorded', () => {
    const two = [
      recorded('a', 'The hip turns before the shoulders do.', { ...DEFAULT_RATE, syllablesPerSecond: 3 }, 0),
      recorded('b', 'The foot is planted, and the knee bends.', { ...DEFAULT_RATE, syllablesPerSecond: 3 }, 0),
    ]
    for (const script of [[], two]) {
      const own = ownRate(script, readings)
      expect(own).toMatchObject({ rate: DEFAULT_RATE, takes: 0 })
      const { seconds, U } = expectedSound(two[0]!, readings, own)
      expect(seconds).toBeCloseTo(speakingTime(two[0]!, readings).sound, 9)
      expect(U).toBeCloseTo(SPEAKING_TOLERANCE * seconds, 9)
    }
    expect(FEWEST_TAKES).toBe(3)
  })
  it('finds the rate of a steady speaker, and a steady speaker shrinks the error', () => {
    fc.assert(
      fc.property(speaker, fc.array(text, { minLength: 40, maxLength: 40 }), text, (rate, texts, next) => {
        const script = texts.map((words, i) => recorded(`p${i}`, words, rate, 0))
        const asked = paragraph('next', next)
        const truth = speakingTime(asked, readings, rate).sound
        const errors = [FEWEST_TAKES, 10, 40].map((takes) => expectedSound(asked, readings, ownRate(script.slice(0, takes), readings)))
        expect(errors[1]!.U / errors[1]!.seconds).toBeLessThan(errors[0]!.U / errors[0]!.seconds)
        expect(errors[2]!.U / errors[2]!.seconds).toBeLessThan(errors[1]!.U / errors[1]!.seconds)
        expect(Math.abs(errors[2]!.seconds - truth)).toBeLessThan(0.03 * truth)
        expect(errors[2]!.U).toBeLessThan(0.06 * errors[2]!.seconds)
      }),
      { seed: 6, numRuns: 60 },
    )
  })
  it('holds the time of a new paragraph within its error in 90 % of cases or more', () => {
    let inside = 0
    let all = 0
    fc.assert(
      fc.property(speaker, fc.array(fc.tuple(text, departure), { minLength: 4, maxLength: 13 }), (rate, drawn) => {
        const [[next, off], ...others] = drawn as [[string, number], ...[string, number][]]
        const own = ownRate(
          others.map(([words, each], i) => recorded(`p${i}`, words, rate, each)),
          readings,
        )
        const { seconds, U } = expectedSound(paragraph('next', next), readings, own)
        all++
        if (Math.abs(seconds - (1 + off) * speakingTime(paragraph('next', next), readings, rate).sound) <= U) inside++
      }),
      { seed: 6, numRuns: 400 },
    )
    expect(all).toBe(400)
    expect(inside / all).toBeGreaterThanOrEqual(0.9)
  })
  it('leaves out takes whose words are no longer the script', () => {
    const script = ['One hip turns here.', 'Two hips are turning.', 'The foot stays planted.'].map((words, i) =>
      recorded(`p${i}`, words, DEFAULT_RATE, 0),
    )
    expect(ownRate(script, readings).takes).toBe(0)
    const long = script.map((each, i) => recorded(`p${i}`, `${each.text.join(' ')} And the shoulders follow it.`, DEFAULT_RATE, 0))
    expect(ownRate(long, readings).takes).toBe(3)
    expect(
      ownRate([...long.slice(1), { ...long[0]!, text: ['Something else is written now, and it is not what was said.'] }], readings).takes,
    ).toBe(0)
  })
})
