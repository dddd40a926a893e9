import type { Rational } from './rational'
import { evenRate } from './even-rate'
import { rational, toNumber } from './rational'

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

/// Index of the frame on screen at a file time; the first or last frame outside the film. Exact at a
/// frame's own start.
export function frameAtSeconds(table: FrameTable, seconds: number): number {
  const at = (seconds * table.base.d) / table.base.n
  let low = 0
  let high = table.pts.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (table.pts[middle]! <= at + 1e-6) low = middle
    else high = middle - 1
  }
  return low
}
