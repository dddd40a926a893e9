import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { blandAltman, intraclass } from '../../../app/measure/agreement'
import { circularSummary } from '../../../app/measure/circular'
import { bracketedHalfWidth, countLowerBound, uniformPairHalfWidth } from '../../../app/measure/distribution'
import { seeded } from '../measure/random'

interface Vectors {
  icc_shrout_fleiss_1979: {
    ratings_6targets_4judges: number[][]
    MS: Record<string, number>
    published_2dp: Record<string, number>
    computed: Record<string, number>
    CI95_from_R_psych_via_pingouin_test: { lower: number[]; upper: number[] }
  }
  bland_altman_1986_PEFR: {
    wright_large_first: number[]
    mini_first: number[]
    mean_diff: number
    sd: number
    'loa_1.96sd': [number, number]
    published_from_memory: { mean_diff: number; sd: number }
  }
  circular: {
    angles_rad: number[]
    mean: number
    R: number
    circ_std: number
    published_pingouin_circstats: Record<string, number>
    wrap_cases_deg: { angles: number[]; mean: number }[]
  }
}
const vectors = JSON.parse(readFileSync('tests/data/numeric/stats.json', 'utf8')) as Vectors
const DEGREES = 180 / Math.PI

describe('intraclass correlations', () => {
  const { ratings_6targets_4judges, MS, published_2dp, computed, CI95_from_R_psych_via_pingouin_test: ci } = vectors.icc_shrout_fleiss_1979
  const table = intraclass(ratings_6targets_4judges)!

  test("are Shrout and Fleiss 1979's six, to their printed digits", () => {
    expect(table.meanSquares.targets).toBeCloseTo(MS['between_targets']!, 10)
    expect(table.meanSquares.within).toBeCloseTo(MS['within']!, 10)
    expect(table.meanSquares.judges).toBeCloseTo(MS['between_judges']!, 10)
    expect(table.meanSquares.error).toBeCloseTo(MS['error']!, 10)
    for (const { form, value } of table.coefficients) {
      expect(value).toBeCloseTo(computed[`ICC${form}`]!, 10)
      expect(value.toFixed(2)).toBe(published_2dp[`ICC${form}`]!.toFixed(2))
    }
  })

  test("have the 95 % intervals of R's psych package (as carried by pingouin), to two decimals", () => {
    table.coefficients.forEach(({ low, high }, i) => {
      expect(low.toFixed(2)).toBe(ci.lower[i]!.toFixed(2))
      expect(high.toFixed(2)).toBe(ci.upper[i]!.toFixed(2))
    })
  })

  test('need two targets, two judges and something that varies', () => {
    expect(intraclass([[1, 2]])).toBeNull()
    expect(intraclass([[1], [2]])).toBeNull()
    expect(
      intraclass([
        [1, 1],
        [1, 1],
      ]),
    ).toBeNull()
    expect(
      intraclass([
        [1, 2],
        [3, NaN],
      ]),
    ).toBeNull()
  })
})

test('limits of agreement of the peak-flow data of Bland and Altman 1986 (from memory [M]) come out as stored', () => {
  const { wright_large_first, mini_first, mean_diff, sd, 'loa_1.96sd': limits, published_from_memory } = vectors.bland_altman_1986_PEFR
  const found = blandAltman(wright_large_first, mini_first)!
  expect(found.bias).toBeCloseTo(mean_diff, 10)
  expect(found.sd).toBeCloseTo(sd, 10)
  expect(found.limits[0]).toBeCloseTo(limits[0], 4)
  expect(found.limits[1]).toBeCloseTo(limits[1], 4)
  expect(found.bias.toFixed(1)).toBe(published_from_memory.mean_diff.toFixed(1))
  expect(found.sd.toFixed(1)).toBe(published_from_memory.sd.toFixed(1))
})

describe('directions', () => {
  const { angles_rad, mean, R, circ_std, wrap_cases_deg } = vectors.circular

  test('have the published mean, resultant, spread and Rayleigh test', () => {
    const found = circularSummary(angles_rad.map((a) => a * DEGREES))!
    expect(found.mean_deg! / DEGREES).toBeCloseTo(mean, 10)
    expect(found.resultant).toBeCloseTo(R, 10)
    expect(found.sd_deg! / DEGREES).toBeCloseTo(circ_std, 10)
    // z 1.236, p .3048 (a published worked example, read at second hand).
    expect(found.rayleigh.z).toBeCloseTo(1.236, 3)
    expect(found.rayleigh.p).toBeCloseTo(0.3048, 4)
  })

  test('average across the wrap', () => {
    for (const { angles, mean: wanted } of wrap_cases_deg) {
      const off = circularSummary(angles)!.mean_deg! - wanted
      expect(Math.abs(off - 360 * Math.round(off / 360))).toBeLessThan(1e-9)
    }
    expect(circularSummary([0, 180])!.mean_deg).toBeNull()
    expect(circularSummary([])).toBeNull()
  })
})

describe('bounds', () => {
  test('2/2, 3/3, 5/5, 10/10, 20/20 leave one-sided 95 % lower bounds of 22, 37, 55, 74, 86 %, as computed by hand', () => {
    expect([2, 3, 5, 10, 20].map((n) => Math.round(100 * countLowerBound(n, n)))).toEqual([22, 37, 55, 74, 86])
    // All of n has the closed form 0.05^(1/n).
    for (const n of [1, 2, 7, 40]) expect(countLowerBound(n, n)).toBeCloseTo(0.05 ** (1 / n), 6)
    expect(countLowerBound(0, 5)).toBe(0)
  })

  test('half widths of two brackets, with and without a normal part, hold 95 % of a simulation', () => {
    const random = seeded(5)
    for (const [a, b, s] of [
      [1, 1, 0],
      [1, 0.2, 0],
      [1, 0.01, 0],
      [1, 1, 0.3],
      [0.5, 1.5, 1],
      [0, 1, 0.2],
      [1, 1, 5],
    ] as const) {
      const half = s === 0 ? uniformPairHalfWidth(a, b) : bracketedHalfWidth(a, b, s)
      let inside = 0
      const draws = 60_000
      for (let i = 0; i < draws; i++)
        if (Math.abs(a * (2 * random.uniform() - 1) + b * (2 * random.uniform() - 1) + s * random.normal()) <= half) inside++
      // Three standard errors of a 95 % share.
      expect(Math.abs(inside / draws - 0.95)).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / draws))
    }
  })
})
