import type { Measure, MeasureKind } from '../project/question'
import type { Answer } from './answer'
import { angularRateKind } from './angular-rate'
import { byEyeKind } from './by-eye'
import { centreOfMassKind } from './centre-of-mass'
import { countKind } from './count'
import { footHeadingKind } from './foot-heading'
import { pathKind } from './path'
import { peakOrderKind } from './peak-order'
import { peakTimeKind } from './peak-time'
import { separationKind } from './separation'
import { speedKind } from './speed'
import { stepOffLineKind } from './step-off-line'
import { comparisonKindOf } from './comparison'
import { displacementKind, headDisplacementKind } from './displacement'
import { withEvent } from './event-motion'
import type { MeasureContext } from './context'
import { distanceKind } from './distance'
import { frameCountKind } from './frame-count'
import { jointAngleKind } from './joint-angle'
import type { Kind, MeasureOf } from './kind'
import { lineAngleKind } from './line-angle'
import { lineLeanKind } from './line-lean'
import { orderKind } from './order'
import type { OverFrames } from './over-frames'
import { timeBetweenKind } from './time-between'

/// Every kind of measure, by its name in the breakdown document.
export const registry: { readonly [K in MeasureKind]: Kind<K> } = {
  'joint-angle': jointAngleKind,
  'line-lean': lineLeanKind,
  'line-angle': lineAngleKind,
  'frame-count': frameCountKind,
  'time-between': timeBetweenKind,
  order: orderKind,
  distance: distanceKind,
  separation: separationKind,
  'step-off-line': stepOffLineKind,
  'foot-heading': footHeadingKind,
  displacement: displacementKind,
  'head-displacement': headDisplacementKind,
  path: pathKind,
  'centre-of-mass': centreOfMassKind,
  speed: speedKind,
  'angular-rate': angularRateKind,
  'peak-time': peakTimeKind,
  'peak-order': peakOrderKind,
  count: countKind,
  'by-eye': byEyeKind,
  comparison: comparisonKindOf((measure, context) => answerOf(measure, context)),
}

const ask = <K extends MeasureKind>(kind: K, measure: MeasureOf[K], context: MeasureContext): Answer =>
  registry[kind].answer(measure, context)
const askKind = (measure: Measure, context: MeasureContext): Answer => ask(measure.kind, measure, context)

/// Asks a measure's own kind, and adds what its event leaves open.
export const answerOf = (measure: Measure, context: MeasureContext): Answer =>
  withEvent(measure, askKind(measure, context), context, askKind)

const over = <K extends MeasureKind>(kind: K, measure: MeasureOf[K]): OverFrames | null => registry[kind].over?.(measure) ?? null

/// How a measure's value is followed over frames; null where its kind stands on no single frame.
export const overFrames = (measure: Measure): OverFrames | null => over(measure.kind, measure)
