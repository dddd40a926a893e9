import { useState } from 'react'
import type { Event } from '../../app/project/film'

type Bracket = NonNullable<Event['markings']>['second']

interface Props {
  readonly event: Event
  readonly frame: number
  readonly onKeep: (second: Bracket) => void
  readonly onLeave: () => void
}

/// Marking an event again as if for the first time: its first bracket, and what was measured by it, are hidden meanwhile.
export function BlindMarking({ event, frame, onKeep, onLeave }: Props) {
  const [second, setSecond] = useState<Bracket | null>(null)
  return (
    <>
      <h2>{event.name}, a second time</h2>
      <p className="quiet">
        Its first bracket is hidden, and what was measured with it. Find it as if for the first time, if you can on another day than the
        first.
      </p>
      {event.definition && <p>{event.definition}</p>}
      {second === null ? (
        <button type="button" className="main-action" onClick={() => setSecond({ earliest: frame, latest: frame })}>
          It is here, frame {frame}
        </button>
      ) : (
        <>
          <p className="figures" role="status">
            {bracketWords(second)}
          </p>
          <p className="actions">
            <button type="button" disabled={frame > second.latest} onClick={() => setSecond({ ...second, earliest: frame })}>
              not before here, frame {frame}
            </button>
            <button type="button" disabled={frame < second.earliest} onClick={() => setSecond({ ...second, latest: frame })}>
              not after here, frame {frame}
            </button>
          </p>
        </>
      )}
      <p className="actions">
        <button type="button" className={second ? 'main-action' : undefined} disabled={!second} onClick={() => second && onKeep(second)}>
          Keep the second marking
        </button>
        <button type="button" onClick={onLeave}>
          Leave it
        </button>
      </p>
    </>
  )
}

export const bracketWords = ({ earliest, latest }: Bracket): string =>
  earliest === latest ? `frame ${earliest}` : `frames ${earliest} to ${latest}`
