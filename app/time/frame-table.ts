import type { Rational } from './rational'
import { evenRate } from './even-rate'
import { divide, floor, multiply, rational, toNumber } from './rational'

/// When each frame of a film is shown, read from the file at import. Index = footage frame index,
/// in presentation order. `pts` are whole numbers of `base` seconds.
export interface FrameTable {
  readonly base: Rational
  readonly pts: readonly number[] | Float64Array
  /// Presentation time at which the last frame ends, in `base` units.
  readonly end: number
  /// The exact frame rate where the film has one (every interval equal up to the rounding of
  /// the container's clock); null for a variable rate.
  readonly rate: Rational | null
  /// Size of the upright, square-pixel picture, where the film told it: measures refuse points
  /// that lie off it.
  readonly picture?: { readonly width: number; readonly height: number }
}

/// A table for an ideal film of `frames` frames at `rate`.
export function evenFrameTable(frames: number, rate: Rational): FrameTable {
  const pts = new Float64Array(frames)
  for (let i = 0; i < frames; i++) pts[i] = i * rate.d
  return { base: rational(1, rate.n), pts, end: frames * rate.d, rate }
}

/// File time of frame `index` in seconds: exact where the rate is, else as the file says.
/// Throws RangeError outside the table; `index === length` gives the end.
export function secondsAt(table: FrameTable, index: number): number {
  if (!Number.isInteger(index) || index < 0 || index > table.pts.length)
    throw new RangeError(`frame ${index} is outside a film of ${table.pts.length} frames`)
  if (table.rate) return (index * table.rate.d) / table.rate.n + ((table.pts[0] ?? 0) * table.base.n) / table.base.d
  const pts = index === table.pts.length ? table.end : (table.pts[index] as number)
  return (pts * table.base.n) / table.base.d
}

/// Duration of one frame's showing, in file seconds.
export const intervalAt = (table: FrameTable, index: number): number =>
  table.rate ? 1 / toNumber(table.rate) : secondsAt(table, index + 1) - secondsAt(table, index)

/// A table from the presentation times read from a file, in rising order. `lastFor` is how long the
/// last frame is shown, in `base` units, where the file says so; else it is shown as long as the
/// median frame. `hints` are the rates that the container claims.
export function frameTableOf(pts: Float64Array, base: Rational, lastFor: number | null, hints: readonly Rational[] = []): FrameTable {
  const rate = evenRate(pts, base, hints)
  const last = pts.length - 1
  if (last < 0) return { base, pts, end: 0, rate }
  const first = pts[0]!
  if (rate) return { base, pts, end: Math.round(first + (pts.length * rate.d * base.d) / (rate.n * base.n)), rate }
  const steps = Float64Array.from({ length: last }, (_, i) => pts[i + 1]! - pts[i]!).sort()
  return { base, pts, end: pts[last]! + (lastFor && lastFor > 0 ? lastFor : (steps[last >> 1] ?? 1)), rate }
}

/// File time of frame `index` as an exact fraction of seconds.
export function exactSecondsAt(table: FrameTable, index: number): Rational {
  if (table.rate) return divide(rational(index), table.rate)
  const pts = index >= table.pts.length ? table.end : (table.pts[index] as number)
  return multiply(rational(pts), table.base)
}

/// The last frame that starts at or before `seconds` of file time (−1 when none does).
export function frameAtSeconds(table: FrameTable, seconds: Rational): number {
  if (table.rate) return Math.min(floor(multiply(seconds, table.rate)), table.pts.length - 1)
  const limit = floor(divide(seconds, table.base))
  let low = 0
  let high = table.pts.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if ((table.pts[middle] as number) <= limit) low = middle + 1
    else high = middle
  }
  return low - 1
}
