import type { MeasureContext } from '../../app/measure/context'
import { exact } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import type { Measure } from '../../app/project/question'
import { curveOf } from './curve'
import { layOver, type Laid } from './smooth-curve'

/// Another measure's curve laid over the chosen one, both at real time, on an event that both clips name alike.

/// The measures whose curve may stand beside this one's: of its kind, with a curve, on a clip that shares an event's name.
export function measuresBeside(measure: Measure, context: MeasureContext): Measure[] {
  if (!('frame' in measure)) return []
  const names = new Set(context.eventsOf(measure.clip).map(({ name }) => name))
  return (context.breakdown.measures ?? []).filter(
    (other) => other.id !== measure.id && other.kind === measure.kind && 'frame' in other && other.clip !== measure.clip && context.eventsOf(other.clip).some(({ name }) => names.has(name)),
  )
}

export interface Beside {
  readonly points: readonly Laid[]
  readonly words: string
}

export function curveBeside(measure: Measure, other: Measure, context: MeasureContext): Beside {
  const nothing = (words: string): Beside => ({ points: [], words })
  if (!('frame' in measure) || !('frame' in other)) return nothing('')
  const [here, there] = [context.clip(measure.clip), context.clip(other.clip)]
  const shared = context.eventsOf(measure.clip).find(({ name }) => context.eventsOf(other.clip).some((event) => event.name === name))
  const match = context.eventsOf(other.clip).find(({ name }) => name === shared?.name)
  if (!here || !there || !shared || !match) return nothing('no shared event')
  const [k, l] = [factorOf(here), factorOf(there)]
  if (k === null || l === null) return nothing('speed not matched: a capture factor is not known')
  const [table, other_table] = [context.table(here), context.table(there)]
  if (!table || !other_table) return nothing('a film is still being read')
  const [v, w] = [measure, other].map((m) => ('subject' in m && m.subject !== undefined ? context.view(m.clip, m.subject, m.frame)?.yaw : undefined))
  const { points, decision } = layOver({ curve: curveOf(measure, context), event: shared, table, k }, { curve: curveOf(other, context), event: match, table: other_table, k: l }, marginOf(measure, other, context))
  const on = `at ${shared.name}: `
  if (!v || !w) return { points, words: `${on}no decision, a yaw is not stated` }
  // Beyond 25° apparent angles are not compared (docs/measurement.md, Comparison).
  if (Math.abs(v.deg - w.deg) > 25) return { points, words: `${on}no decision, the views differ` }
  return { points, words: decision === null ? `${on}not placed in both` : on + (decision === 'similar' ? 'similar within the margin' : decision === 'differs' ? 'differs, beyond our error' : 'cannot tell apart') }
}

function factorOf({ capture }: Clip): number | null {
  if (capture === 'unknown') return null
  const { n, d } = exact(capture.factor)
  return n / d
}

/// How near counts as similar, where a comparison of the two wrote it down before.
function marginOf(a: Measure, b: Measure, context: MeasureContext): number | null {
  const comparison = (context.breakdown.measures ?? []).find((m) => m.kind === 'comparison' && m.measures.includes(a.id) && m.measures.includes(b.id))
  return comparison?.kind === 'comparison' && comparison.margin?.before ? comparison.margin.delta : null
}
