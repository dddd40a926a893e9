import { useMemo, useState } from 'react'
import { isBackground } from '../../app/body/landmark-name'
import { measureContext, type MeasureContext } from '../../app/measure/context'
import { askAlike } from '../../app/measure/likeness'
import { readingOf } from '../../app/measure/readings'
import { Measure } from '../../app/project/question'
import { adding, freeId, updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import { askedFor } from './asked-for'
import type { BenchHand } from './bench-hand'
import { CaseFields } from './case-fields'
import { keptNow } from './kept-now'
import { MeasureList } from './measure-list'
import { groups, questions, type Question } from './measure-questions'
import { missingPoints, widestFrame } from './needed-points'
import { comparable, PairFields, PeakFields, peaksOn, seconds } from './pair-fields'
import { noChoices, type Asked, type Choices } from './question-choices'
import { AgainstField, EventField, EyeFields, LimbField, LineFields, TableField, TurnsField, WidthFields } from './question-fields'
import { limbChoices } from './question-limbs'
import { statedComparison } from './stated-margin'
import { Told } from './told'

/// Choosing a measure by what one wants to say, with its value before it is kept; and the measures of the clip.
export function MeasureSheet({ hand }: { readonly hand: BenchHand }) {
  const { breakdown, state, tables, readOnly } = useShown()
  const [question, setQuestion] = useState<Question>(questions[0] as Question)
  const [choices, setChoices] = useState<Choices>(noChoices)
  const [changed, setChanged] = useState<string | null>(null)
  const context = useMemo(
    () => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null),
    [breakdown, tables],
  )
  if (!breakdown || !state || !context || !hand.clip) return null
  const known = changed === null ? null : context.measure(changed)
  const ask = (next: Question, chosen: Choices, id: string | null): void => {
    setQuestion(next)
    setChoices(chosen)
    setChanged(id)
  }
  const change = (measure: Measure): void => {
    const asked = askedFor(measure)
    if (asked) ask(asked.question, asked.choices, measure.id)
  }
  return (
    <>
      <h2>Say</h2>
      {!readOnly && (
        <QuestionForm
          key={changed ?? ''}
          hand={hand}
          context={context}
          question={question}
          choices={choices}
          known={known}
          id={known?.id ?? freeId(state, 'measures', 'm')}
          onAsk={(next) => ask(next, choices, null)}
          onChoose={(part) => setChoices((before) => ({ ...before, ...part }))}
          onDone={() =>
            ask(question, { ...choices, first: '', second: '', delta: '', what: '', value: '', u: '', set: '', cases: {} }, null)
          }
        />
      )}
      <MeasureList hand={hand} context={context} onChange={change} />
    </>
  )
}

interface FormProps {
  readonly hand: BenchHand
  readonly context: MeasureContext
  readonly question: Question
  readonly choices: Choices
  /// The measure that is being changed; null: a new one.
  readonly known: Measure | null
  readonly id: string
  readonly onAsk: (question: Question) => void
  readonly onChoose: (part: Partial<Choices>) => void
  readonly onDone: () => void
}

