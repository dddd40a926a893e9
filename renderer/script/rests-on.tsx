import { useMemo } from 'react'
import { stillAddress } from '../../app/contract/addresses'
import { measureContext, type MeasureContext } from '../../app/measure/context'
import type { Reading } from '../../app/measure/reading'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import { eventFrame } from '../../app/programme/event-frame'
import type { Breakdown } from '../../app/project/breakdown'
import type { ValueForm } from '../../app/project/picture'
import { secondsAt } from '../../app/time/frame-table'
import { usePart } from '../state/use-project'
import { measureNames } from '../bench/measure-names'
import { errorParts } from '../evidence/error-parts'
import { ErrorBar } from './error-bar'
import { LiveValue } from './live-value'
import { olderWordsIn, olderWordsOf } from './older-words'
import { clipName } from './clip-name'

/// The values in a paragraph's words, each with its frame, its error on a scale, and where that error comes from.
export function RestsOn({ paragraph }: { readonly paragraph: string }) {
  const breakdown = usePart('breakdown')
  const readings = usePart('readings')
  const values = useMemo(() => valuesOf(breakdown, paragraph), [breakdown, paragraph])
  const older = useMemo(() => {
    const row = breakdown?.script.find((each) => 'text' in each && each.id === paragraph)
    return row && 'text' in row ? olderWordsIn(row, readings) : undefined
  }, [breakdown, readings, paragraph])
  if (!breakdown || values.length === 0) return null
  return (
    <section className="rests-on" aria-label="What these words rest on" tabIndex={0}>
      <h2>What these words rest on</h2>
      <ul className="plain">
        {values.map(({ measure, forms }) => (
          <Rest
            key={measure}
            measure={measure}
            reading={readings.get(measure)}
            readings={readings}
            older={forms.map((form) => olderWordsOf(older, measure, form)).find((words) => words !== null) ?? null}
            breakdown={breakdown}
          />
        ))}
      </ul>
    </section>
  )
}

function Rest({
  measure,
  reading,
  readings,
  older,
  breakdown,
}: {
  readonly measure: string
  readonly reading: Reading | undefined
  readonly readings: ReadonlyMap<string, Reading>
  readonly older: string | null
  readonly breakdown: Breakdown
}) {
  const tables = usePart('tables')
  const pair = useMemo(
    () =>
      measuredPair(
        measure,
        breakdown,
        measureContext(breakdown, (footage) => tables.get(footage) ?? null),
        readings,
      ),
    [measure, breakdown, tables, readings],
  )
  if (!reading)
    return (
      <li>
        <LiveValue reading={undefined} measure={measure} /> This measure is not there any more. Take the value out, or put another in.
      </li>
    )
  const clip = breakdown.clips.find(({ id }) => id === reading.clip)
  const frame = reading.frame ?? eventFrameOf(measure, breakdown)
  const table = clip && tables.get(clip.footage)
  const seconds = table && frame !== null ? secondsAt(table, frame) : null
  const why = reading.reasons.map((code) => reasons[code as ReasonCode]?.wording ?? code)
  return (
    <li className="rest">
      {clip && frame !== null && (
        <img
          src={stillAddress(clip.footage, frame, 240)}
          alt={`frame ${frame} of ${clipName(breakdown, clip.id)}`}
          className={clip.mirrored ? 'mirrored' : undefined}
          loading="lazy"
        />
      )}
      {pair.length > 0 && (
        <div className="rest-pair">
          {pair.map(({ id, clip: of, frame: at }) =>
            of && at !== null ? (
              <img
                key={id}
                src={stillAddress(of.footage, at, 240)}
                alt={`frame ${at} of ${clipName(breakdown, of.id)}`}
                className={of.mirrored ? 'mirrored' : undefined}
                loading="lazy"
              />
            ) : null,
          )}
        </div>
      )}
      <div>
        <p className="rest-what">{reading.plate.what}</p>
        <p>
          <LiveValue reading={reading} measure={measure} older={older} />
        </p>
        {older !== null && <p>{older}.</p>}
        <ErrorBar reading={reading} />
        {reading.parts.length > 0 && <p className="quiet">{errorParts(reading, 3)}</p>}
        {reading.verdict !== 'good' && why[0] && <p className="quiet">{why[0]}</p>}
        {pair.map(({ id, name }, i) => (
          <p key={id} className="quiet">
            {i === 0 ? 'First' : 'Second'}: {name}
          </p>
        ))}
        {pair.length === 0 && (
          <p className="quiet">
            {clip ? clipName(breakdown, clip.id) : 'from several clips'}
            {frame === null ? '' : ` · frame ${frame}`}
            {seconds === null ? '' : ` · ${seconds.toFixed(3)} s`}
          </p>
        )}
      </div>
    </li>
  )
}

interface OfPair {
  readonly id: string
  /// Clip, person, moment and value.
  readonly name: string
  readonly clip: Breakdown['clips'][number] | undefined
  readonly frame: number | null
}

/// The two values that a comparison holds against each other, in its order; empty for any other measure.
function measuredPair(
  measure: string,
  breakdown: Breakdown,
  context: MeasureContext,
  readings: ReadonlyMap<string, Reading>,
): readonly OfPair[] {
  const asked = breakdown.measures?.find(({ id }) => id === measure)
  if (asked?.kind !== 'comparison') return []
  const two = asked.measures.flatMap((of) => breakdown.measures?.find(({ id }) => id === of) ?? [])
  const names = measureNames(two, context, readings)
  return two.map(({ id }) => {
    const reading = readings.get(id)
    return {
      id,
      name: names.get(id) ?? id,
      clip: breakdown.clips.find((clip) => clip.id === reading?.clip),
      frame: reading?.frame ?? eventFrameOf(id, breakdown),
    }
  })
}

/// Where a measure between events ends: a picture to know it by.
function eventFrameOf(measure: string, breakdown: Breakdown): number | null {
  const asked = Object.values(breakdown.measures?.find(({ id }) => id === measure) ?? {}).flat()
  const ids = asked.filter((value) => typeof value === 'string' && breakdown.events?.some(({ id }) => id === value))
  const event = breakdown.events?.find(({ id }) => id === ids.at(-1))
  return event ? eventFrame(event) : null
}

/// The measures whose values stand in a paragraph, each with the forms that it is said in there.
function valuesOf(
  breakdown: Breakdown | null,
  paragraph: string,
): { readonly measure: string; readonly forms: readonly (ValueForm | null)[] }[] {
  const entry = breakdown?.script.find((e) => 'text' in e && e.id === paragraph)
  if (!entry || !('text' in entry)) return []
  const forms = new Map<string, (ValueForm | null)[]>()
  for (const piece of entry.text)
    if (typeof piece === 'object' && 'value' in piece) forms.set(piece.value, [...(forms.get(piece.value) ?? []), piece.form ?? null])
  return [...forms].map(([measure, said]) => ({ measure, forms: said }))
}
