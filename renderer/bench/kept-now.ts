import type { Reading } from '../../app/measure/reading'
import type { Measure } from '../../app/project/question'

export interface KeptNow {
  /// Whether there is something to keep.
  readonly keeps: boolean
  /// What is kept, or why nothing is, where the value itself does not say it; null: it does.
  readonly says: string | null
}

/// What keeping a measure keeps as things stand: its value. One that is not measured has none, and is not kept, but for a comparison
/// with its margin, which has to be written down before the other value is known. `known`: the measure as it was kept before; one that
/// was kept may always be changed.
export function keptNow(measure: Measure, reading: Reading, known: Measure | null): KeptNow {
  if (reading.verdict !== 'refused') return { keeps: true, says: null }
  if (measure.kind === 'comparison' && measure.margin)
    return { keeps: true, says: 'What is kept is how near counts as the same, written down before the two can be compared.' }
  return known
    ? { keeps: true, says: 'What is kept is the question as it is changed; it has no value.' }
    : { keeps: false, says: 'It is not measured, so there is no value to keep. It can be kept once what is lacking is there.' }
}
