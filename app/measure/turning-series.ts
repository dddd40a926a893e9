import { smootherOf, weighed, type Smoother } from '../motion/smoother'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { merged, type Effect } from './effect'
import type { ReasonCode } from './reason'
import { cutoffFor, reachOf, runAround, type RunOfFrames } from './run-of-frames'
import { turnedAngle, unwrapped, type TurnedAngle, type Turning } from './turning'

/// A line's or joint's angle followed over a run of frames, with its rate at a cut-off.

export interface TurningSeries {
  readonly run: RunOfFrames
  readonly degrees: readonly number[]
  readonly angles: readonly TurnedAngle[]
  readonly cutoff_hz: number
  /// Smoothers at the cut-off, 30 % below and 30 % above (the latter at most just under half the rate).
  readonly smoothers: readonly [Smoother, Smoother, Smoother]
}

export function turningSeries(
  context: MeasureContext,
  clip: Clip,
  turning: Turning,
  fromFrame: number,
  toFrame: number,
  cutoff: number | undefined,
): Result<TurningSeries, readonly ReasonCode[]> {
  const found = new Map<number, TurnedAngle>()
  const reasons: ReasonCode[] = []
  const isPlaced = (frame: number): boolean => {
    if (found.has(frame)) return true
    const angle = turnedAngle(context, clip, turning, frame)
    if (angle.ok) found.set(frame, angle.value)
    else if (frame >= fromFrame && frame <= toFrame) reasons.push(angle.error)
    return angle.ok
  }
  // The reach is judged by the file's own rate first; k only stretches both alike.
  const near = runAround(context, clip, fromFrame, toFrame, 2, isPlaced)
  if (!near.ok) return refused([...reasons, ...near.error])
  const reach = reachOf(near.value.rate_hz, cutoffFor(near.value, cutoff))
  const run = runAround(context, clip, fromFrame, toFrame, Number.isFinite(reach) ? reach : 2, isPlaced)
  if (!run.ok) return refused([...reasons, ...run.error])
  const cutoff_hz = cutoffFor(run.value, cutoff)
  const made = [cutoff_hz, 0.7 * cutoff_hz, Math.min(1.3 * cutoff_hz, 0.45 * run.value.rate_hz)].map((c) =>
    smootherOf(run.value.times, run.value.even, c),
  )
  const [at, below, above] = made
  if (!at || !below || !above) return refused(['too-few-samples'])
  const angles = run.value.frames.map((f) => found.get(f)!)
  const degrees = turning.points.length === 3 ? angles.map((a) => a.deg) : unwrapped(angles.map((a) => a.deg))
  return ok({ run: run.value, degrees, angles, cutoff_hz, smoothers: [at, below, above] })
}

/// Rates at every frame of the run, degrees a second.
export const ratesOf = (series: TurningSeries, smoother: Smoother): number[] => smoother.rate.map((row) => weighed(row, series.degrees))

/// What the errors of all placings do to a weighted sum of the angles.
export function weightedEffects(series: TurningSeries, weights: readonly number[]): readonly Effect[] {
  return merged(
    weights.flatMap((w, i) =>
      Math.abs(w) < 1e-12 ? [] : series.angles[i]!.effects.map((e): Effect => ({ ...e, shift: e.shift.map((s) => w * s) })),
    ),
  )
}

/// u of weighted sums of the angles, for many sets of weights: what is new on every frame is a
/// variance a frame; what frames share (a landmark's constant offset) is a row a direction.
export function weightedUncertainty(series: TurningSeries): (weights: readonly number[]) => number {
  const rows = new Map<string, { count: number; shifts: number[][] }>()
  const n = series.angles.length
  series.angles.forEach((angle, i) => {
    for (const { key, shift } of merged(angle.effects)) {
      const row = rows.get(key) ?? { count: 0, shifts: shift.map(() => new Array<number>(n).fill(0)) }
      rows.set(key, row)
      row.count++
      shift.forEach((s, k) => (row.shifts[k]![i] = s))
    }
  })
  const own = new Array<number>(n).fill(0)
  const shared: number[][] = []
  for (const { count, shifts } of rows.values())
    if (count > 1) shared.push(...shifts)
    else for (const shift of shifts) shift.forEach((s, i) => (own[i] = own[i]! + s * s))
  return (weights) => {
    let variance = 0
    for (let i = 0; i < n; i++) variance += weights[i]! ** 2 * own[i]!
    for (const row of shared) {
      let sum = 0
      for (let i = 0; i < n; i++) sum += weights[i]! * row[i]!
      variance += sum * sum
    }
    return Math.sqrt(variance)
  }
}