function QuestionForm({ hand, context, question, choices, known, id, onAsk, onChoose, onDone }: FormProps) {
  const project = useProject()
  const { readings } = useShown()
  const { clip, subject, lead } = hand
  if (!clip) return null
  const limbs = limbChoices(question, lead)
  const asked = askedNow(hand, context, question, choices, limbs, id)
  const made = question.measure(asked)
  const stated =
    made?.kind === 'comparison' ? statedComparison(made, known?.kind === 'comparison' ? known : null, asked.delta, readings) : null
  const parsed = Measure.safeParse(stated?.measure ?? made)
  const measure = parsed.success ? parsed.data : null
  const reading = measure && readingOf(measure, context)
  const kept = measure && reading ? keptNow(measure, reading, known) : null
  const ready = kept?.keeps === true && !stated?.refusal
  const needs = measure && subject ? missingPoints(measure, hand, context) : null
  const fields = { choices: asked, set: onChoose }
  const { parts } = question
  const keep = (): void => {
    if (!measure || !reading || !ready) return
    const label = `${known ? 'Change' : 'Measure'} ${reading.plate.what}`
    void project.edit((state) => ({
      label,
      steps: [],
      diffs: [known ? updating('measures', known, measure) : adding(state, 'measures', measure)],
    }))
    hand.choose(measure.id)
    onDone()
  }
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        keep()
      }}
    >
      <label>
        I want to say{' '}
        <select
          autoFocus={known !== null}
          aria-label="I want to say"
          value={question.name}
          onChange={(event) => onAsk(questions.find(({ name }) => name === event.target.value) ?? question)}
        >
          {groups.map((group) => (
            <optgroup key={group} label={group}>
              {questions
                .filter((each) => each.group === group)
                .map(({ name, says }) => (
                  <option key={name} value={name}>
                    {says}
                  </option>
                ))}
            </optgroup>
          ))}
        </select>
      </label>
      {parts.includes('limb') && <LimbField {...fields} limbs={limbs} />}
      {parts.includes('turns') && <TurnsField {...fields} />}
      {parts.includes('events') && (
        <div className="two even">
          <EventField label="From" value={asked.from} events={asked.events} onSet={(from) => onChoose({ from })} />
          <EventField label="To" value={asked.to} events={asked.events} onSet={(to) => onChoose({ to })} />
        </div>
      )}
      {parts.includes('since') && asked.events.length > 0 && (
        <EventField label="Since" value={asked.from} events={asked.events} onSet={(from) => onChoose({ from })} />
      )}
      {parts.includes('against') && <AgainstField {...fields} />}
      {parts.includes('table') && <TableField {...fields} />}
      {parts.includes('widths') && subject && (
        <WidthFields
          {...fields}
          frame={hand.frame}
          widest={{ hips: widestFrame(context, clip.id, subject, 'hip'), shoulders: widestFrame(context, clip.id, subject, 'shoulder') }}
          sides={(['left', 'right'] as const).map((side) => [side, lead === null ? side : `${side}, ${side === lead ? 'lead' : 'rear'}`])}
        />
      )}
      {parts.includes('peaks') && <PeakFields {...fields} context={context} readings={readings} clip={clip.id} />}
      {parts.includes('pair') && <PairFields {...fields} context={context} readings={readings} />}
      {parts.includes('cases') && <CaseFields {...fields} clips={context.breakdown.clips} />}
      {parts.includes('line') && <LineFields {...fields} events={asked.events} others={othersOf(context, subject)} />}
      {parts.includes('eye') && <EyeFields {...fields} />}
      {parts.includes('events') && asked.events.length < 2 && <p className="quiet">Mark two events on this clip first: E.</p>}
      {parts.includes('since') && !made && (
        <p className="quiet">
          {asked.events.length === 0 ? 'Mark an event on this clip first: E.' : 'Go to the frame up to which it moved.'}
        </p>
      )}
      {stated?.refusal && <p role="alert">{stated.refusal}</p>}
      {measure && reading && <Told reading={reading} />}
      {needs?.missing.map(({ frame, says }) => (
        <p key={frame} className="quiet">
          {frame === hand.frame ? 'Here' : `On frame ${frame}`} {says} not placed.
          {frame !== hand.frame && (
            <>
              {' '}
              <button type="button" className="link" onClick={() => hand.go(frame)}>
                Go there
              </button>
            </>
          )}
        </p>
      ))}
      {kept?.says && !stated?.refusal && (
        <p className="quiet" id="what-is-kept">
          {kept.says}
        </p>
      )}
      <p className="actions">
        <button
          aria-describedby={kept?.says && !stated?.refusal ? 'what-is-kept' : undefined}
          type="submit"
          className="main-action"
          disabled={!ready}
        >
          {known ? 'Keep the change' : 'Keep it'}
        </button>
        {known && (
          <button type="button" onClick={onDone}>
            Leave it
          </button>
        )}
        {needs && needs.here.length > 0 && (
          <button type="button" onClick={() => hand.place(needs.here)}>
            Place its points
          </button>
        )}
      </p>
    </form>
  )
}

/// What is asked as things stand: what was chosen where it can be had here, else the nearest that can.
function askedNow(
  hand: BenchHand,
  context: MeasureContext,
  question: Question,
  choices: Choices,
  limbs: readonly string[],
  id: string,
): Asked {
  const { clip, subject, frame, lead } = hand
  const events = clip ? context.eventsOf(clip.id) : []
  const event = (chosen: string, at: number): string => (events.some((each) => each.id === chosen) ? chosen : (events[at]?.id ?? ''))
  const measures = question.parts.includes('peaks')
    ? peaksOn(clip?.id ?? '', context)
    : question.parts.includes('pair')
      ? comparable(context)
      : []
  const has = (measure: string | null): boolean => measures.some((each) => each.id === measure)
  const first = has(choices.first) ? choices.first : has(hand.chosen) ? (hand.chosen ?? '') : (measures[0]?.id ?? '')
  return {
    ...choices,
    id,
    clip: clip?.id ?? '',
    subject: subject ?? '',
    frame,
    lead,
    events,
    limb: limbs.includes(choices.limb) ? choices.limb : (limbs[0] ?? ''),
    from: event(choices.from, 0),
    to: event(choices.to, 1),
    other: othersOf(context, subject).find((each) => each.id === choices.other)?.id ?? othersOf(context, subject)[0]?.id ?? '',
    first,
    second: secondOf(choices.second, first, measures, question, context),
    background:
      clip && subject
        ? (context.breakdown.landmarks ?? [])
            .filter((each) => each.clip === clip.id && each.subject === subject && isBackground(each.point))
            .map(({ point }) => point)
        : [],
  }
}

const othersOf = (context: MeasureContext, subject: string | null) => (context.breakdown.subjects ?? []).filter(({ id }) => id !== subject)

/// The second of a pair where none was chosen: for a comparison the first that asks the same.
function secondOf(chosen: string, first: string, measures: readonly Measure[], question: Question, context: MeasureContext): string {
  const one = measures.find(({ id }) => id === first)
  const others = one && question.parts.includes('pair') ? seconds(one, context) : measures.filter(({ id }) => id !== first)
  if (others.some(({ id }) => id === chosen)) return chosen
  const next = others[0]
  return next && (!question.parts.includes('pair') || (one && askAlike(one, next, context))) ? next.id : ''
}
