import { describe, expect, it } from 'vitest'
import { english } from '../../../../app/script/claims/english/english'
import { spokenRules, suggestClasses } from '../../../../app/script/claims/suggest-classes'
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

  it.each(['seen.json', 'further.json'])('should find ≥ 90 %% of the strong claims that they were tuned on, and call ≤ 5 %% of the others strong: %s', (name) => {
    const { found, wrong, line } = figures(name)
    console.log(line)
    expect(found).toBeGreaterThanOrEqual(0.9)
    expect(wrong).toBeLessThanOrEqual(0.05)
  })

  /// The aim is ≥ 90 % and ≤ 5 %; the first is not met, the second is (docs/decisions/0110). Held here: what has been reached.
  it.each([
    ['unseen.json', 0.85, 0.05],
    ['unseen-more.json', 0.85, 0.05],
  ])('should do no worse on sentences that nobody tuned on than has been reached: %s', (name, reached, wrongly) => {
    const { found, wrong, line } = figures(name)
    console.log(line)
    expect(found).toBeGreaterThanOrEqual(reached)
    expect(wrong).toBeLessThanOrEqual(wrongly)
  })

  it('should never lose a medical statement that a rule tells, whatever the weights say', () => {
    const told = writers().flatMap(({ sentences }) => sentences).filter((each, at) => each.class === 'J' && at % 4 === 0)
    const weights = { ...english.weights, threshold: 2, bias: [...english.weights.bias].fill(0) }
    const firm = told.filter(({ text }) => {
      const spoken = spokenRules(english.analyse(text), english)
      return spoken.some((each) => each.class === 'J') && !spoken.some((each) => each.not.includes('J'))
    })
    expect(firm.length).toBeGreaterThan(20)
    expect(firm.filter(({ text }) => suggestClasses(text, [], { ...english, weights }).classes[0] !== 'J')).toEqual([])
  })

  it('should give the same answer every time, whatever the text', () => {
    for (const text of ['', ' ', '\uFFFC', '<b>&</b>', '{\\an5}', '=1+1', '‮abc', 'a'.repeat(10_000), 'He turns. '.repeat(1000)]) {
      const first = suggestClasses(text)
      expect(suggestClasses(text)).toEqual(first)
      expect(first.classes.length).toBeGreaterThan(0)
    }
  })
})
