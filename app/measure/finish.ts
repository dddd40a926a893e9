import type { Answer } from './answer'
import { COVERAGE, merged, partsOf, uncertaintyOf } from './effect'
import { reasons as table, weightiestFirst, type ReasonCode } from './reason'
import type { Reading, Verdict } from './reading'
import { range, refusalLabel, spoken, spokenRange, valueWithError } from './wording'

/// An angle's U above which only a range is given [J].
const RANGE_ONLY_DEG = 20
/// An angle's U above which nothing useful is left to say [J].
const REFUSED_DEG = 45

export interface About {
  readonly id: string
  readonly kind: string
  readonly clip: string | null
  readonly frame: number | null
  /// The analyst's own words for what is measured.
  readonly label: string | undefined
}

const unmeasured = (about: About, answer: Answer, codes: readonly ReasonCode[]): Reading => ({
  id: about.id,
  kind: about.kind,
  clip: about.clip,
  frame: about.frame,
  value: null,
  u: null,
  U: null,
  low: null,
  high: null,
  unit: answer.unit,
  plane: answer.plane,
  verdict: 'refused',
  reasons: codes,
  parts: [],
  label: refusalLabel(named(answer, about), codes.find((c) => table[c].weight === 'refuse') ?? 'not-computable'),
  plate: { value: 'not measured', what: named(answer, about).short },
  spoken: 'not measured',
})

const named = (answer: Answer, { label }: About): Answer['words'] =>
  label ? { ...answer.words, what: renamed(answer.words, label), short: label } : answer.words

/// The analyst's words take the place of the short name; the qualification around it stays.
const renamed = ({ what, short }: Answer['words'], label: string): string =>
  short !== '' && what.includes(short) ? what.replace(short, () => label) : label

/// Makes the reading of an answer: interval, verdict, rounding, wording. Whatever goes in, no
/// number that is not finite comes out.
export function finish(about: About, answer: Answer): Reading {
  const codes: ReasonCode[] = [...answer.reasons]
  if (answer.value === null) return unmeasured(about, answer, weightiestFirst(codes))
  const effects = merged(answer.effects)
  const u = answer.u ?? uncertaintyOf(effects)
  const [least, most] = answer.bounds ?? [-Infinity, Infinity]
  const low = Math.max(least, answer.interval?.[0] ?? answer.value - COVERAGE * u)
  const high = Math.min(most, answer.interval?.[1] ?? answer.value + COVERAGE * u)
  const U = answer.interval ? Math.max(answer.value - answer.interval[0], answer.interval[1] - answer.value) : COVERAGE * u
  if (!Number.isFinite(answer.value + u + low + high + U)) return unmeasured(about, answer, weightiestFirst(['not-computable', ...codes]))
  if (answer.unit === '°' && answer.plane !== 'above' && !answer.words.own) {
    if (U > REFUSED_DEG) codes.push('too-uncertain')
    else if (U > RANGE_ONLY_DEG) codes.push('uncertainty-over-20')
  }
  const reasons = weightiestFirst(codes)
  const verdict = verdictOf(reasons)
  if (verdict === 'refused') return unmeasured(about, answer, reasons)
  const { what, own, range: qualified } = named(answer, about)
  const asRange = verdict === 'range' && !own
  const plate = own?.plate ?? (asRange ? range(low, high, answer.unit) : valueWithError(answer.value, U, answer.unit))
  return {
    id: about.id,
    kind: about.kind,
    clip: about.clip,
    frame: about.frame,
    value: answer.value,
    u,
    U,
    low,
    high,
    unit: answer.unit,
    plane: answer.plane,
    verdict,
    reasons,
    parts: partsOf(effects),
    label: `${what}: ${plate}${asRange && qualified ? ` (${qualified})` : ''}`,
    plate: { value: plate, what },
    spoken: own?.spoken ?? (asRange ? spokenRange(low, high, answer.unit) : spoken(answer.value, U, answer.unit)),
  }
}

const VERDICTS = { refuse: 'refused', range: 'range', warn: 'warned', note: 'good' } as const

const verdictOf = (codes: readonly ReasonCode[]): Verdict => VERDICTS[codes[0] === undefined ? 'note' : table[codes[0]].weight]
