import { CONFIRM_ABOVE } from '../../app/align/take-words'
import type { Event } from '../../app/project/film'
import type { CueTime } from '../../app/project/picture'

interface Props {
  readonly times: readonly CueTime[]
  /// Events of cues that have no time in the take.
  readonly untimed: readonly string[]
  readonly events: readonly Event[]
  readonly chosen: string | null
  readonly onChoose: (event: string) => void
  readonly onHear: (seconds: number) => void
  readonly onConfirm: (time: CueTime) => void
}

/// The cues of the paragraph in hand, where their words begin, and how sure that is.
export function CueList({ times, untimed, events, chosen, onChoose, onHear, onConfirm }: Props) {
  const choice = (event: string) => (
    <button type="button" aria-pressed={chosen === event} onClick={() => onChoose(event)}>
      {events.find(({ id }) => id === event)?.name ?? event}
    </button>
  )
  if (times.length + untimed.length === 0) return null
  return (
    <div aria-label="Cues">
      {times.map((time) => (
        <div key={time.event} className="take-row">
          {choice(time.event)}
          <button type="button" onClick={() => onHear(time.seconds)}>
            Hear
          </button>
          {time.u > CONFIRM_ABOVE ? (
            <button type="button" onClick={() => onConfirm(time)}>
              Confirm
            </button>
          ) : (
            <span className="figures">± {Math.round(2000 * time.u)} ms</span>
          )}
        </div>
      ))}
      {untimed.map((event) => (
        <div key={event} className="take-row">
          {choice(event)}
          <span className="quiet">not placed</span>
        </div>
      ))}
      {chosen !== null && <p className="quiet">Press the wave where its word begins, or C as it is said.</p>}
    </div>
  )
}
