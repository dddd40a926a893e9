import { describe, expect, it } from 'vitest'
import { median, page, ratios, type Result } from '../../bench/result'

const result: Result = {
  name: 'two-ways',
  question: 'One way against another.',
  date: '2026-01-31',
  machine: 'A machine',
  versions: 'Node 20',
  contenders: [
    { name: 'plain', wanted: null, milliseconds: [100, 200, 110], extras: { p95: 12.5 } },
    { name: 'ours', wanted: { ratio: 1.25 }, milliseconds: [120, 250, 143], extras: { frames: 60 } },
    {
      name: 'slow',
      wanted: { milliseconds: 300 },
      milliseconds: [400, 500, 301],
      extras: { p95: 20, MB: 3 },
      over: { p95: 8 },
      most: { MB: 2 },
    },
  ],
}

describe('a benchmark result', () => {
  it('takes a middle that was measured', () => {
    expect([median([3, 1, 2]), median([4, 1, 3, 2]), median([7])]).toEqual([2, 3, 7])
    expect(() => median([])).toThrow(RangeError)
  })

  it('compares within a round, so that a slow round weighs on both alike', () => {
    expect(ratios([120, 250, 143], [100, 200, 110])).toEqual([1.2, 1.25, 1.3])
  })

  it('shows median, spread and ratio, and whether what was wanted was reached', () => {
    const lines = page([result]).split('\n')
    expect(lines).toContain('| plain | 110 (100 – 200) | 1 |  | p95: 12.5 |')
    expect(lines).toContain('| ours | 143 (120 – 250) | 1.25 (1.2 – 1.3) | at most 1.25: reached | frames: 60 |')
    expect(lines).toContain(
      '| slow | 400 (301 – 500) | 2.74 (2.5 – 4) | at most 300 ms: **not reached** | p95: 20 (7.5 over the first, at most 8: reached); MB: 3 (at most 2: **not reached**) |',
    )
    expect(lines).toContain('3 rounds, 2026-01-31. A machine. Node 20.')
  })
})
