import { useEffect, useState, type FormEvent } from 'react'
import type { Event } from '../../app/project/film'
import { useTyped } from '../sheets/use-typed'
import { adding, freeId } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import { remove } from '../footage/removal'
import { goesAlone, TakeAway } from '../footage/take-away'
import type { BenchHand } from './bench-hand'
import { BlindMarking, bracketWords } from './blind-marking'
import { changeEvent } from './event-edits'
import { AgreementOf, MarkingDifference } from './marking-difference'

/// Events that come back from clip to clip, with what is meant; written down so that each clip means the same.
const usual: readonly (readonly [string, string])[] = [
  ['load', 'The frame on which the weight has gone furthest back.'],
  ['plant', 'The last frame with the lead foot off the floor, and the first with its sole flat.'],
  ['pelvis turns', 'The frames between which the hip line turns fastest.'],
  ['shoulders turn', 'The frames between which the shoulder line turns fastest.'],
  ['contact', 'The last frame with a gap between glove and target, and the first without.'],
]

/// Events as brackets: the earliest and the latest frame on which it may have happened.
export function EventSheet({ hand }: { readonly hand: BenchHand }) {
  const project = useProject()
  const { breakdown, readings, state, readOnly } = useShown()
  const [name, setName] = useState('contact')
  const [going, setGoing] = useState<Event | null>(null)
  const { setBlind } = hand
  useEffect(() => () => setBlind(null), [setBlind])
  if (!breakdown || !state || !hand.clip) return null
  const { clip, frame } = hand
  const events = (breakdown.events ?? []).filter((event) => event.clip === clip.id).sort((a, b) => a.earliest - b.earliest)
  const mark = (event: FormEvent): void => {
    event.preventDefault()
    const called = name.trim()
    if (!called) return
    const definition = usual.find(([word]) => word === called)?.[1]
    const record = { clip: clip.id, name: called, earliest: frame, latest: frame, ...(definition ? { definition } : {}) }
    void project.edit((now) => ({
      label: `Mark ${called}`,
      steps: [],
      diffs: [adding(now, 'events', { id: freeId(now, 'events', 'e'), ...record })],
    }))
  }
  // Done to the event as it is when its turn comes: what was stated just before may be on its way still.
  const change = (event: Event, parts: Partial<Event>, label = `Bracket ${event.name}`): Promise<unknown> =>
    project.edit((now) => {
      const known = now.tables.events.get(event.id)
      const shown = project.shown()
      return known && shown.breakdown
        ? changeEvent(shown.breakdown, (footage) => shown.tables.get(footage) ?? null, known, { ...known, ...parts }, label)
        : null
    })
  const takeOut = (event: Event): void => {
    const goes = { table: 'events', id: event.id } as const
    if (goesAlone(breakdown, readings, goes)) remove(project, goes, event.name)
    else setGoing(event)
  }
  const again = readOnly ? undefined : events.find(({ id }) => id === hand.blind)
  if (again) {
    const { earliest, latest } = again
    return (
      <BlindMarking
        key={again.id}
        event={again}
        frame={frame}
        onLeave={() => setBlind(null)}
        onKeep={(second) => {
          void change(again, { markings: { first: { earliest, latest }, second } }, `Mark ${again.name} again`)
          setBlind(null)
        }}
      />
    )
  }
  return (
    <>
      <h2>Events</h2>
      <p className="quiet">
        An event lies between two frames: the last on which it has surely not happened, the first on which it surely has.
      </p>
      {!readOnly && (
        <form onSubmit={mark}>
          <label>
            Event <input value={name} onChange={(event) => setName(event.target.value)} list="usual-events" maxLength={80} />
          </label>
          <datalist id="usual-events">
            {usual.map(([word]) => (
              <option key={word} value={word} />
            ))}
          </datalist>
          <p className="quiet">{usual.find(([word]) => word === name.trim())?.[1] ?? 'Say below what exactly it is.'}</p>
          <button type="submit" className="main-action">
            Mark it on frame {frame}
          </button>
        </form>
      )}
      <ul className="plain events">
        {events.map((event) => (
          <li key={event.id}>
            <p className="event-head">
              <button type="button" className="link" onClick={() => hand.go(event.earliest)}>
                {event.name}
              </button>{' '}
              <span className="figures">{bracketWords(event)}</span>
              {!readOnly && (
                <button type="button" onClick={() => takeOut(event)} aria-label={`Remove ${event.name}`}>
                  ✕
                </button>
              )}
            </p>
            {!readOnly && (
              <p className="actions">
                <button
                  type="button"
                  disabled={frame > event.latest}
                  onClick={() => void change(event, { earliest: frame })}
                  aria-label={`${event.name}: not before here, frame ${frame}`}
                >
                  not before here
                </button>
                <button
                  type="button"
                  disabled={frame < event.earliest}
                  onClick={() => void change(event, { latest: frame })}
                  aria-label={`${event.name}: not after here, frame ${frame}`}
                >
                  not after here
                </button>
                <button
                  type="button"
                  onClick={() => setBlind(event.id)}
                  title="find it once more without seeing where it was marked"
                  aria-label={`Mark ${event.name} again, blind`}
                >
                  again, blind
                </button>
              </p>
            )}
            <MarkingDifference event={event} onTakeBoth={readOnly ? null : (bracket) => void change(event, bracket)} />
            {readOnly ? (
              <p className="quiet">{event.definition}</p>
            ) : (
              <MeaningField event={event} onSet={(definition) => change(event, { definition })} />
            )}
          </li>
        ))}
      </ul>
      <AgreementOf events={events} />
      {going && <TakeAway goes={{ table: 'events', id: going.id }} name={going.name} onClose={() => setGoing(null)} />}
    </>
  )
}

function MeaningField({
  event: { name, definition },
  onSet,
}: {
  readonly event: Event
  readonly onSet: (definition: string) => Promise<unknown>
}) {
  const field = useTyped({ value: definition ?? '', onSet })
  return (
    <textarea
      aria-label={`What ${name} means`}
      placeholder="what exactly it is"
      value={field.text}
      rows={2}
      maxLength={1000}
      onChange={({ target }) => field.write(target.value)}
      onBlur={field.set}
    />
  )
}
