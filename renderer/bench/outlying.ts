import { CLICK_PX } from '../../app/measure/located'
import type { Point } from '../../app/project/fields'
import type { Sample } from '../../app/project/film'

/// A placing among repeats that lies so far from the others that a slip is likelier than chance.

/// Placings of one point differ by √2·2.45 σ in one of twenty pairs; the threshold is for a slip, not for a scatter, so it is
/// twice that, and no less than 10 px [J].
const FAR_PX = Math.max(10, 2 * Math.SQRT2 * 2.45 * CLICK_PX)

/// Which placing of a frame's repeats to ask about: its place among them, and how far it lies from the middle of the others.
/// Null for fewer than three, or where none stands out.
export function outlyingOf(repeats: readonly Sample[]): { readonly index: number; readonly away: number } | null {
  if (repeats.length < 3) return null
  const found = repeats
    .map(({ at }, index) => ({ index, away: distance(at, middleOf(repeats.filter((_, i) => i !== index))) }))
    .sort((a, b) => b.away - a.away)
  const [first] = found
  if (!first || first.away < FAR_PX) return null
  // The others must agree among themselves: else all are scattered, and their spread says so.
  const others = repeats.filter((_, i) => i !== first.index)
  return others.every(({ at }) => distance(at, middleOf(others)) < first.away / 3) ? first : null
}

const middleOf = (samples: readonly Sample[]): Point => [
  samples.reduce((sum, s) => sum + s.at[0], 0) / samples.length,
  samples.reduce((sum, s) => sum + s.at[1], 0) / samples.length,
]
const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])
