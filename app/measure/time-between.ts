import { noAnswer, type Answer } from './answer'
import { bracketU, eventPair, timeBracket } from './bracket'
import { captureFactor, UNCERTAIN_SHARE } from './capture-factor'
import { bracketedHalfWidth } from './distribution'
import type { Effect } from './effect'
import { eventWords } from './frame-count'
import { EVENT_LIMITS, type Kind } from './kind'
import type { ReasonCode } from './reason'

/// Real time from one event to another of one clip, seconds; negative where `to` comes first.
export const timeBetweenKind: Kind<'time-between'> = {
  kind: 'time-between',
  inputs: 'two events of one clip, the film\'s own frame times, the clip\'s capture factor',
  formula: 'T = (t_to − t_from)/k; u² = (w_from² + w_to²)/(12 k²) + (T·u_k/k)², w = bracket width (one frame interval each: Δt/√6); interval: trapezoid with a normal part',
  source: 'uniform brackets (JCGM 100:2008 §4.3.7); DOMAIN §2.5',
  budget: ['event', 'capture factor'],
  limits: [...EVENT_LIMITS, 'capture-unknown', 'film-not-read', 'variable-rate', 'capture-uncertain'],
  wording: 'plant to contact: 0.300 s ± 0.027 s',
  answer(measure, context): Answer {
    const words = eventWords(context, measure.from, measure.to)
    const found = eventPair(context, measure)
    if (!found.ok) return noAnswer('s', 'time', words, found.error)
    const { clip, from, to, warnings } = found.value
    const factor = captureFactor(context, clip)
    const table = context.table(clip)
    const missing: ReasonCode[] = [...(factor ? [] : (['capture-unknown'] as const)), ...(table ? [] : (['film-not-read'] as const))]
    if (!factor || !table) return noAnswer('s', 'time', words, missing)

    const { k, u: uk, key } = factor
    const [a, b] = [timeBracket(from, table), timeBracket(to, table)]
    const value = (b.middle - a.middle) / k
    const codes: ReasonCode[] = [...warnings]
    if (table.rate === null) codes.push('variable-rate')
    if (uk / k > UNCERTAIN_SHARE) codes.push('capture-uncertain')
    const byFactor = (-value * uk) / k
    const same = measure.from === measure.to
    const effects: Effect[] = [
      { key: `event:${from.id}`, part: 'event', shift: [same ? 0 : -bracketU(a) / k] },
      { key: `event:${to.id}`, part: 'event', shift: [same ? 0 : bracketU(b) / k] },
      { key, part: 'capture factor', shift: [byFactor] },
    ]
    const half = same ? 0 : bracketedHalfWidth(a.half / k, b.half / k, Math.abs(byFactor))
    return { value, effects, interval: [value - half, value + half], unit: 's', plane: 'time', reasons: codes, words }
  },
}
