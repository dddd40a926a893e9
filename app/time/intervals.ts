import type { FrameTable } from './frame-table'
import { toNumber } from './rational'

/// How regular a film's frames are in time.
export interface Intervals {
  /// `even`: one rate up to the clock's rounding. `gaps`: one rate with frames missing.
  /// `jitter`: within a tenth of the median interval. `variable`: none of these.
  readonly kind: 'even' | 'gaps' | 'jitter' | 'variable'
  readonly shortest_s: number
  readonly median_s: number
  readonly longest_s: number
  /// Frames shown for at least 1.5 times the median interval, and for how many median intervals.
  readonly gaps: readonly { readonly frame: number; readonly intervals: number }[]
  /// Frames per second over the whole film.
  readonly average: number
}

/// Of a table with at least two frames; null for fewer.
export function intervalsOf(table: FrameTable): Intervals | null {
  const { pts } = table
  if (pts.length < 2) return null
  const unit = toNumber(table.base)
  const steps = Float64Array.from({ length: pts.length - 1 }, (_, i) => pts[i + 1]! - pts[i]!)
  const sorted = steps.slice().sort()
  const median = sorted[sorted.length >> 1]!
  const gaps: { frame: number; intervals: number }[] = []
  let ragged = false
  let unfilled = false
  // A clock that rounds moves each end of an interval by up to one unit.
  const near = (step: number, whole: number): boolean =>
    Math.abs(step - whole * median) <= Math.max(median * 0.1, Math.min(1.001, median * 0.5))
  for (let i = 0; i < steps.length; i++) {
    const step = steps[i]!
    const whole = median > 0 ? Math.round(step / median) : 0
    if (step >= 1.5 * median) gaps.push({ frame: i, intervals: median > 0 ? step / median : Infinity })
    if (!near(step, 1)) ragged = true
    if (whole < 1 || !near(step, whole)) unfilled = true
  }
  const uneven = unfilled ? 'variable' : 'gaps'
  const unrated = ragged ? uneven : 'jitter'
  return {
    kind: table.rate ? 'even' : unrated,
    shortest_s: sorted[0]! * unit,
    median_s: median * unit,
    longest_s: sorted[sorted.length - 1]! * unit,
    gaps,
    average: steps.length / ((pts[pts.length - 1]! - pts[0]!) * unit),
  }
}
