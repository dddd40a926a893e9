import type { Point } from '../project/fields'
import type { Measure } from '../project/question'
import type { MeasureContext } from './context'
import { locate } from './located'

/// Where a measure's own points lie on a frame, for its lines and arcs: unmirrored pixels, in the
/// order of the measure's `points`, middles and lead or rear sides resolved. `frame` absent: the
/// measure's own frame. Null for a measure without points or (for one that spans frames) without `frame`,
/// and where a point is not placed on
/// that frame.
export function drawnPoints(measure: Measure, context: MeasureContext, frame?: number): readonly Point[] | null {
  if (!('points' in measure)) return null
  const clip = context.clip(measure.clip)
  const on = frame ?? ('frame' in measure ? measure.frame : null)
  if (!clip || on === null) return null
  const found: Point[] = []
  for (const name of measure.points) {
    const point = locate(context, clip, measure.subject, name, on)
    if (!point.ok) return null
    found.push(point.value.at)
  }
  return found
}
