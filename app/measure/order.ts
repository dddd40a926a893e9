import { noAnswer, type Answer, type Words } from './answer'
import { eventPair, frameBracket } from './bracket'
import { EVENT_LIMITS, type Kind } from './kind'

/// Which of two events of one clip came first. Value 1: `from` first; −1: `to` first; 0: their
/// brackets overlap or touch, and the order is not resolved. No unit; u and U are 0.
export const orderKind: Kind<'order'> = {
  kind: 'order',
  inputs: 'two events of one clip',
  formula: 'resolved where the brackets are disjoint; the gap between them in whole frames is the least lead',
  source: 'intervals that do not overlap (common practice, no source)',
  budget: [],
  limits: [...EVENT_LIMITS, 'order-not-resolved'],
  wording: 'plant before contact (by at least 2 frames); order of plant and contact: not resolved',
  answer(measure, context): Answer {
    const name = (id: string): string => context.event(id)?.name || id
    const [first, second] = [name(measure.from), name(measure.to)]
    const words: Words = { what: 'order', short: `order of ${first} and ${second}` }
    const found = eventPair(context, measure)
    if (!found.ok) return noAnswer('', 'time', words, found.error)
    const [a, b] = [frameBracket(found.value.from), frameBracket(found.value.to)]
    const lead = Math.abs(b.middle - a.middle) - a.half - b.half
    const base = { effects: [], u: 0, unit: '', plane: 'time' } as const
    if (!(lead > 0)) {
      const own = { plate: 'not resolved', spoken: 'not resolved' }
      return {
        ...base,
        value: 0,
        interval: [-1, 1],
        reasons: ['order-not-resolved', ...found.value.warnings],
        words: { ...words, what: words.short, own },
      }
    }
    const [early, late, value] = b.middle > a.middle ? [first, second, 1] : [second, first, -1]
    const whole = Math.floor(lead)
    const by = whole >= 1 ? ` (by at least ${whole} ${whole === 1 ? 'frame' : 'frames'})` : ''
    return {
      ...base,
      value,
      interval: [value, value],
      reasons: found.value.warnings,
      words: { ...words, own: { plate: `${early} before ${late}${by}`, spoken: `${early} before ${late}` } },
    }
  },
}
