import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { dualPass, DUAL_PASS, filterBothWays, gainBothWays, passOnce, settled, singlePass } from '../../../app/motion/butterworth'
import { fivePointDifferences, firstDifferences, localQuadratic, secondDifferences } from '../../../app/motion/derivative'

interface Vectors {
  C_dual: number
  coeffs: { fs: number; fc: number; corrected: boolean; Wn: number; b: number[]; a: number[] }[]
  filtfilt_default: { fs: number; fc: number; x: number[]; y: number[] }
  lfilter_zi_x0: { y: number[] }
  filtfilt_padlen0: { y: number[] }
  filtfilt_step: { fs: number; fc: number; x: number[]; y: number[] }
  dual_pass_gain_at_fc: { fs: number; fc: number; gain: number }[]
}
/// SciPy 1.10.1 (butter, filtfilt, lfilter with lfilter_zi).
const vectors = JSON.parse(readFileSync('tests/data/numeric/butterworth.json', 'utf8')) as Vectors
/// NumPy's gradient, and exact derivatives of t³.
const derivative = JSON.parse(readFileSync('tests/data/numeric/derivative.json', 'utf8')) as Record<string, number[]>

const close = (found: readonly number[], stored: readonly number[], within: number): void => {
  expect(found).toHaveLength(stored.length)
  found.forEach((v, i) => expect(Math.abs(v - stored[i]!), `entry ${i}`).toBeLessThan(within))
}

describe('the low-pass against SciPy', () => {
  test("has SciPy's coefficients at every stored rate and cut-off", () => {
    expect(DUAL_PASS).toBeCloseTo(vectors.C_dual, 14)
    expect(vectors.coeffs.length).toBe(20)
    for (const { fs, Wn, b, a } of vectors.coeffs) {
      const made = singlePass(fs, (Wn * fs) / 2)
      close(made.b, b, 1e-9)
      close(made.a, a, 1e-9)
    }
  })

  // The stored "corrected" rows carry the textbook's fc/C in hertz.
  const textbook = (fs: number, fc: number) => singlePass(fs, fc / DUAL_PASS)

  test("run forward and back gives SciPy's filtfilt with odd padding", () => {
    const { fs, fc, x, y } = vectors.filtfilt_default
    close(filterBothWays(textbook(fs, fc), x), y, 1e-9)
    const step = vectors.filtfilt_step
    close(filterBothWays(textbook(step.fs, step.fc), step.x), step.y, 1e-9)
  })

  test("without padding gives SciPy's filtfilt with padlen 0, and one pass gives lfilter from the settled state", () => {
    const { fs, fc, x } = vectors.filtfilt_default
    const filter = textbook(fs, fc)
    close(filterBothWays(filter, x, 0), vectors.filtfilt_padlen0.y, 1e-9)
    const [s, t] = settled(filter)
    close(passOnce(filter, x, [s * x[0]!, t * x[0]!]), vectors.lfilter_zi_x0.y, 1e-9)
  })

  test("has gain 1/√2 at its cut-off with the exact correction, and the stored 0.72–0.78 with the textbook's", () => {
    for (const { fs, fc, gain } of vectors.dual_pass_gain_at_fc) {
      expect(gainBothWays(textbook(fs, fc), fc, fs)).toBeCloseTo(gain, 9)
      expect(gainBothWays(dualPass(fs, fc), fc, fs)).toBeCloseTo(Math.SQRT1_2, 12)
    }
  })

  test("designs 100 Hz/10 Hz at 12.249 Hz, not at the textbook's 12.465, by computation", () => {
    const exact = (100 / Math.PI) * Math.atan(Math.tan(Math.PI / 10) / DUAL_PASS)
    expect(exact).toBeCloseTo(12.249, 3)
    expect(10 / DUAL_PASS).toBeCloseTo(12.465, 3)
    close(dualPass(100, 10).b, singlePass(100, exact).b, 1e-12)
  })
})

describe('derivatives against NumPy and exact cubics', () => {
  const [t, x] = [derivative['t']!, derivative['x']!]

  test('central, second and five-point differences are the stored ones', () => {
    close(firstDifferences(x, 0.1), derivative['np_gradient_edge1']!, 1e-12)
    close(firstDifferences(x, 0.1).slice(1, -1), derivative['central_first_interior']!, 1e-12)
    close(secondDifferences(x, 0.1), derivative['central_second_interior']!, 1e-9)
    close(fivePointDifferences(x, 0.1), derivative['five_point_first']!, 1e-9)
  })

  test("a local quadratic fit over five even samples has the weights of Savitzky and Golay's table (−2 −1 0 1 2)/10", () => {
    const fit = localQuadratic([-2, -1, 0, 1, 2], 0)!
    close(fit.rate, [-0.2, -0.1, 0, 0.1, 0.2], 1e-12)
    close(
      fit.value,
      [-3, 12, 17, 12, -3].map((w) => w / 35),
      1e-12,
    )
  })

  test('a local quadratic fit over uneven samples differentiates a parabola exactly', () => {
    const times = [0, 0.025, 0.067, 0.092, 0.134]
    const fit = localQuadratic(times, 0.067)!
    const rate = fit.rate.reduce((s, w, i) => s + w * (3 + 2 * times[i]! - 5 * times[i]! ** 2), 0)
    expect(rate).toBeCloseTo(2 - 10 * 0.067, 10)
    expect(t).toHaveLength(7)
  })
})
