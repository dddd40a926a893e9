import type { FilmTable } from '../../app/contract/footage-calls'
import type { Clip, Event } from '../../app/project/film'
import { goTo } from '../state/place'
import { useShown } from '../state/use-project'
import { eventWords, fieldOf, timeWords } from './clip-now'

interface Props {
  readonly clip: Clip
  readonly table: FilmTable
  readonly frame: number
  readonly events: readonly Event[]
  /// Stage pixels to one of the picture's.
  readonly scale: number
}

/// Top left on the stage: which clip, which frame and time, and what the frame is to the clip's events.
export function BenchHud({ clip, table, frame, events, scale }: Props) {
  const { breakdown, films } = useShown()
  const field = fieldOf(
    breakdown?.footage.find(({ id }) => id === clip.footage),
    films.get(clip.footage),
    frame,
  )
  const whatEvent = eventWords(events, frame)
  return (
    <p className="hud">
      <select aria-label="Clip" value={clip.id} onChange={(event) => goTo({ clip: event.target.value, frame: null })}>
        {breakdown?.clips.map(({ id, name }) => (
          <option key={id} value={id}>
            {name ?? id}
          </option>
        ))}
      </select>
      <span role="status">
        frame {frame} · {timeWords(table, frame)}
        {field !== null && ` · ${field}`}
        {clip.mirrored && ' · mirrored'}
        {scale >= 2 && ` · ${Math.round(scale * 100)} %`}
      </span>
      {whatEvent !== '' && (
        <span className="hud-event" title={whatEvent}>
          {whatEvent}
        </span>
      )}
    </p>
  )
}
