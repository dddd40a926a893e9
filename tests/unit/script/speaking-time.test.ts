import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cueSeconds, estimatedOnsets, speakingTime, syllablesOf } from '../../../app/script/speaking-time'
import { paragraph, readings } from './sample-script'

describe('speaking time', () => {
  /// A judgement: "45° ± 12°" is 12–13 syllables, about 3 s.
  it('reads "45° ± 12°" as 12 or 13 syllables, about 3 s', () => {
    expect(syllablesOf('45° ± 12°')).toBeGreaterThanOrEqual(12)
    expect(syllablesOf('45° ± 12°')).toBeLessThanOrEqual(13)
    expect(syllablesOf('45° ± 12°') / 4.2).toBeCloseTo(3, 0)
  })
  /// The model by hand [J]: 6 syllables, one comma, two sentence ends, one paragraph.
  it('is syllables over the rate, and the pauses', () => {
    const time = speakingTime(paragraph('p', 'Look here, now. He hits.'), readings)
    expect(time.sound).toBeCloseTo(5 / 4.2 + 0.25 + 0.5, 9)
    expect(time.pause).toBeCloseTo(0.5 + 0.9, 9)
    for (const text of ['', ' … ']) expect(speakingTime(paragraph('p', text), readings)).toMatchObject({ sound: 0, pause: 0 })
  })
  it('takes the spoken form of live values', () => {
    const time = speakingTime(paragraph('p', 'At ', { value: 'm1' }, '.'), readings)
    expect(time.sound).toBeCloseTo(syllablesOf('At about one hundred and forty-two degrees') / 4.2, 9)
    expect(time.pause).toBeCloseTo(1.4, 9)
  })
  it('lays onsets in order, from 0 to the end of the sound', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('hip', 'rotation,', 'turns.', '45°', 'a', '—', 'about', 'knee;'), { minLength: 1, maxLength: 40 }),
        (pieces) => {
          const p = paragraph('p', pieces.join(' '))
          const time = speakingTime(p, readings)
          const onsets = estimatedOnsets(p, readings)
          expect(onsets[0]?.seconds).toBe(0)
          onsets.forEach(({ seconds }, i) => {
            if (i > 0) expect(seconds).toBeGreaterThanOrEqual(onsets[i - 1]?.seconds ?? Infinity)
            expect(seconds).toBeLessThanOrEqual(time.sound + 1e-9)
          })
        },
      ),
    )
  })
  it('finds a cue by estimate, stretched over a take, or where it was heard', () => {
    const p = paragraph('p1', 'The hip turns and at ', { cue: 'e1', word: 'contact' }, ' it stops.')
    const estimate = cueSeconds(p, 'e1', readings)
    expect(estimate).toBeCloseTo(5 / 4.2, 9)
    expect(cueSeconds(p, 'e1', readings, { sound: 2 * speakingTime(p, readings).sound })).toBeCloseTo(10 / 4.2, 9)
    expect(cueSeconds(p, 'e1', readings, { cueTimes: [{ paragraph: 'p1', event: 'e1', seconds: 1.5, u: 0.02 }] })).toBe(1.5)
    expect(cueSeconds(p, 'e2', readings)).toBeNull()
  })
})
