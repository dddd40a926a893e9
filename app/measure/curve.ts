import { sideOf, storedName, withSide } from '../body/landmark-name'
import type { MeasureContext } from './context'
import { readingOf } from './readings'
import type { Measure } from '../project/question'

/// A measure's value on every frame on which its points are placed, as placed: nothing is smoothed, nothing is made up
/// between frames.
export interface CurvePoint {
  readonly frame: number
  readonly value: number
  readonly low: number
  readonly high: number
}

/// Frames that a curve is made of at most: those around the measure's own. How many are left out is told (`leftOut`).
export const MOST_FRAMES = 1500

/// Measures whose value is one of a frame and of points that are followed over frames.
export type OverFrames = Exclude<Extract<Measure, { readonly frame: number; readonly points: readonly string[] }>, { readonly kind: 'step-off-line' | 'foot-heading' }>

/// Whether a measure may have a curve: one that stands on no single frame has none.
export const mayHaveCurve = (measure: Measure): measure is OverFrames => 'frame' in measure && 'points' in measure && measure.kind !== 'step-off-line' && measure.kind !== 'foot-heading'

/// Empty for a measure that may have none.
export function curveOf(measure: Measure, context: MeasureContext): CurvePoint[] {
  if (!mayHaveCurve(measure)) return []
  return framesAround(measure, context).flatMap((frame) => {
    const { event: _event, ...alone } = { event: undefined, ...measure }
    const { value, low, high, verdict } = readingOf({ ...alone, frame } as Measure, context)
    return verdict === 'refused' || value === null || low === null || high === null ? [] : [{ frame, value, low, high }]
  })
}

/// How many frames on which its first point is placed a measure's curve leaves out; 0 for nearly all.
export const leftOut = (measure: Measure, context: MeasureContext): number => (mayHaveCurve(measure) ? Math.max(0, placedFrames(measure, context).length - MOST_FRAMES) : 0)

function framesAround(measure: OverFrames, context: MeasureContext): readonly number[] {
  const frames = placedFrames(measure, context)
  if (frames.length <= MOST_FRAMES) return frames
  const at = frames.findIndex((frame) => frame >= measure.frame)
  const first = Math.max(0, Math.min(frames.length - MOST_FRAMES, (at < 0 ? frames.length : at) - MOST_FRAMES / 2))
  return frames.slice(first, first + MOST_FRAMES)
}

/// In frame order. Lead and rear are looked up frame by frame: the lead side may change within a clip, or be stated for a part only.
function placedFrames({ points: [name], clip, subject }: OverFrames, context: MeasureContext): number[] {
  if (name === undefined) return []
  const side = sideOf(name)
  const track = (point: string): ReadonlyMap<number, unknown> => context.track(clip, subject, point)
  if (side === 'lead' || side === 'rear') {
    const both = new Set([...track(withSide(name, 'left')).keys(), ...track(withSide(name, 'right')).keys()])
    const isThere = (frame: number): boolean => {
      const stored = storedName(name, context.lead(clip, subject, frame))
      return stored !== null && track(stored).has(frame)
    }
    return [...both].filter(isThere).sort((a, b) => a - b)
  }
  const own = [...track(name).keys()]
  return own.length > 0 || side !== 'mid' ? own : [...track(withSide(name, 'left')).keys()]
}

/// A round step that divides a range into three to six.
export function gridOf(low: number, high: number): number[] {
  const span = Math.max(1e-9, high - low)
  const power = 10 ** Math.floor(Math.log10(span / 3))
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => span / s <= 5) ?? span
  return Array.from({ length: Math.floor(high / step) - Math.ceil(low / step) + 1 }, (_, i) => (Math.ceil(low / step) + i) * step)
}
