import { expect } from 'vitest'
import { Coverage } from './coverage'

/// Holds one simulated kind against the figures that the project promises: inside at least 93 %
/// for the kind and for every verdict that gives a value; normal kinds not above 98 %, and their median
/// U not above 1.3 times the half width that 95 % of the errors need.
export function expectCalibrated(coverage: Coverage, name: string, kind: 'normal' | 'bounded', least = 2000): void {
  const score = coverage.score(name)
  const log = coverage.table()
  expect(score.given, log).toBeGreaterThanOrEqual(least)
  expect(score.inside, log).toBeGreaterThanOrEqual(0.93)
  for (const [verdict, { given, inside }] of score.byVerdict)
    // A verdict seldom given is held to three standard errors of a 93 % share.
    expect(inside, `${name}, ${verdict}: ${log}`).toBeGreaterThanOrEqual(given >= 1000 ? 0.93 : 0.93 - 3 * Math.sqrt((0.93 * 0.07) / given))
  if (kind === 'bounded') return
  expect(score.inside, log).toBeLessThanOrEqual(0.98)
  expect(score.medianU, log).toBeLessThanOrEqual(1.3 * score.error95)
}

/// The cameras that the model was never tuned on: azimuths between the tuned ones.
export const UNSEEN_AZIMUTHS: readonly number[] = Array.from({ length: 12 }, (_, i) => 25 + 30 * i)
export const FIGURES: readonly number[] = [250, 400, 700]

export const DEGREES = 180 / Math.PI
export const turned = (deg: number): number => deg - 360 * Math.round(deg / 360)
