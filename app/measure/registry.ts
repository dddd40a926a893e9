import type { Measure, MeasureKind } from '../project/question'
import type { Answer } from './answer'
import type { MeasureContext } from './context'
import { distanceKind } from './distance'
import { frameCountKind } from './frame-count'
import { jointAngleKind } from './joint-angle'
import type { Kind, MeasureOf } from './kind'
import { lineAngleKind } from './line-angle'
import { lineLeanKind } from './line-lean'
import { orderKind } from './order'
import { timeBetweenKind } from './time-between'

/// Every kind of measure, by its name in the breakdown document.
export const registry: { readonly [K in MeasureKind]: Kind<K> } = {
  'joint-angle': jointAngleKind,
  'line-lean': lineLeanKind,
  'line-angle': lineAngleKind,
  'frame-count': frameCountKind,
  'time-between': timeBetweenKind,
  'order': orderKind,
  'distance': distanceKind,
}

const ask = <K extends MeasureKind>(kind: K, measure: MeasureOf[K], context: MeasureContext): Answer => registry[kind].answer(measure, context)

/// Asks a measure's own kind.
export const answerOf = (measure: Measure, context: MeasureContext): Answer => ask(measure.kind, measure, context)
