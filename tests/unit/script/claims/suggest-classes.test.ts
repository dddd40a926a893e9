import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { isStrong, suggestClasses } from '../../../../app/script/claims/suggest-classes'

interface Labelled {
  readonly text: string
  readonly class: string
  readonly strong: boolean
}

const labelled = (name: string): readonly Labelled[] => JSON.parse(readFileSync(join(import.meta.dirname, '../../../data/claims', name), 'utf8')) as Labelled[]

/// Wilson's interval of a share, 95 % (Wilson 1927, J Am Stat Assoc 22:209–212; formula from memory).
function wilson(hits: number, of: number): { readonly share: number; readonly low: number; readonly high: number } {
  const z = 1.959964
  const p = hits / of
  const middle = (p + (z * z) / (2 * of)) / (1 + (z * z) / of)
  const half = (z / (1 + (z * z) / of)) * Math.sqrt((p * (1 - p)) / of + (z * z) / (4 * of * of))
  return { share: p, low: middle - half, high: middle + half }
}

const percent = (share: number): string => `${(share * 100).toFixed(1)} %`

/// Tells figures only: no sentence of the unseen half is shown.
function figures(name: string): { readonly found: number; readonly wrong: number; readonly line: string } {
  const all = labelled(name)
  const strong = all.filter((each) => each.strong)
  const others = all.filter((each) => !each.strong)
  const claims = (list: readonly Labelled[]): number => list.filter((each) => isStrong(suggestClasses(each.text).classes)).length
  const [found, wrong] = [claims(strong), claims(others)]
  const [f, w] = [wilson(found, strong.length), wilson(wrong, others.length)]
  const first = all.filter((each) => suggestClasses(each.text).classes[0] === each.class).length
  const line = `${name}: strong found ${found}/${strong.length} = ${percent(f.share)} (${percent(f.low)}–${percent(f.high)}), wrongly strong ${wrong}/${others.length} = ${percent(w.share)} (${percent(w.low)}–${percent(w.high)}), first class right ${percent(first / all.length)}`
  return { found: f.share, wrong: w.share, line }
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

  /// The aim is ≥ 90 % and ≤ 5 %; it is not met (docs/decisions/0081). Held here: what has been reached.
  it.each([
    ['unseen.json', 0.8, 0.15],
    ['unseen-more.json', 0.8, 0.23],
  ])('should do no worse on sentences that nobody tuned on than has been reached: %s', (name, reached, wrongly) => {
    const { found, wrong, line } = figures(name)
    console.log(line)
    expect(found).toBeGreaterThanOrEqual(reached)
    expect(wrong).toBeLessThanOrEqual(wrongly)
  })

  it('should give the same answer every time, whatever the text', () => {
    for (const text of ['', ' ', '\uFFFC', '<b>&</b>', '{\\an5}', '=1+1', '‮abc', 'a'.repeat(10_000), 'He turns. '.repeat(1000)]) {
      const first = suggestClasses(text)
      expect(suggestClasses(text)).toEqual(first)
      expect(first.classes.length).toBeGreaterThan(0)
    }
  })
})
