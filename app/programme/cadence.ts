import { exactSecondsAt, frameAtSeconds, type FrameTable } from '../time/frame-table'
import { ceil, divide, multiply, rational, round, subtract, type Rational } from '../time/rational'

/// Which footage frame stands on screen at each output frame. Everything is exact: a frame is
/// shown from the first output frame at or after its own time, and never before it.

/// How a span of footage is walked: at output frame `anchor` footage frame `at` appears; one
/// output second walks `pace` seconds of file time (speed × capture factor).
export interface Walk {
  readonly table: FrameTable
  readonly at: number
  readonly anchor: number
  readonly pace: Rational
  readonly outputRate: Rational
  /// Frames outside [from, to) are never shown: the nearest one stands instead.
  readonly from: number
  readonly to: number
}

/// Footage frame at each of `count` output frames, never running backwards.
export function walkFrames(walk: Walk, count: number): Int32Array {
  return walkEvenly(walk, count) ?? walkByTimes(walk, count)
}

/// On a film of one rate the frames lie on a line: whole numbers alone, as long as they are safe ones; null else.
function walkEvenly({ table, at, anchor, pace, outputRate, from, to }: Walk, count: number): Int32Array | null {
  if (!table.rate) return null
  const { n: on, d } = multiply(divide(pace, outputRate), table.rate)
  if ((count + Math.abs(anchor)) * on + at * d > Number.MAX_SAFE_INTEGER) return null
  const last = Math.min(to, table.pts.length) - 1
  const frames = new Int32Array(count)
  for (let n = 0; n < count; n++) {
    const reached = at * d + (n - anchor) * on
    const past = reached % d
    frames[n] = Math.max(from, Math.min(last, (reached - (past < 0 ? past + d : past)) / d))
  }
  return frames
}

/// By the times of the frames, one after the other.
function walkByTimes(walk: Walk, count: number): Int32Array {
  const start = exactSecondsAt(walk.table, walk.at)
  const step = divide(walk.pace, walk.outputRate)
  const frames = new Int32Array(count)
  for (let n = 0; n < count; n++) {
    const seconds = subtract(start, multiply(rational(walk.anchor - n), step))
    frames[n] = Math.max(walk.from, Math.min(walk.to - 1, frameAtSeconds(walk.table, seconds)))
  }
  return frames
}

/// Output frames that a span of footage lasts at `pace`: to the nearest whole frame, at least one.
export function outputFramesOf(table: FrameTable, from: number, to: number, pace: Rational, outputRate: Rational): number {
  const seconds = subtract(exactSecondsAt(table, to), exactSecondsAt(table, from))
  return Math.max(1, round(multiply(divide(seconds, pace), outputRate)))
}

/// True when every footage frame stands for the same whole number of output frames, or every
/// output frame moves on by the same whole number of footage frames.
export function isEvenCadence(rate: Rational | null, pace: Rational, outputRate: Rational): boolean {
  if (!rate) return false
  const held = divide(outputRate, multiply(rate, pace))
  return held.d === 1 || held.n === 1
}

/// Whole output frames of a length in seconds: to the nearest, at least one.
export const framesOfSeconds = (seconds: Rational, outputRate: Rational): number => Math.max(1, round(multiply(seconds, outputRate)))
/// Whole output frames that cover a length in seconds.
export const framesCovering = (seconds: Rational, outputRate: Rational): number => ceil(multiply(seconds, outputRate))
