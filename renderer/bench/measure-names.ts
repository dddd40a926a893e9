import type { MeasureContext } from '../../app/measure/context'
import type { Reading } from '../../app/measure/reading'
import type { Measure } from '../../app/project/question'

/// Measures of like things named so that each can be told from every other: of whom, where, when, and its value.
export function measureNames(
  measures: readonly Measure[],
  context: MeasureContext,
  readings: ReadonlyMap<string, Reading>,
): Map<string, string> {
  const several =
    new Set(measures.flatMap((measure) => ('subject' in measure && measure.subject !== undefined ? [measure.subject] : []))).size > 1
  const names = measures.map((measure) => nameOf(measure, context, readings.get(measure.id), several))
  return new Map(
    measures.map(({ id }, i) => [id, names.filter((name) => name === names[i]).length > 1 ? `${names[i]} (${id})` : names[i]!]),
  )
}

function nameOf(measure: Measure, context: MeasureContext, reading: Reading | undefined, several: boolean): string {
  const clip = measure.clip === undefined ? null : context.clip(measure.clip)
  const who = several && 'subject' in measure ? context.breakdown.subjects?.find(({ id }) => id === measure.subject)?.name : undefined
  const event = 'event' in measure && measure.event !== undefined ? context.event(measure.event)?.name : undefined
  const when =
    'frame' in measure
      ? event === undefined
        ? `frame ${measure.frame}`
        : `${event}, frame ${measure.frame}`
      : 'fromFrame' in measure
        ? `from frame ${measure.fromFrame}`
        : undefined
  return [clip ? (clip.name ?? clip.id) : measure.clip, who, when, reading?.plate.value]
    .filter((part) => part !== undefined && part !== '')
    .join(' · ')
}

export const whatOf = (measure: Measure, readings: ReadonlyMap<string, Reading>): string =>
  readings.get(measure.id)?.plate.what ?? measure.label ?? measure.kind
