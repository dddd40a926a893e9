import { toDegrees, toRadians, wrapped } from '../geometry/angle'

/// Statistics of directions, which wrap (Mardia and Jupp 2000, §2.2–2.3).

export interface CircularSummary {
  /// Degrees within (−180, 180]; null where the directions cancel out and there is no mean.
  readonly mean_deg: number | null
  /// Mean resultant length R, 0 (all around) to 1 (all the same).
  readonly resultant: number
  /// √(−2 ln R), degrees; null where R is 0.
  readonly sd_deg: number | null
  /// Rayleigh's z = n·R² and its p that the directions are spread evenly.
  readonly rayleigh: { readonly z: number; readonly p: number }
}

/// Null for no directions.
export function circularSummary(degrees: readonly number[]): CircularSummary | null {
  const n = degrees.length
  if (n === 0) return null
  const c = degrees.reduce((s, d) => s + Math.cos(toRadians(d)), 0) / n
  const s = degrees.reduce((t, d) => t + Math.sin(toRadians(d)), 0) / n
  const R = Math.min(1, Math.hypot(c, s))
  const none = R < 1e-12
  const total = n * R
  // Zar 2010, eq. 27.4.
  const p = Math.exp(Math.sqrt(1 + 4 * n + 4 * (n * n - total * total)) - (1 + 2 * n))
  return {
    mean_deg: none ? null : wrapped(toDegrees(Math.atan2(s, c))),
    resultant: R,
    sd_deg: none ? null : toDegrees(Math.sqrt(-2 * Math.log(R))),
    rayleigh: { z: n * R * R, p: Math.min(1, p) },
  }
}
