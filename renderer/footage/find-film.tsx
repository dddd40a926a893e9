import { useState } from 'react'
import type { FilmFacts } from '../../app/contract/footage-calls'
import { engine } from '../state/engine'
import { useAbilities } from '../state/use-abilities'
import { useShown } from '../state/use-project'
import { shortName } from './footage-room'

/// A film that is not where it was, or is another one: where it lies now is told, and it is taken back by what is in it.
export function FindFilm({ film, readOnly }: { readonly film: FilmFacts; readonly readOnly: boolean }) {
  const { file: project } = useShown()
  const [path, setPath] = useState('')
  const [looking, setLooking] = useState(false)
  const [refused, setRefused] = useState<string | null>(null)
  const { fileDialog: hasDialog } = useAbilities()
  const take = async (file: string): Promise<void> => {
    if (file.trim() === '') return
    setLooking(true)
    setRefused(null)
    const answer = await engine.call('footage.relink', { footage: film.id, file: file.trim() })
    setLooking(false)
    if (!answer.ok) setRefused(answer.error.message)
  }
  const choose = async (): Promise<void> => {
    const answer = await engine.call('desktop.chooseFiles', { what: 'film', several: false })
    const [file] = answer.ok ? answer.value.files : []
    if (file === undefined) return
    setPath(file)
    await take(file)
  }
  const place = project.replace(/[^/\\]*$/, '') + film.file
  return (
    <form
      className="relink"
      aria-label={`Find ${shortName(film.file)} again`}
      onSubmit={(event) => {
        event.preventDefault()
        void take(path)
      }}
    >
      <p className="refusal">{film.state === 'missing' ? `${film.file} is not there.` : film.refusal?.message}</p>
      <p className="quiet">
        What was measured, and every published version, is kept. Where it was moved or renamed, say where it lies now: it is known by its
        content, and taken only if every byte is the same.
      </p>
      {!readOnly && (
        <div className="actions">
          <label>
            It lies now at <input name="path" size={40} required value={path} onChange={(event) => setPath(event.target.value)} />
          </label>
          {hasDialog && (
            <button type="button" onClick={() => void choose()}>
              Choose …
            </button>
          )}
          <button type="submit" className="main-action" disabled={looking}>
            Take it back
          </button>
          {film.state === 'missing' && (
            <button type="button" disabled={looking} onClick={() => void take(place)}>
              It is where it was: look again
            </button>
          )}
        </div>
      )}
      <p role="status" className="quiet">
        {looking ? 'Comparing it with the film that was measured …' : ''}
      </p>
      {refused !== null && (
        <p role="alert" className="refusal">
          {refused}
        </p>
      )}
    </form>
  )
}
