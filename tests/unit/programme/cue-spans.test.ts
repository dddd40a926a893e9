import { expect, it } from 'vitest'
import { frameOfWord, solveSpan } from '../../../app/programme/cue-spans'

/// A case worked by hand: source 10.00/10.28/10.44/10.60 s, words 0/1.2/3.4/3.9 s, preferred ¼.
it('should solve the worked case exactly', () => {
  const [source, words] = [
    [10, 10.28, 10.44, 10.6],
    [0, 1.2, 3.4, 3.9],
  ]
  const spans = [0, 1, 2].map((i) => solveSpan(source[i + 1]! - source[i]!, words[i + 1]! - words[i]!, 0.25))
  expect(spans.map(({ how }) => how)).toEqual(['near', 'held', 'faster'])
  expect(spans[0]!.speed).toBeCloseTo(0.28 / 1.2, 12)
  expect([spans[1]!.speed, spans[1]!.hold].map((x) => Number(x.toFixed(9)))).toEqual([0.25, 1.56])
  expect(spans[2]!.speed).toBeCloseTo(0.32, 9)
})

it('should ask for a pause where full speed is too slow, and refuse to run backwards', () => {
  expect(solveSpan(1.5, 1, 0.25)).toMatchObject({ how: 'paused', speed: 1, pause: 0.5 })
  expect(solveSpan(-0.2, 1, 0.25).how).toBe('backwards')
  expect(solveSpan(0.2, 0, 0.25)).toMatchObject({ how: 'paused', pause: 0.2 })
})

it('should put an event on screen up to 40 ms before its word, and not 45 ms after it', () => {
  for (const rate of [24, 24000 / 1001, 25, 30000 / 1001, 30, 50, 60])
    for (let i = 0; i < 2000; i++) {
      const seconds = i * 0.00371
      const early = seconds - frameOfWord(seconds, rate) / rate
      expect(early).toBeLessThanOrEqual(0.04 + 1e-9)
      expect(early).toBeGreaterThan(-0.045)
    }
})
