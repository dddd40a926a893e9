import { smootherOf, weighed } from '../motion/smoother'
import { secondsAt, type FrameTable } from '../time/frame-table'
import type { CurvePoint } from './curve'
import { DEFAULT_CUTOFF_HZ, HIGHEST_SHARE } from './run-of-frames'

/// A curve smoothed at two cut-offs (a kind that low-passes by itself: as it answers at two cut-offs, not smoothed again), its peaks, and two curves held against one another.

export interface SmoothPoint {
  readonly frame: number
  readonly value: number
  /// At a cut-off 30 % lower: where both part, the value depends on the smoothing.
  readonly lower: number
  /// The cut-off of `value`, Hz; that of `lower` is `LOWER_SHARE` of it.
  readonly cutoff_hz: number
}
/// The lower of two cut-offs as a share of the upper.
export const LOWER_SHARE = 0.7

/// A point of a smoothed curve that is a peak.
export interface Peak {
  readonly frame: number
  readonly value: number
  /// Half width of 95 %: the placed points' error there ⊕ 1.96 · difference of the cut-offs / √3; the value's own where its kind
  /// low-passes, for the cut-offs are in it.
  readonly half: number
  readonly way: 'highest' | 'lowest'
}

/// Unbroken pieces of a curve: a frame without a value, or with a range only, ends one, and so does contact, across which nothing is
/// smoothed.
/// `breaks`: last frames before a contact.
export function piecesOf(curve: readonly CurvePoint[], breaks: readonly number[]): CurvePoint[][] {
  const pieces: CurvePoint[][] = []
  for (const point of curve) {
    if (point.range) continue
    const piece = pieces.at(-1)
    const last = piece?.at(-1)
    if (piece && last && point.frame === last.frame + 1 && !breaks.includes(last.frame)) piece.push(point)
    else pieces.push([point])
  }
  return pieces
}

/// Each piece of five frames or more smoothed; of a kind that low-passes by itself each piece of two. `k`: file time over real time, null where it is not known: then by the file's.
export function smoothCurve(curve: readonly CurvePoint[], breaks: readonly number[], table: FrameTable, k: number | null): SmoothPoint[][] {
  return piecesOf(curve, breaks).flatMap((piece) => {
    const own = piece.flatMap(({ frame, value, lower }): SmoothPoint[] =>
      lower ? [{ frame, value, lower: lower.value, cutoff_hz: lower.cutoff_hz }] : [],
    )
    if (own.length > 0) return own.length > 1 ? [own] : []
    const times = piece.map(({ frame }) => secondsAt(table, frame) / (k ?? 1))
    const gaps = times.slice(1).map((time, i) => time - times[i]!)
    const mean = gaps.reduce((sum, gap) => sum + gap, 0) / Math.max(1, gaps.length)
    const cutoff = Math.min(DEFAULT_CUTOFF_HZ, HIGHEST_SHARE / mean)
    const even = gaps.every((gap) => Math.abs(gap - mean) < 0.02 * mean)
    const [at, below] = [smootherOf(times, even, cutoff), smootherOf(times, even, LOWER_SHARE * cutoff)]
    if (!at || !below) return []
    const values = piece.map(({ value }) => value)
    return [
      piece.map(({ frame }, i) => ({
        frame,
        value: weighed(at.value[i]!, values),
        lower: weighed(below.value[i]!, values),
        cutoff_hz: cutoff,
      })),
    ]
  })
}

/// The highest and the lowest point of each smoothed piece that do not lie at its end, and from which the curve goes away on both
/// sides by more than their error: the top of a plateau is none.
export function peaksOf(curve: readonly CurvePoint[], smooth: readonly (readonly SmoothPoint[])[]): Peak[] {
  const placed = new Map(curve.map((point) => [point.frame, point]))
  return smooth.flatMap((piece) =>
    (['highest', 'lowest'] as const).flatMap((way) => {
      const sign = way === 'highest' ? 1 : -1
      const top = piece.reduce((best, point, i) => (sign * point.value > sign * piece[best]!.value ? i : best), 0)
      if (top === 0 || top === piece.length - 1) return []
      const { frame, value, lower } = piece[top]!
      const { low, high, lower: own } = placed.get(frame)!
      const half = Math.hypot((high - low) / 2, own ? 0 : (1.96 * Math.abs(value - lower)) / Math.sqrt(3))
      const away = (side: readonly SmoothPoint[]): number => Math.max(...side.map((point) => sign * (value - point.value)))
      return Math.min(away(piece.slice(0, top)), away(piece.slice(top + 1))) > half ? [{ frame, value, half, way }] : []
    }),
  )
}

/// One curve's points as they lie in another's frames, both at real time with one event at one instant.
export interface Laid {
  /// In the other's frames; may lie between two.
  readonly frame: number
  /// Its frame in its own film: where one is left out, the curve is broken.
  readonly there: number
  readonly value: number
  readonly low: number
  readonly high: number
  /// As on its own curve.
  readonly range?: true
  readonly begins?: true
}

/// One of two curves that are laid over one another, with the event that both are aligned on.
export interface AlignedSide {
  readonly curve: readonly CurvePoint[]
  /// The event's frames.
  readonly event: { readonly earliest: number; readonly latest: number }
  readonly table: FrameTable
  readonly k: number
}

/// Runs of points whose frames, as `frameOf` tells them, are neighbours, none of them the first after a contact: nothing is drawn
/// between the others.
export function stretchesOf<P extends { readonly begins?: true }>(points: readonly P[], frameOf: (point: P) => number): P[][] {
  const runs: P[][] = []
  for (const point of points) {
    const run = runs.at(-1)
    const last = run?.at(-1)
    if (run && last !== undefined && frameOf(point) - frameOf(last) <= 1 && !point.begins) run.push(point)
    else runs.push([point])
  }
  return runs
}

/// Runs of points that have a value: a line goes through these only, while the band takes the ranges in as well.
export const lineStretchesOf = <P extends { readonly range?: true; readonly begins?: true }>(
  points: readonly P[],
  frameOf: (point: P) => number,
): P[][] =>
  stretchesOf(
    points.filter(({ range }) => !range),
    frameOf,
  )

/// Lays `other` over `own`.
export function layOver(own: AlignedSide, other: AlignedSide): Laid[] {
  const there = (secondsAt(other.table, other.event.earliest) + secondsAt(other.table, other.event.latest)) / 2 / other.k
  const interval = (secondsAt(own.table, own.event.latest + 1) - secondsAt(own.table, own.event.latest)) / own.k
  const middle = (own.event.earliest + own.event.latest) / 2
  return other.curve.map(({ frame, value, low, high, range, begins }) => ({
    frame: middle + (secondsAt(other.table, frame) / other.k - there) / interval,
    there: frame,
    value,
    low,
    high,
    ...(range ? { range } : {}),
    ...(begins ? { begins } : {}),
  }))
}
