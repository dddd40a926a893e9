import { useState } from 'react'
import { isBackground } from '../../app/body/landmark-name'
import { measureContext } from '../../app/measure/context'
import { readingOf } from '../../app/measure/readings'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Reading } from '../../app/measure/reading'
import { whatWouldShrink } from '../../app/measure/what-would-shrink'
import { Measure } from '../../app/project/question'
import { errorParts } from '../evidence/error-parts'
import { LiveValue } from '../script/live-value'
import { adding, freeId, removing } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { limbChoices, questions, type Question } from './measure-questions'

/// Choosing a measure by what one wants to say, with its value before it is kept; and the measures of the clip.
export function MeasureSheet({ hand }: { readonly hand: BenchHand }) {
  const project = useProject()
  const { breakdown, state, tables, readings, readOnly } = useShown()
  const [question, setQuestion] = useState<Question>(questions[0] as Question)
  const [choice, setChoice] = useState('')
  const [ends, setEnds] = useState({ from: '', to: '' })
  const [eye, setEye] = useState({ what: '', value: '', unit: '°' })
  if (!breakdown || !state || !hand.clip) return null
  const { clip, subject, frame, lead } = hand
  const events = (breakdown.events ?? []).filter((event) => event.clip === clip.id)
  const limbs = limbChoices(question, lead)
  const asked = {
    id: freeId(state, 'measures', 'm'), clip: clip.id, subject: subject ?? '', frame, events, lead,
    choice: limbs.includes(choice) ? choice : (limbs[0] ?? ''),
    from: ends.from || (events[0]?.id ?? ''), to: ends.to || (events[1]?.id ?? ''), what: eye.what, value: Number(eye.value), unit: eye.unit,
    background: (breakdown.landmarks ?? []).filter((l) => l.clip === clip.id && l.subject === subject && isBackground(l.point)).map(({ point }) => point),
  }
  const parsed = Measure.safeParse(question.measure(asked))
  const ready = parsed.success && (question.asks !== 'eye' || (eye.what.trim() !== '' && eye.value !== '')) && ((question.asks !== 'events' && question.asks !== 'way') || asked.from !== asked.to)
  const reading = ready ? readingOf(parsed.data, measureContext(breakdown, (footage) => tables.get(footage) ?? null)) : null
  const keep = (): void => {
    if (!parsed.success || !reading) return
    void project.edit({ label: `Measure ${reading.plate.what}`, steps: [], diffs: [adding(state, 'measures', parsed.data)] })
    hand.choose(parsed.data.id)
  }
  const measures = (breakdown.measures ?? []).filter((measure) => measure.clip === clip.id)
  return (
    <>
      <h2>Say</h2>
      {!readOnly && (
        <form onSubmit={(event) => { event.preventDefault(); keep() }}>
          <label>
            I want to say{' '}
            <select aria-label="I want to say" value={question.name} onChange={(event) => setQuestion(questions.find(({ name }) => name === event.target.value) ?? question)}>
              {questions.map(({ name, says }) => <option key={name} value={name}>{says}</option>)}
            </select>
          </label>
          {(question.asks === 'limb' || question.asks === 'way') && (
            <label>
              Which{' '}
              <select aria-label="Which limb" value={asked.choice} onChange={(event) => setChoice(event.target.value)}>
                {limbs.map((name) => <option key={name}>{name}</option>)}
              </select>
            </label>
          )}
          {(question.asks === 'events' || question.asks === 'way') && (['from', 'to'] as const).map((end) => (
            <label key={end}>
              {end === 'from' ? 'From' : 'To'}{' '}
              <select value={asked[end]} onChange={(event) => setEnds({ ...ends, [end]: event.target.value })}>
                {events.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
              </select>
            </label>
          ))}
          {question.asks === 'eye' && (
            <>
              <label>What <input value={eye.what} onChange={(event) => setEye({ ...eye, what: event.target.value })} /></label>
              <label>Value <input type="number" step="any" value={eye.value} onChange={(event) => setEye({ ...eye, value: event.target.value })} /></label>
              <label>Unit <input value={eye.unit} size={5} onChange={(event) => setEye({ ...eye, unit: event.target.value })} /></label>
            </>
          )}
          {(question.asks === 'events' || question.asks === 'way') && events.length < 2 && <p className="quiet">Mark two events on this clip first: E.</p>}
          {reading && <Told reading={reading} />}
          <p className="actions">
            <button type="submit" className="main-action" disabled={!reading}>Keep it</button>
            {parsed.success && 'points' in parsed.data && subject && <button type="button" onClick={() => hand.place(hand.placed(parsed.data as { points: readonly string[] }))}>Place its points</button>}
          </p>
        </form>
      )}
      <h3>Measured on this clip</h3>
      {measures.length === 0 && <p className="quiet">Nothing yet.</p>}
      <ul className="plain">
        {measures.map((measure) => {
          const known = readings.get(measure.id)
          const at = 'frame' in measure ? measure.frame : null
          return (
            <li key={measure.id} className={hand.chosen === measure.id ? 'chosen' : undefined}>
              <button type="button" className="entry" aria-pressed={hand.chosen === measure.id} onClick={() => { hand.choose(measure.id); if (at !== null) hand.go(at) }}>
                <LiveValue reading={known} measure={measure.id} />
                <span className="quiet">{known?.plate.what}{at === null ? '' : `, frame ${at}`}</span>
              </button>
              {!readOnly && <button type="button" onClick={() => void project.edit({ label: `Remove ${known?.plate.what ?? measure.id}`, steps: [], diffs: [removing(state, 'measures', measure)] })} aria-label={`Remove ${known?.plate.what ?? measure.id}`}>✕</button>}
            </li>
          )
        })}
      </ul>
    </>
  )
}

/// A reading in full: value, where its error comes from, what would help most, and what to know.
function Told({ reading }: { readonly reading: Reading }) {
  const shrink = whatWouldShrink(reading)
  return (
    <div className="told" role="status">
      <p><LiveValue reading={reading} measure={reading.id} /> {reading.plate.what}</p>
      {reading.parts.length > 0 && <p className="quiet">{errorParts(reading, 4)}</p>}
      {shrink && reading.verdict !== 'refused' && <p className="quiet">What would help most: {shrink.advice}.</p>}
      {reading.reasons.slice(0, 3).map((code) => {
        const reason = reasons[code as ReasonCode]
        return <p key={code}>{reason.wording}. <span className="quiet">{reason.advice}</span></p>
      })}
    </div>
  )
}
