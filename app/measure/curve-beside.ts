import { exact } from '../project/fields'
import type { Clip, Event } from '../project/film'
import type { Measure } from '../project/question'
import type { MeasureContext } from './context'
import { curveOf, mayHaveCurve, type CurvePoint } from './curve'
import { askAlike } from './likeness'
import { reasons, type ReasonCode } from './reason'
import { readingOf } from './readings'
import { overFrames } from './registry'
import { layOver, type Laid } from './smooth-curve'

/// Another clip's curve laid over the chosen one, both at real time, on an event that both clips name alike; and what the measure
/// of comparison says of the two at that event.

/// The measures whose curve may stand beside this one's: they ask the same of another clip that shares an event's name.
export function measuresBeside(measure: Measure, context: MeasureContext): Measure[] {
  if (!mayHaveCurve(measure)) return []
  return (context.breakdown.measures ?? []).filter(
    (other) =>
      mayHaveCurve(other) &&
      other.clip !== measure.clip &&
      askAlike(measure, other, context) &&
      sharedEvents(measure, other, context).length > 0,
  )
}

/// Names of the events that both clips have, the one nearest to what is measured first.
export function sharedEvents(measure: Measure, other: Measure, context: MeasureContext): string[] {
  const over = overFrames(measure)
  if (!over || !mayHaveCurve(other)) return []
  const far = (event: Event): number => Math.max(event.earliest - over.frame, over.frame - event.latest, 0)
  const names = [...eventsIn(measure, context)].sort((a, b) => far(a) - far(b)).map(({ name }) => name)
  return [...new Set(names)].filter((name) => eventsIn(other, context).some((event) => event.name === name))
}

const eventsIn = ({ clip }: Measure, context: MeasureContext): readonly Event[] => (clip === undefined ? [] : context.eventsOf(clip))

/// Whose curve is laid over, and the name of the event that both clips are aligned on.
export interface Overlay {
  readonly measure: Measure
  readonly on: string
}

/// The overlay that was asked for, as far as it can be had: null where that measure asks something else or shares no event; on the
/// event nearest to what is measured where the one that was asked for is not shared.
export function overlayOf(
  measure: Measure,
  asked: { readonly beside?: string | undefined; readonly on?: string | undefined },
  context: MeasureContext,
): Overlay | null {
  const other = measuresBeside(measure, context).find(({ id }) => id === asked.beside)
  const shared = other ? sharedEvents(measure, other, context) : []
  const on = shared.find((name) => name === asked.on) ?? shared[0]
  return other && on !== undefined ? { measure: other, on } : null
}

/// Another curve over one's own.
export interface Beside {
  /// Empty where the two have no common time, or a film is still being read.
  readonly points: readonly Laid[]
  /// What may be said of the two at their event: "at load: −40° ± 9°, differs (beyond our error)".
  readonly words: string
}

/// Lays the curve of `other` over that of `measure`, aligned on the event that both clips call `on`.
export function curveBeside(measure: Measure, other: Measure, on: string, context: MeasureContext): Beside {
  const nothing = (words: string): Beside => ({ points: [], words })
  if (!mayHaveCurve(measure) || !mayHaveCurve(other) || measure.clip === undefined || other.clip === undefined) return nothing('no curve')
  const [here, there] = [context.clip(measure.clip), context.clip(other.clip)]
  const [event, match] = [measure, other].map((each) => eventsIn(each, context).find(({ name }) => name === on))
  if (!here || !there || !event || !match) return nothing('no shared event')
  const [k, l] = [factorOf(here), factorOf(there)]
  const [table, tableThere] = [context.table(here), context.table(there)]
  if (!table || !tableThere) return nothing('a film is still being read')
  const [own, others] = [curveOf(measure, context), curveOf(other, context)]
  // Without both capture factors the curves have no common time; what stands at the event can be compared all the same.
  const points =
    k === null || l === null ? [] : layOver({ curve: own, event, table, k }, { curve: others, event: match, table: tableThere, k: l })
  const unmatched = points.length === 0 ? ' (not laid over: a capture factor is not known)' : ''
  const [a, b] = [nearest(own, event), nearest(others, match)]
  if (a === null || b === null) return { points, words: `at ${on}: not placed in both${unmatched}` }
  const [asked, askedThere] = [at(measure, a, event), at(other, b, match)]
  // A way's end has no event whose bracket could enter its error.
  if (!asked || !askedThere) return { points, words: `at ${on}: no decision, it does not stand for an event${unmatched}` }
  return { points, words: `at ${on}: ${comparedWords(asked, askedThere, asked.kind === measure.kind, context)}${unmatched}` }
}

/// The same question on another frame, which stands for an event; null where it cannot.
function at(measure: Measure, frame: number, event: Event): Measure | null {
  const question = overFrames(measure)?.on(frame)
  return question && 'frame' in question && question.kind !== 'by-eye' ? { ...question, event: event.id } : null
}

/// Asks the measure of comparison; where the two are asked for themselves, with the margin that was written down for them.
function comparedWords(a: Measure, b: Measure, themselves: boolean, context: MeasureContext): string {
  const stated =
    themselves &&
    (context.breakdown.measures ?? []).find(
      (each) => each.kind === 'comparison' && each.measures.includes(a.id) && each.measures.includes(b.id),
    )
  const margin = stated && stated.kind === 'comparison' && stated.margin ? { margin: stated.margin } : {}
  const asked: MeasureContext = { ...context, measure: (id) => (id === a.id ? a : id === b.id ? b : context.measure(id)) }
  const reading = readingOf({ id: `${a.id}-${b.id}`, kind: 'comparison', measures: [a.id, b.id], ...margin }, asked)
  const why = reading.reasons
    .map((code) => reasons[code as ReasonCode])
    .find(({ weight }) => weight === (reading.verdict === 'refused' ? 'refuse' : 'warn'))
  if (reading.verdict === 'refused') return `no decision, ${why?.wording ?? 'not measured'}`
  return `${reading.plate.value}${why ? `; ◐ ${why.wording}` : ''}`
}

/// The placed frame nearest to the middle of an event, one frame off at most.
function nearest(curve: readonly CurvePoint[], { earliest, latest }: Event): number | null {
  const middle = (earliest + latest) / 2
  const found = curve.reduce<number | null>(
    (best, { frame }) => (best === null || Math.abs(frame - middle) < Math.abs(best - middle) ? frame : best),
    null,
  )
  return found !== null && found >= earliest - 1 && found <= latest + 1 ? found : null
}

/// File time over real time, as it is stated; null where it is not known.
export function factorOf({ capture }: Clip): number | null {
  if (capture === 'unknown') return null
  const { n, d } = exact(capture.factor)
  return n / d
}
