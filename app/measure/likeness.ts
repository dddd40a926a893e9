import { sayPoint, storedName } from '../body/landmark-name'
import type { Measure } from '../project/question'
import type { MeasureContext } from './context'

/// Whether two measures ask the same thing, of two moments, clips or people.

/// Kinds whose answers are no quantities that may be held against each other.
const UNCOMPARED: ReadonlySet<Measure['kind']> = new Set(['comparison', 'order', 'peak-order', 'count'])

export const mayBeCompared = (measure: Measure): boolean => !UNCOMPARED.has(measure.kind)

/// Like with like: one kind, one unit, the same points. Points are matched by lead and rear where the lead side is stated for both
/// (an orthodox fighter's rear knee is the right one, a southpaw's the left), else by left and right. Points are stored
/// unmirrored, so a mirrored clip needs nothing more. Measures of events are alike when their events are named alike.
export function askAlike(a: Measure, b: Measure, context: MeasureContext): boolean {
  if (a.kind !== b.kind || !mayBeCompared(a)) return false
  if ('from' in a && 'from' in b) return named(a.from, context) === named(b.from, context) && named(a.to, context) === named(b.to, context)
  if (a.kind === 'by-eye') return b.kind === 'by-eye' && a.what === b.what && a.unit === b.unit
  return samePoints(a, b, context) && qualifiers(a, context) === qualifiers(b, context)
}

const named = (event: string, context: MeasureContext): string => context.event(event)?.name.trim().toLowerCase() ?? event

function samePoints(a: Measure, b: Measure, context: MeasureContext): boolean {
  if (!('points' in a) || !('points' in b)) return !('points' in a) && !('points' in b)
  const [here, there] = [leadOf(a, context), leadOf(b, context)]
  const said = (points: readonly string[], lead: typeof here): string => {
    const names = points.map((point) => (here !== null && there !== null ? sayPoint(point, lead) : (storedName(point, lead) ?? point)))
    // A joint is the same from either end.
    return (names.length === 3 && names[0]! > names[2]! ? names.reverse() : names).join(' ')
  }
  return said(a.points, here) === said(b.points, there)
}

function leadOf(measure: Measure, context: MeasureContext) {
  if (!('subject' in measure) || measure.subject === undefined) return null
  const frame = 'frame' in measure ? measure.frame : 'fromFrame' in measure ? measure.fromFrame : null
  return frame === null ? null : context.lead(measure.clip, measure.subject, frame)
}

/// The unit that a measure is stated in where that is chosen; null: it is not.
function lengthUnit(measure: Measure): string | null {
  if ('scale' in measure && measure.scale !== undefined) return 'm'
  if (!('unit' in measure)) return null
  return typeof measure.unit === 'object' ? measure.unit.name : (measure.unit ?? null)
}

/// What else makes two measures of one kind different questions.
function qualifiers(measure: Measure, context: MeasureContext): string {
  const lead = leadOf(measure, context)
  return JSON.stringify([
    'plane' in measure && measure.plane !== undefined,
    'toward' in measure ? (measure.toward ?? 'right') : null,
    'above' in measure ? (measure.above ?? null) : null,
    'view' in measure ? measure.view : null,
    'table' in measure ? measure.table : null,
    'sign' in measure ? (measure.sign ?? null) : null,
    lengthUnit(measure),
    'floor' in measure ? (measure.floor?.unit ?? null) : null,
    'against' in measure && measure.against !== undefined ? sayPoint(measure.against, lead) : null,
  ])
}
