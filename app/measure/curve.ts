import type { Measure } from '../project/question'
import type { MeasureContext } from './context'
import { finish } from './finish'
import type { OverFrames } from './over-frames'
import type { Reading } from './reading'
import { aboutOf, readingOf } from './readings'
import { answerOf, overFrames } from './registry'
import { impactBreaks } from './run-of-frames'

/// A measure's value on every frame on which it can be had, as its kind gives it: nothing is made up between frames.
export interface CurvePoint {
  readonly frame: number
  readonly value: number
  readonly low: number
  readonly high: number
  /// Only a range can be said: the band stands without a line, and nothing is smoothed.
  readonly range?: true
  /// Of a kind that low-passes by itself: its value at a cut-off 30 % lower, and its own cut-off, Hz.
  readonly lower?: { readonly value: number; readonly cutoff_hz: number }
  /// The first of such a kind after a contact: nothing joins it to the one before.
  readonly begins?: true
}

/// Frames that a curve is made of at most: those around the measure's own. How many are left out is told (`leftOut`).
export const MOST_FRAMES = 1500

/// Whether a measure may have a curve: one that stands on no single frame has none, nor has one that rests on what an analyst stated
/// about its frame alone (a foot planted on the floor).
export const mayHaveCurve = (measure: Measure): boolean => overFrames(measure) !== null

/// Empty for a measure that may have none.
export function curveOf(measure: Measure, context: MeasureContext): CurvePoint[] {
  const over = overFrames(measure)
  if (!over) return []
  const known = over.atOnce?.(context)
  const breaks = measure.clip === undefined ? [] : impactBreaks(context.eventsOf(measure.clip))
  return framesAround(over, context).flatMap((frame): CurvePoint[] => {
    const question = over.on(frame)
    const answer = known ? known.get(frame) : answerOf(question, context)
    if (!answer) return []
    const { value, low, high, verdict } = finish(aboutOf(question), answer)
    if (verdict === 'refused' || value === null || low === null || high === null) return []
    return [
      {
        frame,
        value,
        low,
        high,
        ...(verdict === 'range' ? { range: true } : {}),
        ...(answer.lower ? { lower: answer.lower } : {}),
        ...(answer.lower && breaks.includes(frame - 1) ? { begins: true } : {}),
      },
    ]
  })
}

/// The reading by whose name and unit a measure's curve goes: its own; where that is refused, or the curve is of something else (the
/// rate whose peak is asked for), the one on the curve's first frame.
export function readingOfCurve(measure: Measure, own: Reading, curve: readonly CurvePoint[], context: MeasureContext): Reading {
  const question = curve[0] && overFrames(measure)?.on(curve[0].frame)
  if (!question || (own.verdict !== 'refused' && question.kind === measure.kind)) return own
  return readingOf(question, context)
}

/// How many frames that may have a value a measure's curve leaves out; 0 for nearly all.
export function leftOut(measure: Measure, context: MeasureContext): number {
  const over = overFrames(measure)
  return over ? Math.max(0, over.frames(context).length - MOST_FRAMES) : 0
}

function framesAround(over: OverFrames, context: MeasureContext): readonly number[] {
  const frames = over.frames(context)
  if (frames.length <= MOST_FRAMES) return frames
  const at = frames.findIndex((frame) => frame >= over.frame)
  const first = Math.max(0, Math.min(frames.length - MOST_FRAMES, (at < 0 ? frames.length : at) - MOST_FRAMES / 2))
  return frames.slice(first, first + MOST_FRAMES)
}

/// A round step that divides a range into three to six.
export function gridOf(low: number, high: number): number[] {
  const span = Math.max(1e-9, high - low)
  const power = 10 ** Math.floor(Math.log10(span / 3))
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => span / s <= 5) ?? span
  return Array.from({ length: Math.floor(high / step) - Math.ceil(low / step) + 1 }, (_, i) => (Math.ceil(low / step) + i) * step)
}
