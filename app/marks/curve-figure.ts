import type { MeasureContext } from '../measure/context'
import { curveOf, leftOut, readingOfCurve, type CurvePoint } from '../measure/curve'
import { curveBeside, factorOf, type Overlay } from '../measure/curve-beside'
import type { Instant } from '../measure/over-frames'
import type { Reading } from '../measure/reading'
import { overFrames } from '../measure/registry'
import { impactBreaks } from '../measure/run-of-frames'
import { peaksOf, smoothCurve, type Laid, type Peak, type SmoothPoint } from '../measure/smooth-curve'
import type { Measure } from '../project/question'

/// A measure's value over the frames of its clip, with its 95 % band, smoothed at two cut-offs, its peaks, and the events of the
/// clip; another clip's curve laid over it, with what may be said of the two.
export interface CurveFigure {
  readonly measure: string
  readonly title: string
  readonly points: readonly CurvePoint[]
  readonly events: readonly { readonly name: string; readonly frame: number }[]
  readonly unit: string
  readonly clip: string
  /// Piece by piece, nothing across contact; empty: not smoothed.
  readonly smooth: readonly (readonly SmoothPoint[])[]
  /// Of the longest pieces; with an instant the one there.
  readonly peaks: readonly Peak[]
  /// The cut-offs are Hz of real time; else of the film's, for the clip's capture factor is not known.
  readonly realTime: boolean
  /// Frames on which it is placed as well, and which are not drawn; absent: none.
  readonly leftOut?: number
  /// The instant that the measure's own value is, with its bracket: when the curve is highest.
  readonly instant?: Instant
  readonly over?: CurveOver
}

/// The other clip's curve in one's own frames, and the decision in words.
export interface CurveOver {
  readonly clip: string
  readonly points: readonly Laid[]
  readonly words: string
}

/// Frames with a value that a curve is drawn from; two are a comparison, not a course.
export const LEAST_POINTS = 3

/// Peaks that a figure shows at most.
const MOST_PEAKS = 6

/// A measure's figure; null where it has a value on fewer than three frames. `points`: where its curve is known already; `overlay`:
/// whose curve is laid over it, and on which event.
export function curveFigure(
  measure: Measure,
  context: MeasureContext,
  reading: Reading | undefined,
  {
    points = curveOf(measure, context),
    overlay = null,
  }: { readonly points?: readonly CurvePoint[]; readonly overlay?: Overlay | null } = {},
): CurveFigure | null {
  if (!reading || !('clip' in measure) || measure.clip === undefined) return null
  if (points.length < LEAST_POINTS) return null
  const left = leftOut(measure, context)
  const clip = context.clip(measure.clip)
  const table = clip && context.table(clip)
  const marked = context.eventsOf(measure.clip)
  const k = clip && factorOf(clip)
  const smooth = table ? smoothCurve(points, impactBreaks(marked), table, k) : []
  const over = overlay && overOf(measure, overlay, context)
  const named = readingOfCurve(measure, reading, points, context)
  const instant = overFrames(measure)?.instant?.(reading, context)
  // Where one instant is told, the peak there is what it is about.
  const isTold = ({ frame }: Peak): boolean => !instant || Math.abs(frame - instant.at) <= Math.max(1, instant.latest - instant.earliest)
  const peaks = peaksOf(
    points,
    [...smooth].sort((a, b) => b.length - a.length),
  )
    .filter(isTold)
    .slice(0, MOST_PEAKS)
  return {
    measure: measure.id,
    title: named.plate.what,
    points,
    events: marked.map(({ name, earliest, latest }) => ({ name, frame: (earliest + latest) / 2 })),
    unit: named.unit,
    clip: clip?.name ?? measure.clip,
    smooth,
    peaks,
    realTime: k !== null,
    ...(left > 0 ? { leftOut: left } : {}),
    ...(instant ? { instant } : {}),
    ...(over ? { over } : {}),
  }
}

function overOf(measure: Measure, { measure: other, on }: Overlay, context: MeasureContext): CurveOver {
  const clip = other.clip ?? ''
  return { clip: context.clip(clip)?.name ?? clip, ...curveBeside(measure, other, on, context) }
}

/// Figures of every measure that has a value on three frames or more.
export const curveFigures = (
  measures: readonly Measure[],
  context: MeasureContext,
  readings: ReadonlyMap<string, Reading>,
): CurveFigure[] => measures.flatMap((measure) => curveFigure(measure, context, readings.get(measure.id)) ?? [])
