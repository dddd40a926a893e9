import { noAnswer, type Answer } from './answer'
import { frameBracket, eventPair, bracketU } from './bracket'
import type { Effect } from './effect'
import { cameFirst, eventWords, firstNamed } from './event-span'
import { EVENT_LIMITS, type Kind } from './kind'
import { minusSaid, withMinus } from './minus'
import type { ReasonCode } from './reason'

/// Frames from one event to another of one clip. Needs no capture factor and no film.
export const frameCountKind: Kind<'frame-count'> = {
  kind: 'frame-count',
  inputs: 'two events of one clip',
  formula: 'N = middle of the later bracket − middle of the earlier; bound: half the width of both brackets together (one frame each: ± 1)',
  source: 'geometry; at most ± 1 frame',
  budget: ['event'],
  limits: [...EVENT_LIMITS, 'variable-rate'],
  wording: 'plant to contact: 9 frames ± 1; where the second came first, 9 frames ± 1, contact first',
  answer(measure, context): Answer {
    const words = eventWords(context, measure.from, measure.to)
    const found = eventPair(context, measure)
    if (!found.ok) return noAnswer('frames', 'time', words, found.error)
    const { from, to, clip, warnings } = found.value
    const [a, b] = [frameBracket(from), frameBracket(to)]
    const value = b.middle - a.middle
    const bound = measure.from === measure.to ? 0 : a.half + b.half
    const codes: ReasonCode[] = [...warnings]
    if (context.table(clip)?.rate === null) codes.push('variable-rate')
    const effects: Effect[] =
      measure.from === measure.to
        ? []
        : [
            { key: `event:${from.id}`, part: 'event', shift: [-bracketU(a)] },
            { key: `event:${to.id}`, part: 'event', shift: [bracketU(b)] },
          ]
    const interval = [value - bound, value + bound] as const
    const first = firstNamed(context, measure.to, interval)
    const number = (x: number): string => (Number.isInteger(x) ? String(x) : x.toFixed(1))
    const [told, behind] = first === null ? [number(value), ''] : [number(-value), cameFirst(first)]
    const unit = Math.abs(value) === 1 ? 'frame' : 'frames'
    return {
      value,
      effects,
      interval,
      unit: 'frames',
      plane: 'time',
      reasons: codes,
      words: {
        ...words,
        own: { plate: `${withMinus(told)} ${unit} ± ${number(bound)}${behind}`, spoken: `${minusSaid(told)} ${unit}${behind}` },
      },
    }
  },
}
