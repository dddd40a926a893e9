import type { Rational } from './rational'
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
