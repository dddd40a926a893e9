import type { Measure } from '../project/question'
import type { Answer, Words } from './answer'
import { COVERAGE } from './effect'
import type { Kind } from './kind'
import type { ReasonCode } from './reason'
import { range, spoken, spokenRange, valueWithError } from './wording'

/// 1 σ of an angle judged by eye [J]; planar: 116 clinicians on elbow photographs, 70.8 % within
/// ± 5°, u ≈ 4.8° (Abu-Rajab 2010), rounded up for fights.
const ANGLE_U = { planar: 6, oblique: 12, transverse: 20 } as const
/// 1 σ of anything else judged by eye, as a share of it [J].
const SHARE_U = 0.25

/// The u (1 σ) that a value judged by eye is given where none is stated, in its own unit; a limb is taken for oblique where it is not
/// said how it was seen.
export const eyeU = ({ value, unit, seen }: Pick<Extract<Measure, { kind: 'by-eye' }>, 'value' | 'unit' | 'seen'>): number =>
  unit === '°' ? ANGLE_U[seen ?? 'oblique'] : SHARE_U * Math.abs(value)

/// A value judged by eye: always warned, always said so.
export const byEyeKind: Kind<'by-eye'> = {
  kind: 'by-eye',
  inputs: 'the value, what it is of, and how the limb was seen',
  formula: "the value as stated; u as stated, else 6° (planar), 12° (oblique), 20° (turned about the body's axis), 25 % for other units",
  source: 'Abu-Rajab 2010; defaults [J]',
  budget: ['judging'],
  limits: ['by-eye', 'uncertainty-over-20', 'too-uncertain'],
  wording: 'rear knee: by eye ≈ 145° ± 12°',
  answer(measure): Answer {
    const angle = measure.unit === '°'
    const u = measure.u ?? eyeU(measure)
    const U = COVERAGE * u
    const [low, high] = [measure.value - U, measure.value + U]
    const wide = angle && U > 20
    const words: Words = {
      short: measure.what,
      what: measure.what,
      own: {
        plate: wide ? `by eye ${range(low, high, '°')}` : `by eye ≈ ${valueWithError(measure.value, U, measure.unit)}`,
        spoken: `${wide ? spokenRange(low, high, '°') : spoken(measure.value, Math.max(U, angle ? 8 : U), measure.unit)}, by eye`,
      },
    }
    const codes: ReasonCode[] = ['by-eye']
    return {
      value: measure.value,
      effects: [{ key: `by-eye:${measure.id}`, part: 'judging', shift: [u] }],
      unit: measure.unit,
      plane: 'image',
      reasons: codes,
      words,
    }
  },
}
