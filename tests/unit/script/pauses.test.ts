import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { heardSeconds, heardWords, pausedSeconds, saidAt, takeStretches, type Pause, type Trim } from '../../../app/script/pauses'
import { cueSeconds } from '../../../app/script/speaking-time'
import type { Paragraph } from '../../../app/project/picture'

const pauses = fc
  .uniqueArray(fc.integer({ min: 0, max: 200 }), { maxLength: 4 })
  .map((at): Pause[] => at.sort((a, b) => a - b).map((tenths) => ({ at: tenths / 10, seconds: 0.5 })))
const trims = fc
  .tuple(fc.integer({ min: 0, max: 99 }), fc.integer({ min: 100, max: 250 }))
  .map(([from, to]): Trim => ({ from: from / 10, to: to / 10 }))

describe('a trimmed take', () => {
  it('is heard as long as it is trimmed to and its pauses last, every sample of it once and in order', () => {
    fc.assert(
      fc.property(pauses, trims, (put, trim) => {
        const length = 20
        const stretches = takeStretches(length, put, trim)
        const total = stretches.reduce((sum, { from, to }) => sum + to - from, 0)
        expect(total).toBeCloseTo(heardSeconds(length, trim), 9)
        stretches.forEach(({ from, to, at }, i) => {
          const before = stretches[i - 1]
          expect(from).toBeCloseTo(before?.to ?? trim.from, 9)
          expect(to).toBeLessThanOrEqual(Math.min(length, trim.to))
          expect(at).toBeGreaterThanOrEqual(before ? before.at + before.to - before.from : 0)
          // A word inside a stretch is heard where its samples lie in the film.
          const inside = (from + to) / 2
          expect(saidAt(inside, put, trim)).toBeCloseTo(at + inside - from, 9)
        })
        const last = stretches.at(-1)!
        const behind = put.filter(({ at }) => at >= last.to && at < trim.to).length * 0.5
        expect(last.at + last.to - last.from + behind).toBeCloseTo(heardSeconds(length, trim) + pausedSeconds(put, trim), 9)
      }),
    )
  })

  it('keeps its words on their samples: a cue is heard earlier by what is trimmed off before it', () => {
    fc.assert(
      fc.property(trims, fc.double({ min: 0, max: 20, noNaN: true }), (trim, seconds) => {
        const paragraph = (narration: Paragraph['narration']): Paragraph => ({
          id: 'p1',
          text: ['At ', { cue: 'e1', word: 'contact' }, ' he turns.'],
          take: 'takes/p1-1.wav',
          narration,
        })
        const cueTimes = [{ paragraph: 'p1', event: 'e1', seconds, u: 0.02 }]
        const whole = cueSeconds(paragraph(undefined), 'e1', new Map(), { cueTimes, sound: 20 })!
        const trimmed = cueSeconds(paragraph({ trim }), 'e1', new Map(), { cueTimes, sound: 20 })!
        expect(whole).toBe(seconds)
        expect(trimmed).toBeCloseTo(Math.min(Math.max(seconds - trim.from, 0), trim.to - trim.from), 9)
      }),
    )
  })

  it('no longer says the words that were trimmed off', () => {
    const narration = { words: ['at', 'contact', 'he', 'turns'], onsets: [0.2, 0.5, 1.1, 1.4] }
    expect(heardWords(narration)).toEqual(['at', 'contact', 'he', 'turns'])
    expect(heardWords({ ...narration, trim: { from: 0.4, to: 1.3 } })).toEqual(['contact', 'he'])
    expect(heardWords({ words: narration.words, trim: { from: 0.4, to: 1.3 } })).toEqual(narration.words)
  })
})
