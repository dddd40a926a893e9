import { describe, expect, it } from 'vitest'
import { english } from '../../../../app/script/claims/english/english'
import { spokenRules, STRONG_CLASSES, suggestClasses } from '../../../../app/script/claims/suggest-classes'
import { labelled, toldOf, writers } from '../../../classes/weights'
import { inShares, wilson } from '../../../classes/wilson'

/// Tells figures only: no sentence of the unseen half is shown.
function figures(name: string): { readonly found: number; readonly wrong: number; readonly line: string } {
  const told = toldOf(labelled(name), english)
  const line = `${name}: strong found ${inShares(told.found, told.strong)}, wrongly strong ${inShares(told.wrong, told.others)}, first class right ${((told.right / (told.strong + told.others)) * 100).toFixed(1)} %`
  return { found: told.found / told.strong, wrong: told.wrong / told.others, line }
}

describe('classes that the rules suggest', () => {
  it('should agree with Wilson’s interval as published', () => {
    // 81 of 263: 0.2553 to 0.3662 (Newcombe 1998, Stat Med 17:857–872, table I, method 3).
    const { low, high } = wilson(81, 263)
    expect([low.toFixed(4), high.toFixed(4)]).toEqual(['0.2553', '0.3662'])
  })

  it.each(['seen.json', 'further.json'])(
    'should find nine in ten of the strong claims that they were tuned on, and call one in twenty of the others strong at most: %s',
    (name) => {
      const { found, wrong, line } = figures(name)
      console.log(line)
      expect(found).toBeGreaterThanOrEqual(0.9)
      expect(wrong).toBeLessThanOrEqual(0.05)
    },
  )

  it('should not have learned from a sentence that it is judged on, nor from one with three quarters of its words', () => {
    const wordsOf = (text: string): ReadonlySet<string> =>
      new Set(
        text
          .toLowerCase()
          .replace(/[^a-z0-9 ]/gu, '')
          .split(' ')
          .filter((word) => word !== ''),
      )
    const unseen = ['unseen.json', 'unseen-more.json'].flatMap((name) => labelled(name)).map(({ text }) => wordsOf(text))
    const learned = writers()
      .filter(({ tuned }) => !tuned)
      .flatMap(({ sentences }) => sentences)
    expect(learned.length).toBeGreaterThan(9000)
    const both = learned
      .map(({ text }) => wordsOf(text))
      .filter((one) =>
        unseen.some((other) => {
          const shared = [...one].filter((word) => other.has(word)).length
          return shared / (one.size + other.size - shared) >= 0.75
        }),
      )
    expect(both.length).toBe(0)
  })

  it.each(['unseen.json', 'unseen-more.json'])('should do as well on sentences that nobody tuned on or learned from: %s', (name) => {
    const { found, wrong, line } = figures(name)
    console.log(line)
    expect(found).toBeGreaterThanOrEqual(0.9)
    expect(wrong).toBeLessThanOrEqual(0.05)
  })

  it.each(['The rear heel is always up.', 'His chin is never tucked.', 'His guard is never high.', 'The rear foot is always behind him.'])(
    'should count a posture that is said of every time: “%s”',
    (text) => {
      expect(suggestClasses(text).classes).toEqual(['D', 'A'])
      expect(suggestClasses(text.replace(/ (?:always|never)/u, '')).classes[0]).toBe('A')
    },
  )

  it.each([
    'Two right hands end the bout',
    'Two right hands in turn',
    'Here are two left hooks in turn.',
    'We look at two knees in turn.',
    'Two right hands',
    'Two finishes',
  ])('should take a number of things for no comparison: “%s”', (text) =>
    expect(suggestClasses(text).classes.filter((letter) => STRONG_CLASSES.includes(letter))).toEqual([]),
  )

  it.each([
    'Two right hands, one deeper',
    'Two of the right hands are deeper',
    'The two right hands are the same.',
    'Dead even on the shoulder turn, those two.',
    'You can’t tell the two turns apart.',
    'Two kicks, one shape: you could not slide a ticket between them.',
  ])('should still take what is held against something for a comparison: “%s”', (text) => expect(suggestClasses(text).classes[0]).toBe('E'))

  it('should ask what shows that something is proven, and leave advice and habits of the film alone', () => {
    expect(suggestClasses('This is proven.').classes).toEqual(['F'])
    for (const text of ['Never hit the head.', 'Always warm up.', 'We always start at the plant.'])
      expect(
        suggestClasses(text).classes.some((letter) => 'BCDEFGIJ'.includes(letter)),
        text,
      ).toBe(false)
  })

  it('should keep a medical statement that a rule tells, unless the weights are next to sure that it is none', () => {
    const told = writers()
      .flatMap(({ sentences }) => sentences)
      .filter((each, at) => each.class === 'J' && at % 4 === 0)
    const unsure = { ...english.weights, threshold: 2, bias: [...english.weights.bias].fill(0), traits: {} }
    const firm = told.filter(({ text }) => {
      const spoken = spokenRules(english.analyse(text), english)
      return spoken.some((each) => each.class === 'J') && !spoken.some((each) => each.not.includes('J'))
    })
    expect(firm.length).toBeGreaterThan(100)
    expect(firm.filter(({ text }) => suggestClasses(text, [], { ...english, weights: unsure }).classes[0] !== 'J')).toEqual([])
    const lost = firm.filter(({ text }) => suggestClasses(text).classes[0] !== 'J')
    expect(lost.length / firm.length).toBeLessThan(0.02)
  })

  it('should give the same answer every time, whatever the text', () => {
    for (const text of ['', ' ', '\uFFFC', '<b>&</b>', '{\\an5}', '=1+1', '‮abc', 'a'.repeat(10_000), 'He turns. '.repeat(1000)]) {
      const first = suggestClasses(text)
      expect(suggestClasses(text)).toEqual(first)
      expect(first.classes.length).toBeGreaterThan(0)
    }
  })
})
