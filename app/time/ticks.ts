import { multiply, rational, round, type Rational } from './rational'

declare const ticks: unique symbol
/// Programme and narration time. 705,600,000 ticks make one second, whole for every usual
/// frame rate (including the 1001 family) and sample rate.
export type Ticks = number & { readonly [ticks]: true }

export const TICKS_PER_SECOND = 705_600_000

/// Whole ticks nearest to an exact number of seconds.
export const ticksOf = (seconds: Rational): Ticks => round(multiply(seconds, rational(TICKS_PER_SECOND))) as Ticks
export const secondsOf = (t: Ticks): Rational => rational(t, TICKS_PER_SECOND)
/// Start of frame `n`, to the nearest tick.
export const ticksOfFrame = (n: number, rate: Rational): Ticks =>
  round(multiply(rational(n), multiply(rational(TICKS_PER_SECOND), { n: rate.d, d: rate.n }))) as Ticks
/// Adds within one programme.
export const addTicks = (a: Ticks, b: Ticks): Ticks => (a + b) as Ticks
