import { noAnswer, type Answer } from './answer'
import { bracketU, eventPair, timeBracket } from './bracket'
import { captureFactor } from './capture-factor'
import { bracketedHalfWidth } from './distribution'
import { merged, uncertaintyOf, type Effect } from './effect'
import { cameFirst, eventWords, firstNamed } from './event-span'
import { EVENT_LIMITS, type Kind } from './kind'
import type { ReasonCode } from './reason'
import { spoken, valueWithError } from './wording'

/// Real time from one event to another of one clip, seconds; negative where `to` comes first.
export const timeBetweenKind: Kind<'time-between'> = {
  kind: 'time-between',
  inputs: "two events of one clip, the film's own frame times, the clip's capture factor",
  formula:
    'T = (t_to − t_from)/k; u² = (w_from² + w_to²)/(12 k²) + (T·u_k/k)², w = bracket width (one frame interval each: Δt/√6); interval: trapezoid with a normal part',
  source: 'uniform brackets (JCGM 100:2008 §4.3.7)',
  budget: ['event', 'capture factor'],
  limits: [
    ...EVENT_LIMITS,
    'capture-unknown',
    'film-not-read',
    'variable-rate',
    'capture-uncertain',
    'capture-ramped',
    'capture-link-broken',
    'ramp-untested',
  ],
  wording: 'plant to contact: 0.300 s ± 0.027 s; where the second came first, 0.300 s ± 0.027 s, contact first',
  answer(measure, context): Answer {
    const words = eventWords(context, measure.from, measure.to)
    const found = eventPair(context, measure)
    if (!found.ok) return noAnswer('s', 'time', words, found.error)
    const { clip, from, to, warnings } = found.value
    const factor = captureFactor(context, clip)
    const table = context.table(clip)
    if (!factor.ok || !table)
      return noAnswer('s', 'time', words, [...(factor.ok ? [] : [factor.error]), ...(table ? [] : (['film-not-read'] as const))])

    const { k } = factor.value
    const [a, b] = [timeBracket(from, table), timeBracket(to, table)]
    const value = (b.middle - a.middle) / k
    const codes: ReasonCode[] = [...warnings, ...factor.value.warnings]
    if (table.rate === null) codes.push('variable-rate')
    const same = measure.from === measure.to
    const byFactor = factor.value.effects.map((e): Effect => ({ ...e, shift: e.shift.map((s) => -value * s) }))
    const effects: Effect[] = [
      { key: `event:${from.id}`, part: 'event', shift: [same ? 0 : -bracketU(a) / k] },
      { key: `event:${to.id}`, part: 'event', shift: [same ? 0 : bracketU(b) / k] },
      ...byFactor,
    ]
    const half = same ? 0 : bracketedHalfWidth(a.half / k, b.half / k, uncertaintyOf(merged(byFactor)))
    const interval = [value - half, value + half] as const
    const first = firstNamed(context, measure.to, interval)
    const own = first !== null && {
      plate: `${valueWithError(-value, half, 's')}${cameFirst(first)}`,
      spoken: `${spoken(-value, half, 's')}${cameFirst(first)}`,
    }
    return { value, effects, interval, unit: 's', plane: 'time', reasons: codes, words: own ? { ...words, own } : words }
  },
}
