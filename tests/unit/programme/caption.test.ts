import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { captionsOf, type Caption } from '../../../app/programme/caption'
import { CAPTION_LIMITS, readingCharacters } from '../../../app/script/caption-limits'
import { shownText, wordsOf } from '../../../app/script/spoken-form'
import type { Inline, Paragraph } from '../../../app/project/picture'
import { breakdownOf, paragraph, programmeOf, readings } from '../script/sample-script'

const SECOND = 705_600_000
const FRAME = SECOND / 60

function captions(
  script: Paragraph[],
  options: Parameters<typeof programmeOf>[1] = {},
  more: Parameters<typeof breakdownOf>[1] = {},
): Caption[] {
  const breakdown = breakdownOf(script, more)
  return captionsOf(breakdown, programmeOf(breakdown, options), readings)
}

/// What holds of every list of captions, flagged or not.
function checkCaptions(script: readonly Paragraph[], made: readonly Caption[]): void {
  for (const each of script) {
    const own = made.filter((caption) => caption.paragraph === each.id)
    expect(own.flatMap((caption) => caption.lines).join(' ')).toBe(shownText(each, readings))
    for (const word of wordsOf(each, readings))
      expect(own.some((caption) => caption.lines.some((line) => line.includes(word.shown)))).toBe(true)
  }
  made.forEach((caption, i) => {
    const seconds = (caption.to - caption.from) / SECOND
    const rate = readingCharacters(caption.lines.join(' ')) / seconds
    expect(caption.lines.length).toBeLessThanOrEqual(2)
    expect(caption.from % FRAME).toBe(0)
    expect(caption.to).toBeGreaterThan(caption.from)
    const before = made[i - 1]
    if (before) expect(caption.from - before.to).toBeGreaterThanOrEqual(2 * FRAME)
    expect(seconds).toBeLessThanOrEqual(7 + 1e-9)
    expect(caption.lines.some((line) => [...line].length > 42)).toBe(caption.flags.includes('line-too-long'))
    expect(seconds < 1 - 1e-9).toBe(caption.flags.includes('too-short'))
    expect(rate > 20).toBe(caption.flags.includes('reads-too-fast'))
    expect(rate > 17 + 1e-9).toBe(caption.flags.includes('reads-fast') || caption.flags.includes('reads-too-fast'))
  })
}

describe('captions', () => {
  it('keep within their limits, or say which one they could not keep, on any script', () => {
    const word = fc.constantFrom(
      'hip',
      'the',
      'rotation,',
      'shoulder',
      'turns.',
      'and',
      'before',
      '45°',
      'about',
      'lumbopelvic',
      'it',
      'at',
      'weight;',
      'x'.repeat(50),
    )
    const inline: fc.Arbitrary<Inline> = fc.oneof(
      { weight: 5, arbitrary: fc.array(word, { minLength: 1, maxLength: 12 }).map((words) => ` ${words.join(' ')} `) },
      fc.constantFrom<Inline>(
        { value: 'm1' },
        { value: 'm2', form: 'label' },
        { value: 'm3' },
        { value: 'gone' },
        { cue: 'e1', word: 'contact' },
        { note: 'not said' },
      ),
    )
    const script = fc
      .array(fc.array(inline, { minLength: 1, maxLength: 6 }), { minLength: 1, maxLength: 4 })
      .map((all) => all.map((text, i) => paragraph(`p${i}`, ...text)))
    fc.assert(
      fc.property(script, fc.option(fc.double({ min: 0.5, max: 40, noNaN: true })), (paragraphs, take) => {
        const takes = take === null ? {} : { p0: take }
        checkCaptions(paragraphs, captions(paragraphs, { takes, cuts: [0, 90, 200] }))
      }),
      { numRuns: 200 },
    )
  })
  it('break at the sense: after sentences and clauses, never behind an article', () => {
    const script = [
      paragraph(
        'p1',
        'Two right hands, thrown four months apart, look alike at full speed. Watch what the hips do before the glove moves, because that is where the two bouts part company.',
      ),
    ]
    expect(captions(script).map((caption) => caption.lines)).toEqual([
      ['Two right hands, thrown four months apart,', 'look alike at full speed.'],
      ['Watch what the hips', 'do before the glove moves,'],
      ['because that is where', 'the two bouts part company.'],
    ])
  })
  it('start when their first word is said', () => {
    const script = [paragraph('p1', 'Here is one sentence. '), paragraph('p2', 'And another one.')]
    const breakdown = breakdownOf(script)
    const programme = programmeOf(breakdown)
    const made = captionsOf(breakdown, programme, readings)
    expect(made.map((caption) => caption.from)).toEqual(programme.paragraphs.map((laid) => laid.words.from))
  })
  it('follow a take: stretched over it, and pinned where a cue word was heard', () => {
    const script = [
      paragraph(
        'p1',
        'First the hips turn and the heel is up. ',
        { cue: 'e1', word: 'Contact' },
        ' comes nine frames later in both of the bouts that we have.',
      ),
    ]
    const options = { takes: { p1: 8 } }
    const at = (made: readonly Caption[]): number => (made.find((caption) => caption.lines[0]?.startsWith('Contact'))?.from ?? NaN) / SECOND
    const stretched = at(captions(script, options))
    expect(stretched).toBeGreaterThan(2.5)
    expect(stretched).toBeLessThan(4.5)
    const pinned = at(captions(script, options, { cueTimes: [{ paragraph: 'p1', event: 'e1', seconds: 5.2, u: 0.02 }] }))
    expect(Math.abs(pinned - 5.2)).toBeLessThanOrEqual(1 / 60)
  })
  it('end at a cut rather than run over it for nothing', () => {
    const script = [paragraph('p1', 'Straight strength stretched.'), paragraph('p2', 'And two.')]
    expect(captions(script, { cuts: [0] })[0]?.to).toBe(99 * FRAME)
    expect(captions(script, { cuts: [0, 90] })[0]?.to).toBe(90 * FRAME)
    expect(captions(script, { cuts: [0, 70] })[0]?.flags).toEqual(['straddles-cut'])
  })
  it('say nothing for a paragraph without words', () => {
    expect(captions([paragraph('p1', { note: 'only a note' }), paragraph('p2')])).toEqual([])
  })
  it('count anatomical words and numbers a fifth more', () => {
    expect(readingCharacters('the hip')).toBe(7)
    expect(readingCharacters('thoracic')).toBeCloseTo(9.6, 9)
    expect(readingCharacters('45°')).toBeCloseTo(3.6, 9)
    expect(CAPTION_LIMITS.characters).toBe(42)
  })
})
