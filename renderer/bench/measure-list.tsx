import { useState } from 'react'
import type { MeasureContext } from '../../app/measure/context'
import type { Reading } from '../../app/measure/reading'
import type { Measure } from '../../app/project/question'
import { LiveValue } from '../script/live-value'
import { removing } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { measureNames } from './measure-names'
import { askedFor } from './asked-for'
import { Told } from './told'

interface Props {
  readonly hand: BenchHand
  readonly context: MeasureContext
  readonly onChange: (measure: Measure) => void
}

/// The measures of the clip, and those that hold it against others.
export function MeasureList({ hand, context, onChange }: Props) {
  const clip = hand.clip?.id
  const all = context.breakdown.measures ?? []
  const own = all.filter((measure) => measure.clip === clip)
  const further = all.filter((measure) => measure.clip === undefined && touches(measure, clip, context))
  return (
    <>
      <h3>Measured on this clip</h3>
      {own.length === 0 && <p className="quiet">Nothing yet.</p>}
      <ul className="plain">
        {own.map((measure) => (
          <MeasureEntry key={measure.id} measure={measure} hand={hand} context={context} onChange={onChange} />
        ))}
      </ul>
      {further.length > 0 && (
        <>
          <h3>Held against others</h3>
          <ul className="plain">
            {further.map((measure) => (
              <MeasureEntry key={measure.id} measure={measure} hand={hand} context={context} onChange={onChange} />
            ))}
          </ul>
        </>
      )}
    </>
  )
}

const touches = (measure: Measure, clip: string | undefined, context: MeasureContext): boolean =>
  measure.kind === 'count'
    ? measure.cases.some((each) => each.clip === clip)
    : 'measures' in measure && measure.measures.some((id) => context.measure(id)?.clip === clip)

function MeasureEntry({ measure, hand, context, onChange }: Props & { readonly measure: Measure }) {
  const project = useProject()
  const { state, readings, readOnly } = useShown()
  const [asks, setAsks] = useState(false)
  const known = readings.get(measure.id)
  const at = 'frame' in measure ? measure.frame : null
  const isChosen = hand.chosen === measure.id
  const what = known?.plate.what ?? measure.id
  const users = builtOn(measure.id, context)
  const remove = (): void => {
    if (!state) return
    if (users.length > 0 && !asks) return setAsks(true)
    void project.edit((now) => ({
      label: `Remove ${what}`,
      steps: [],
      diffs: [...users.toReversed(), measure].map((each) => removing(now, 'measures', each)),
    }))
  }
  return (
    <li className={isChosen ? 'chosen' : undefined}>
      <button
        type="button"
        className="entry"
        aria-pressed={isChosen}
        onClick={() => {
          hand.choose(measure.id)
          if (at !== null) hand.go(at)
        }}
      >
        <LiveValue reading={known} measure={measure.id} />
        <span className="quiet">
          {what}
          {at === null ? '' : `, frame ${at}`}
        </span>
      </button>
      {!readOnly && (
        <button type="button" onClick={remove} aria-label={`Remove ${what}`}>
          ✕
        </button>
      )}
      {asks && (
        <div className="whole" role="alert">
          <p>
            {users.length === 1 ? 'One other value is made of it' : `${users.length} other values are made of it`}:{' '}
            {users.map(({ id }) => readings.get(id)?.plate.what ?? id).join('; ')}.
          </p>
          <p className="actions">
            <button type="button" onClick={remove}>
              Remove all
            </button>
            <button type="button" onClick={() => setAsks(false)}>
              Leave them
            </button>
          </p>
        </div>
      )}
      {isChosen && known && measure.clip === undefined && (
        <div className="whole">
          <Told reading={known} of={ofWhat(measure, context, readings)} />
          {!readOnly && askedFor(measure) && (
            <p className="actions">
              <button type="button" onClick={() => onChange(measure)}>
                Change it
              </button>
            </p>
          )}
        </div>
      )}
    </li>
  )
}

/// Measures made of one, and of those again, each behind what it is made of.
function builtOn(id: string, context: MeasureContext): Measure[] {
  const [ids, found] = [new Set([id]), [] as Measure[]]
  for (let grew = true; grew;) {
    grew = false
    for (const other of context.breakdown.measures ?? [])
      if ('measures' in other && !ids.has(other.id) && other.measures.some((each) => ids.has(each))) {
        ids.add(other.id)
        found.push(other)
        grew = true
      }
  }
  return found
}

/// What a value is made of: the two that are held against each other; the set that was counted.
function ofWhat(measure: Measure, context: MeasureContext, readings: ReadonlyMap<string, Reading>): readonly string[] {
  if (measure.kind === 'comparison' || measure.kind === 'peak-order') {
    const parts = measure.measures.flatMap((id) => context.measure(id) ?? [])
    const names = measureNames(parts, context, readings)
    return measure.measures.map((id, i) => `${i === 0 ? 'First' : 'Second'}: ${names.get(id) ?? id}`)
  }
  if (measure.kind !== 'count') return []
  const nameOf = (clip: string): string => context.clip(clip)?.name ?? clip
  const list = (words: string, holds: boolean | null): string[] => {
    const cases = measure.cases.filter((each) => each.holds === holds)
    return cases.length === 0 ? [] : [`${words}: ${cases.map(({ clip, note }) => nameOf(clip) + (note ? ` (${note})` : '')).join(', ')}`]
  }
  const aside = context.breakdown.clips.filter(
    (clip) => clip.use?.state === 'rejected' && !measure.cases.some((each) => each.clip === clip.id),
  )
  return [
    ...(measure.set === '' ? [] : [`Of: ${measure.set}`]),
    ...list('Seen', true),
    ...list('Not seen', false),
    ...list('Cannot be judged', null),
    ...(aside.length > 0
      ? [`Set aside: ${aside.map(({ id, use }) => nameOf(id) + (use?.reason ? ` (${use.reason})` : '')).join(', ')}`]
      : []),
  ]
}
