import { dualPass, filterBothWays, HIGHEST_CUTOFF } from './butterworth'

/// Advice on a cut-off: residual analysis (Winter 2009 §2.2.4.5). The residual's straight tail is
/// taken to be noise alone; where its line, carried back to 0 Hz, meets the curve, as much signal
/// is lost as noise is let through. It tends to choose too low (Yu 1999): advice, never a rule.

export interface CutoffAdvice {
  readonly cutoff_hz: number
  /// Residual at 0 Hz of the noise line: its r.m.s. noise, in the samples' own unit.
  readonly noise: number
  readonly curve: readonly { readonly cutoff_hz: number; readonly residual: number }[]
}

/// Null for fewer than 20 samples. `rate_hz` is the true rate.
export function adviseCutoff(x: readonly number[], rate_hz: number): CutoffAdvice | null {
  if (x.length < 20) return null
  const highest = HIGHEST_CUTOFF * rate_hz * 1.8
  const curve = Array.from({ length: 40 }, (_, i) => {
    const cutoff_hz = (highest * (i + 1)) / 40
    const smooth = filterBothWays(dualPass(rate_hz, cutoff_hz), x)
    return { cutoff_hz, residual: Math.sqrt(x.reduce((s, v, j) => s + (v - smooth[j]!) ** 2, 0) / x.length) }
  })
  const tail = curve.slice(-12)
  const mean = { f: tail.reduce((s, p) => s + p.cutoff_hz, 0) / tail.length, r: tail.reduce((s, p) => s + p.residual, 0) / tail.length }
  const slope = tail.reduce((s, p) => s + (p.cutoff_hz - mean.f) * (p.residual - mean.r), 0) / tail.reduce((s, p) => s + (p.cutoff_hz - mean.f) ** 2, 0)
  const noise = Math.max(0, mean.r - slope * mean.f)
  const found = curve.find((p) => p.residual <= noise) ?? curve[curve.length - 1]!
  return { cutoff_hz: Math.min(found.cutoff_hz, HIGHEST_CUTOFF * rate_hz), noise, curve }
}
