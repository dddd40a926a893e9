import { goTo } from '../state/place'
import { goneWords, isGone } from '../state/programme'
import { usePart } from '../state/use-project'

/// The films that clips were cut from and that are gone, by name, with the way to find them.
export function GoneFilms() {
  const films = usePart('films')
  const breakdown = usePart('breakdown')
  const gone = [...films.values()].filter((film) => isGone(film) && breakdown?.clips.some(({ footage }) => footage === film.id))
  if (gone.length === 0) return null
  return (
    <span className="refusal" role="status">
      {gone.map((film) => `${goneWords(film)[0]}.`).join(' ')}{' '}
      <button type="button" onClick={() => goTo({ room: 'Footage' })}>
        Find {gone.length === 1 ? 'it' : 'them'} in Footage
      </button>
    </span>
  )
}
