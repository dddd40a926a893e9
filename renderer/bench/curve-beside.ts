import type { MeasureContext } from '../../app/measure/context'
import { mayHaveCurve, type CurvePoint, type OverFrames } from '../../app/measure/curve'
import { askAlike } from '../../app/measure/likeness'
import { readingOf } from '../../app/measure/readings'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import { exact } from '../../app/project/fields'
import type { Clip, Event } from '../../app/project/film'
import type { Measure } from '../../app/project/question'
import { curveOf } from './curve'
import { layOver, type Laid } from './smooth-curve'

/// Another clip's curve laid over the chosen one, both at real time, on an event that both clips name alike; and what the measure
/// of comparison says of the two at that event.

/// The measures whose curve may stand beside this one's: they ask the same of another clip that shares an event's name.
export function measuresBeside(measure: Measure, context: MeasureContext): Measure[] {
  if (!mayHaveCurve(measure)) return []
  return (context.breakdown.measures ?? []).filter((other) => mayHaveCurve(other) && other.clip !== measure.clip && askAlike(measure, other, context) && sharedEvents(measure, other, context).length > 0)
}

/// Names of the events that both clips have, the one nearest to what is measured first.
export function sharedEvents(measure: Measure, other: Measure, context: MeasureContext): string[] {
  if (!mayHaveCurve(measure) || !mayHaveCurve(other)) return []
  const far = (event: Event): number => Math.max(event.earliest - measure.frame, measure.frame - event.latest, 0)
  const names = [...context.eventsOf(measure.clip)].sort((a, b) => far(a) - far(b)).map(({ name }) => name)
  return [...new Set(names)].filter((name) => context.eventsOf(other.clip).some((event) => event.name === name))
}

export interface Beside {
  readonly points: readonly Laid[]
  readonly words: string
}

export function curveBeside(measure: Measure, other: Measure, on: string, context: MeasureContext): Beside {
  const nothing = (words: string): Beside => ({ points: [], words })
  if (!mayHaveCurve(measure) || !mayHaveCurve(other)) return nothing('no curve')
  const [here, there] = [context.clip(measure.clip), context.clip(other.clip)]
  const [event, match] = [measure, other].map(({ clip }) => context.eventsOf(clip).find(({ name }) => name === on))
  if (!here || !there || !event || !match) return nothing('no shared event')
  const [k, l] = [factorOf(here), factorOf(there)]
  const [table, tableThere] = [context.table(here), context.table(there)]
  if (!table || !tableThere) return nothing('a film is still being read')
  const [own, others] = [curveOf(measure, context), curveOf(other, context)]
  // Without both capture factors the curves have no common time; what stands at the event can be compared all the same.
  const points = k === null || l === null ? [] : layOver({ curve: own, event, table, k }, { curve: others, event: match, table: tableThere, k: l })
  const unmatched = points.length === 0 ? ' (not laid over: a capture factor is not known)' : ''
  const [a, b] = [nearest(own, event), nearest(others, match)]
  if (a === null || b === null) return { points, words: `at ${on}: not placed in both${unmatched}` }
  return { points, words: `at ${on}: ${comparedWords(at(measure, a, event), at(other, b, match), context)}${unmatched}` }
}

/// The same question on another frame, which stands for an event.
const at = (measure: OverFrames, frame: number, event: Event): Measure => ({ ...measure, frame, event: event.id })

/// Asks the measure of comparison, with the margin that was written down for the two.
function comparedWords(a: Measure, b: Measure, context: MeasureContext): string {
  const stated = (context.breakdown.measures ?? []).find((each) => each.kind === 'comparison' && each.measures.includes(a.id) && each.measures.includes(b.id))
  const margin = stated?.kind === 'comparison' && stated.margin ? { margin: stated.margin } : {}
  const asked: MeasureContext = { ...context, measure: (id) => (id === a.id ? a : id === b.id ? b : context.measure(id)) }
  const reading = readingOf({ id: `${a.id}-${b.id}`, kind: 'comparison', measures: [a.id, b.id], ...margin }, asked)
  const why = reading.reasons.map((code) => reasons[code as ReasonCode]).find(({ weight }) => weight === (reading.verdict === 'refused' ? 'refuse' : 'warn'))
  if (reading.verdict === 'refused') return `no decision, ${why?.wording ?? 'not measured'}`
  return `${reading.plate.value}${why ? `; ◐ ${why.wording}` : ''}`
}

/// The placed frame nearest to the middle of an event, one frame off at most.
function nearest(curve: readonly CurvePoint[], { earliest, latest }: Event): number | null {
  const middle = (earliest + latest) / 2
  const found = curve.reduce<number | null>((best, { frame }) => (best === null || Math.abs(frame - middle) < Math.abs(best - middle) ? frame : best), null)
  return found !== null && found >= earliest - 1 && found <= latest + 1 ? found : null
}

function factorOf({ capture }: Clip): number | null {
  if (capture === 'unknown') return null
  const { n, d } = exact(capture.factor)
  return n / d
}
