import type { Reading } from '../../measure/reading'
import type { Breakdown } from '../../project/breakdown'
import type { Measure } from '../../project/question'
import { shortName } from '../reference-name'
import type { Readings } from '../spoken-form'

/// What the records that a sentence rests on are called where people read of them, each by its id. A record that is not
/// there is called by its id: nothing else is known of it.
export interface RecordNames {
  /// "lead knee, bout A" where it has a label; else what it measures, when and where: "apparent lead knee angle, frame 156
  /// of ringside". Measures of one name have their ids beside it.
  readonly measure: (id: string) => string
  /// Its short citation: "Okafor and Lind 2019".
  readonly reference: (id: string) => string
  readonly event: (id: string) => string
  readonly clip: (id: string) => string
}

/// The names of a breakdown's records; worked out when first asked for.
export function recordNames(breakdown: Pick<Breakdown, 'clips' | 'measures' | 'references' | 'events'>, readings: Readings): RecordNames {
  const clip = (id: string): string => {
    const found = breakdown.clips.find((each) => each.id === id)
    return found?.name ?? found?.bout ?? id
  }
  let measures: ReadonlyMap<string, string> | null = null
  return {
    clip,
    measure: (id) => (measures ??= measureNames(breakdown.measures ?? [], readings, clip)).get(id) ?? id,
    reference: (id) => {
      const found = breakdown.references?.find((each) => each.id === id)
      return found ? shortName(found) : id
    },
    event: (id) => breakdown.events?.find((each) => each.id === id)?.name ?? id,
  }
}

function measureNames(measures: readonly Measure[], readings: Readings, clip: (id: string) => string): ReadonlyMap<string, string> {
  const names = measures.map((measure) => measure.label || `${whatOf(measure, readings.get(measure.id))}${whereOf(measure, clip)}`)
  const times = new Map<string, number>()
  for (const name of names) times.set(name, (times.get(name) ?? 0) + 1)
  return new Map(measures.map(({ id }, i) => [id, (times.get(names[i]!) ?? 0) > 1 ? `${names[i]!} (${id})` : names[i]!]))
}

/// In words for a list, where "apparent" says enough of the plane.
function whatOf(measure: Measure, reading: Reading | undefined): string {
  const what = reading?.plate.what.replace(/, image plane$/u, '') ?? ''
  return what || ('what' in measure ? measure.what : measure.kind.replaceAll('-', ' '))
}

function whereOf(measure: Measure, clip: (id: string) => string): string {
  if (measure.clip === undefined) return ''
  const of = clip(measure.clip)
  if ('frame' in measure) return `, frame ${measure.frame} of ${of}`
  return 'fromFrame' in measure ? `, frames ${measure.fromFrame} to ${measure.toFrame} of ${of}` : `, ${of}`
}
