import type { Breakdown } from '../project/breakdown'
import type { Measure } from '../project/question'
import type { FrameTable } from '../time/frame-table'
import { measureContext, type MeasureContext } from './context'
import { finish } from './finish'
import type { Reading } from './reading'
import { answerOf } from './registry'

/// Readings of every measure, in the order of `breakdown.measures`. Never throws on a breakdown that
/// its schema vouches for: what cannot be measured is a refused reading with its reasons.
/// `tableOf` gives a footage's frame times, or null while the film is not there or not read: times
/// are then refused; angles and frame counts are given.
export function readingsOf(breakdown: Breakdown, tableOf: (footageId: string) => FrameTable | null): Reading[] {
  const context = measureContext(breakdown, tableOf)
  return (breakdown.measures ?? []).map((measure) => readingOf(measure, context))
}

/// The reading of one measure. Make the context once per version of the breakdown
/// (`measureContext`) and ask it for as many measures as needed.
export function readingOf(measure: Measure, context: MeasureContext): Reading {
  return finish(aboutOf(measure), answerOf(measure, context))
}

/// What a reading says of its measure beside the answer.
export const aboutOf = (measure: Measure) => ({
  id: measure.id,
  kind: measure.kind,
  clip: measure.clip ?? null,
  frame: 'frame' in measure ? measure.frame : null,
  label: measure.label,
})
