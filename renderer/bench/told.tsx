import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Reading, Verdict } from '../../app/measure/reading'
import { bareError, whatWouldShrink } from '../../app/measure/what-would-shrink'
import { errorParts } from '../evidence/error-parts'
import { LiveValue } from '../script/live-value'

const VERDICTS: Readonly<Record<Exclude<Verdict, 'refused'>, string>> = {
  good: '● good',
  warned: '◐ with a warning',
  range: '↔ range only',
}
const MOST_REASONS = 3

/// A reading in full: value and verdict, where its error comes from, what would help most, and what to know. `of`: what it is made of.
export function Told({ reading, of = [] }: { readonly reading: Reading; readonly of?: readonly string[] }) {
  const shrink = whatWouldShrink(reading)
  const bare = bareError(reading)
  const measured = reading.verdict !== 'refused'
  const sayable = sayableOf(reading)
  const advice = shrink?.advice ?? bare?.advice
  return (
    <div className="told" role="status">
      <p>
        <LiveValue reading={reading} measure={reading.id} /> {reading.plate.what}
      </p>
      {of.map((line) => (
        <p key={line} className="quiet">
          {line}
        </p>
      ))}
      {reading.verdict !== 'refused' && (
        <p className="quiet">
          {VERDICTS[reading.verdict]}
          {(reading.parts.length > 0 || bare) && ` · error from ${reading.parts.length > 0 ? errorParts(reading, 4) : bare?.from}`}
        </p>
      )}
      {sayable && <p>{sayable}</p>}
      {measured && advice && <p className="quiet">What would help most: {advice}.</p>}
      {reading.reasons
        .filter((code) => !sayable || reasons[code as ReasonCode].weight !== 'note')
        .slice(0, MOST_REASONS)
        .map((code) => {
          const reason = reasons[code as ReasonCode]
          return (
            <p key={code}>
              {reason.wording}. <span className="quiet">{reason.advice}</span>
            </p>
          )
        })}
    </div>
  )
}

/// Which of "more than", "less than" and "the same as" a comparison bears.
function sayableOf({ kind, value, reasons: codes }: Reading): string | null {
  if (kind !== 'comparison' || value === null) return null
  if (codes.includes('differs')) return `You may say: the first is ${value > 0 ? 'more' : 'less'} than the second.`
  if (codes.includes('similar')) return 'You may say: the same within the margin.'
  return 'None of more, less or the same may be said.'
}
