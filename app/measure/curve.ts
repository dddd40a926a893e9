import { withSide, placeOf, sideOf, storedName } from '../body/landmark-name'
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

const MOST = 1500

/// Measures whose value is one of a frame and of points that are followed over frames.
type OverFrames = Exclude<Extract<Measure, { readonly frame: number; readonly points: readonly string[] }>, { readonly kind: 'step-off-line' | 'foot-heading' }>

/// Whether a measure may have a curve: one that stands on no single frame has none.
export const mayHaveCurve = (measure: Measure): measure is OverFrames => 'frame' in measure && 'points' in measure && measure.kind !== 'step-off-line' && measure.kind !== 'foot-heading'

/// Empty for a measure that may have none.
export function curveOf(measure: Measure, context: MeasureContext): CurvePoint[] {
  if (!mayHaveCurve(measure)) return []
  const { clip, subject } = measure
  const [first] = measure.points
  if (first === undefined) return []
  const frames = framesOf(first, clip, subject, context)
  return frames.slice(0, MOST).flatMap((frame) => {
    const { event: _event, ...alone } = { event: undefined, ...measure }
    const { value, low, high, verdict } = readingOf({ ...alone, frame } as Measure, context)
    return verdict === 'refused' || value === null || low === null || high === null ? [] : [{ frame, value, low, high }]
  })
}

function framesOf(name: string, clip: string, subject: string, context: MeasureContext): number[] {
  const views = context.clip(clip)
  const lead = views ? context.lead(clip, subject, views.from) : null
  const stored = storedName(name, lead) ?? name
  const own = [...context.track(clip, subject, stored).keys()]
  if (own.length > 0 || sideOf(stored) !== 'mid') return own
  return [...context.track(clip, subject, withSide(placeOf(stored), 'left')).keys()]
}

/// A round step that divides a range into three to six.
export function gridOf(low: number, high: number): number[] {
  const span = Math.max(1e-9, high - low)
  const power = 10 ** Math.floor(Math.log10(span / 3))
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => span / s <= 5) ?? span
  return Array.from({ length: Math.floor(high / step) - Math.ceil(low / step) + 1 }, (_, i) => (Math.ceil(low / step) + i) * step)
}
