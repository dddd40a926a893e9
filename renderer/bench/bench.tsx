import { goTo, usePlace } from '../state/place'
import { useShown } from '../state/use-project'
import { framesOf } from '../player/films'
import { OpenClip } from './open-clip'

/// The Bench: a clip's exact frames, what is placed on them, and what can be said from it.
export function Bench() {
  const shown = useShown()
  const place = usePlace()
  const { breakdown } = shown
  if (!breakdown) return null
  const clip = breakdown.clips.find(({ id }) => id === place.clip) ?? breakdown.clips[0]
  if (!clip)
    return (
      <div className="bench-empty">
        <h2>There is no clip to measure</h2>
        <p>A clip is a stretch of a film without a cut inside. Cut one from a film of the shelf.</p>
        <button type="button" className="main-action" onClick={() => goTo({ room: 'Footage' })}>
          To the footage
        </button>
      </div>
    )
  const film = framesOf(clip.footage, shown)
  const table = shown.tables.get(clip.footage)
  if (!film || !table) {
    const facts = shown.films.get(clip.footage)
    return (
      <div className="bench-empty">
        <h2>{clip.name ?? clip.id}</h2>
        <p role="status">{facts?.refusal?.message ?? 'Its film is being read …'}</p>
        {facts?.refusal && (
          <button type="button" className="main-action" onClick={() => goTo({ room: 'Footage' })}>
            To the footage
          </button>
        )}
      </div>
    )
  }
  const frame = place.frame !== null && place.frame >= clip.from && place.frame < clip.to ? place.frame : clip.from
  return <OpenClip key={clip.id} clip={clip} film={film} table={table} frame={frame} />
}
