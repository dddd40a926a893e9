import type { MeasureContext } from '../../app/measure/context'
import { askAlike, mayBeCompared } from '../../app/measure/likeness'
import type { Reading } from '../../app/measure/reading'
import type { Measure } from '../../app/project/question'
import { measureNames, whatOf } from './measure-names'
import type { FieldProps } from './question-fields'

interface Props extends FieldProps {
  readonly context: MeasureContext
  readonly readings: ReadonlyMap<string, Reading>
}

/// Two values, like with like first, and how near counts as the same.
export function PairFields({ choices, set, context, readings }: Props) {
  const measures = comparable(context)
  const first = measures.find(({ id }) => id === choices.first)
  if (!first || measures.length < 2) return <p className="quiet">Keep two values of one kind first, of this clip or of any other.</p>
  const unit = readings.get(first.id)?.unit ?? ''
  return (
    <>
      <MeasureField
        label="This value"
        value={choices.first}
        measures={measures}
        context={context}
        readings={readings}
        onSet={(id) => set({ first: id, second: '' })}
      />
      <MeasureField
        label="Against that value"
        value={choices.second}
        measures={seconds(first, context)}
        context={context}
        readings={readings}
        onSet={(id) => set({ second: id })}
      />
      <label>
        How near counts as the same{unit === '' ? '' : `, ${unit}`}{' '}
        <input inputMode="decimal" value={choices.delta} onChange={(event) => set({ delta: event.target.value })} />
      </label>
      <p className="quiet">State it before the second value is measured; one that is set later is kept, and marked so.</p>
    </>
  )
}

/// Two peak times of one clip.
export function PeakFields({ choices, set, context, readings, clip }: Props & { readonly clip: string }) {
  const peaks = peaksOn(clip, context)
  if (peaks.length < 2) return <p className="quiet">Keep two times of fastest turning on this clip first.</p>
  return (
    <>
      <MeasureField
        label="This one"
        value={choices.first}
        measures={peaks}
        context={context}
        readings={readings}
        onSet={(id) => set({ first: id })}
      />
      <MeasureField
        label="or that one"
        value={choices.second}
        measures={peaks.filter(({ id }) => id !== choices.first)}
        context={context}
        readings={readings}
        onSet={(id) => set({ second: id })}
      />
    </>
  )
}

export const comparable = (context: MeasureContext): Measure[] => (context.breakdown.measures ?? []).filter(mayBeCompared)
export const peaksOn = (clip: string, context: MeasureContext): Measure[] =>
  (context.breakdown.measures ?? []).filter((measure) => measure.kind === 'peak-time' && measure.clip === clip)

/// What a measure may be held against: those that ask the same first, then others of its kind.
export function seconds(first: Measure, context: MeasureContext): Measure[] {
  const others = comparable(context).filter((other) => other.id !== first.id && other.kind === first.kind)
  return [...others.filter((other) => askAlike(first, other, context)), ...others.filter((other) => !askAlike(first, other, context))]
}

interface FieldOfMeasure {
  readonly label: string
  readonly value: string
  readonly measures: readonly Measure[]
  readonly context: MeasureContext
  readonly readings: ReadonlyMap<string, Reading>
  readonly onSet: (id: string) => void
}

function MeasureField({ label, value, measures, context, readings, onSet }: FieldOfMeasure) {
  const names = measureNames(measures, context, readings)
  const kinds = [...new Set(measures.map((measure) => whatOf(measure, readings)))]
  return (
    <label>
      {label}{' '}
      <select value={value} onChange={(event) => onSet(event.target.value)}>
        {value === '' && <option value="">choose …</option>}
        {kinds.map((what) => (
          <optgroup key={what} label={what}>
            {measures
              .filter((measure) => whatOf(measure, readings) === what)
              .map(({ id }) => (
                <option key={id} value={id}>
                  {names.get(id)}
                </option>
              ))}
          </optgroup>
        ))}
      </select>
    </label>
  )
}
