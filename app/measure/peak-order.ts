import { secondsAt } from '../time/frame-table'
import { noAnswer, type Answer, type Words } from './answer'
import { captureFactor } from './capture-factor'
import type { Kind } from './kind'
import { peakTimeKind } from './peak-time'

/// Which of two peak times of one clip came first: 1, the first named; −1, the second; 0, their
/// intervals overlap and the order is not resolved.
export const peakOrderKind: Kind<'peak-order'> = {
  kind: 'peak-order',
  inputs: 'two peak times of one clip',
  formula: 'resolved where the 95 % intervals of the two peak times are disjoint',
  source: 'intervals that do not overlap (common practice, no source)',
  budget: [],
  limits: ['measure-missing', 'measure-refused', 'kinds-differ', 'across-clips', 'order-not-resolved'],
  wording: 'order: peak rate of hip line before peak rate of rear elbow',
  answer(measure, context): Answer {
    const [a, b] = measure.measures.map((id) => context.measure(id))
    const unnamed: Words = { what: 'order of peaks', short: 'order of peaks' }
    if (!a || !b) return noAnswer('', 'time', unnamed, ['measure-missing'])
    if (a.kind !== 'peak-time' || b.kind !== 'peak-time') return noAnswer('', 'time', unnamed, ['kinds-differ'])
    const [first, second] = [peakTimeKind.answer(a, context), peakTimeKind.answer(b, context)]
    const names = [a.label ?? first.words.short, b.label ?? second.words.short] as const
    const words: Words = { what: 'order', short: `order of ${names[0]} and ${names[1]}` }
    if (a.clip !== b.clip) return noAnswer('', 'time', words, ['across-clips'])
    if (!first.interval || !second.interval) return noAnswer('', 'time', words, ['measure-refused', ...first.reasons, ...second.reasons])
    // Both count from their own first frame: brought to one clock.
    const clip = context.clip(a.clip)
    const table = clip && context.table(clip)
    const factor = clip && captureFactor(context, clip)
    if (!table || !factor?.ok) return noAnswer('', 'time', words, ['measure-refused'])
    const offset = (frame: number): number => secondsAt(table, frame) / factor.value.k
    const [p, q] = [first.interval.map((t) => t + offset(a.fromFrame)), second.interval.map((t) => t + offset(b.fromFrame))]
    const base = { effects: [], u: 0, unit: '', plane: 'time' } as const
    if (p[1]! < q[0]! || q[1]! < p[0]!) {
      const value = p[1]! < q[0]! ? 1 : -1
      const [early, late] = value === 1 ? names : [names[1], names[0]]
      return {
        ...base,
        value,
        interval: [value, value],
        reasons: [],
        words: { ...words, own: { plate: `${early} before ${late}`, spoken: `${early} before ${late}` } },
      }
    }
    return {
      ...base,
      value: 0,
      interval: [-1, 1],
      reasons: ['order-not-resolved'],
      words: { ...words, what: words.short, own: { plate: 'not resolved', spoken: 'not resolved' } },
    }
  },
}
