import { noAnswer, type Answer, type Words } from './answer'
import type { MeasureContext } from './context'
import { countLowerBound } from './distribution'
import type { Kind, MeasureOf } from './kind'
import type { ReasonCode } from './reason'

/// Fewer cases than this say little about the rest [J].
const FEW = 10

export interface Counted {
  readonly k: number
  readonly n: number
  /// Bouts of which no case could be seen well enough.
  readonly unusable: number
  /// One-sided 95 % lower bound of the rate behind k of n.
  readonly bound: number
}

/// Cases of one bout count once, and as seen only if every usable one of them shows it. A clip
/// without a bout is one of its own.
export function countCases(cases: MeasureOf['count']['cases'], context: Pick<MeasureContext, 'clip'>): Counted {
  const bouts = new Map<string, (boolean | null)[]>()
  for (const { clip, holds } of cases) {
    const bout = context.clip(clip)?.bout
    const key = bout ? `bout ${bout}` : `clip ${clip}`
    bouts.set(key, [...(bouts.get(key) ?? []), holds])
  }
  let [k, n, unusable] = [0, 0, 0]
  for (const held of bouts.values()) {
    const usable = held.filter((h) => h !== null)
    if (usable.length === 0) unusable++
    else {
      n++
      if (usable.every(Boolean)) k++
    }
  }
  return { k, n, unusable, bound: countLowerBound(k, n) }
}

/// In how many of the cases something was seen. Value k/n; interval from the bound up to 1.
export const countKind: Kind<'count'> = {
  kind: 'count',
  inputs: 'the cases, each seen, not seen or not usable; what was looked at and why these',
  formula: 'k of n bouts; one-sided 95 % lower bound of the rate: Beta⁻¹(0.05; k, n−k+1) (all of n: 0.05^(1/n))',
  source: 'Clopper and Pearson 1934',
  budget: [],
  limits: ['no-cases', 'few-cases', 'cases-unusable', 'clip-missing'],
  wording: 'rear heel off the floor: 2 of 2 (rate behind it at least 22 %)',
  answer(measure, context): Answer {
    const words: Words = { short: measure.what, what: measure.what }
    if (measure.cases.some((c) => context.clip(c.clip) === null)) return noAnswer('', 'image', words, ['clip-missing'])
    const { k, n, unusable, bound } = countCases(measure.cases, context)
    if (n === 0) return noAnswer('', 'image', words, ['no-cases'])
    const codes: ReasonCode[] = []
    if (unusable > 0) codes.push('cases-unusable')
    if (n < FEW) codes.push('few-cases')
    const left = unusable > 0 ? `, ${unusable} not usable` : ''
    const own = { plate: `${k} of ${n}${left} (rate behind it at least ${Math.floor(100 * bound + 1e-6)} %)`, spoken: `${k} of ${n}` }
    return {
      value: k / n,
      effects: [],
      u: (k / n - bound) / 1.645,
      interval: [bound, 1],
      bounds: [0, 1],
      unit: '',
      plane: 'image',
      reasons: codes,
      words: { ...words, own },
    }
  },
}
