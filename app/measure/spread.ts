import { ok, refused, type Result } from '../result'
import { circularSummary } from './circular'

/// Mean and spread over many clips. Fewer than ten values have no spread worth the name.

const LEAST_FOR_SPREAD = 10

export interface SpreadOfValues {
  readonly n: number
  readonly mean: number
  readonly sd: number
}

/// `wraps`: degrees that go round, averaged as directions. Refused below ten values, and where
/// directions have no mean.
export function spreadOf(values: readonly number[], wraps: boolean): Result<SpreadOfValues, 'too-few' | 'no-mean'> {
  const n = values.length
  if (n < LEAST_FOR_SPREAD || !values.every(Number.isFinite)) return refused('too-few')
  if (wraps) {
    const summary = circularSummary(values)
    return summary !== null && summary.mean_deg !== null && summary.sd_deg !== null
      ? ok({ n, mean: summary.mean_deg, sd: summary.sd_deg })
      : refused('no-mean')
  }
  const mean = values.reduce((s, v) => s + v, 0) / n
  return ok({ n, mean, sd: Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (n - 1)) })
}
