import fc from 'fast-check'
import { expect, it } from 'vitest'
import { firstShown, timingExpression } from '../../../app/render/timing-expression'

/// ffmpeg's expressions, as far as they are used here, as a JavaScript function of N.
function evaluate(expression: string, N: number): number {
  const script = expression.replaceAll(/\bif\(/g, 'pick(').replaceAll(/\bfloor\(/g, 'Math.floor(')
  const stored: number[] = []
  const run = new Function('N', 'pick', 'lt', 'mod', 'st', 'ld', `return ${script}`) as (...a: unknown[]) => number
  return run(
    N,
    (c: number, a: number, b: number) => (c ? a : b),
    (a: number, b: number) => (a < b ? 1 : 0),
    (a: number, b: number) => a % b,
    (i: number, v: number) => (stored[i] = v),
    (i: number) => stored[i],
  )
}

const check = (first: ArrayLike<number>): void => {
  const expression = timingExpression(first)
  for (let i = 0; i < first.length; i++) expect(evaluate(expression, i)).toBe(first[i])
}

it('should say for every decoded frame where it first stands', () => {
  expect([...firstShown([5, 5, 6, 8, 8]).first]).toEqual([0, 2, 3, 3])
  expect(firstShown([5, 5, 6, 8, 8])).toMatchObject({ from: 5, count: 4 })
})

it('should refuse a list that runs backwards', () => {
  expect(() => firstShown([5, 6, 4])).toThrow(RangeError)
})

it('should reproduce any list exactly', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 400 }), (steps) => {
      const first = [0]
      for (const s of steps) first.push(first.at(-1)! + s)
      check(first)
    }),
    { numRuns: 60 },
  )
})

it('should stay short where the cadence repeats', () => {
  const first = Int32Array.from({ length: 1000 }, (_, i) => Math.ceil((i * 12) / 5))
  check(first)
  expect(timingExpression(first).length).toBeLessThan(200)
})
