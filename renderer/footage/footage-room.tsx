import { useEffect, useState, type DragEvent, type FormEvent } from 'react'
import { filmUploadAddress } from '../../app/contract/addresses'
import type { CallOutput } from '../../app/contract/calls'
import { readReply } from '../../app/contract/refusal'
import { engine } from '../state/engine'
import { useProject, useShown } from '../state/use-project'
import { FilmCard } from './film-card'

type Added = CallOutput<'footage.add'>

/// The shelf: every film of the project, what is known of it, and the clips that were cut from it.
export function Footage() {
  const project = useProject()
  const { breakdown, films, readOnly, jobs } = useShown()
  const [hasDialog, setDialog] = useState(false)
  const [said, setSaid] = useState<readonly string[]>([])
  const [over, setOver] = useState(false)
  useEffect(() => {
    void engine.call('engine.about', {}).then((answer) => answer.ok && setDialog(answer.value.fileDialog))
  }, [])
  if (!breakdown) return null

  const tell = (added: Added): void => {
    const nameOf = (id: string): string => films.get(id)?.file ?? id
    setSaid([...added.same.map(({ file, footage }) => `${shortName(file)} is here already, as ${shortName(nameOf(footage))}.`), ...added.refused.map(({ refusal }) => refusal.message)])
  }
  const addPaths = async (files: readonly string[]): Promise<void> => {
    setSaid([])
    const answer = await engine.call('footage.add', { files: [...files] })
    if (answer.ok) tell(answer.value)
    else setSaid([answer.error.message])
  }
  const addBytes = async (files: readonly File[]): Promise<void> => {
    setSaid([])
    for (const file of files) {
      const answer = await fetch(filmUploadAddress(file.name), { method: 'POST', headers: { 'content-type': 'application/octet-stream' }, body: file })
      const reply = readReply(await answer.json().catch(() => null))
      if (reply.ok) tell(reply.value as Added)
      else setSaid((before) => [...before, reply.error.message])
    }
  }
  const submit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const form = event.currentTarget
    const path = String(new FormData(form).get('path')).trim()
    // What was typed meanwhile stays.
    if (path) void addPaths([path]).then(() => String(new FormData(form).get('path')).trim() === path && form.reset())
  }
  const choose = async (): Promise<void> => {
    const answer = await engine.call('desktop.chooseFiles', { what: 'film', several: true })
    if (answer.ok && answer.value.files.length > 0) await addPaths(answer.value.files)
  }
  const drop = (event: DragEvent): void => {
    event.preventDefault()
    setOver(false)
    if (event.dataTransfer.files.length > 0) void addBytes([...event.dataTransfer.files])
  }
  const gathering = jobs.filter((job) => job.kind === 'gather' && (job.state === 'running' || job.state === 'waiting'))
  return (
    <div className={over ? 'footage dropping' : 'footage'} onDragOver={(event) => { event.preventDefault(); setOver(true) }} onDragLeave={() => setOver(false)} onDrop={drop}>
      {!readOnly && (
        <form onSubmit={submit} className="add-film" aria-label="Add a film">
          <label>
            Add a film <input name="path" placeholder="where the file lies" size={48} required />
          </label>
          <button type="submit">Add</button>
          {hasDialog && <button type="button" onClick={() => void choose()}>Choose …</button>}
          <label className="file-choice">
            or from this machine <input type="file" accept="video/*,.mkv" multiple onChange={(event) => void addBytes([...(event.target.files ?? [])]).then(() => { event.target.value = '' })} />
          </label>
          <span className="quiet">or drop it here; films are never altered</span>
        </form>
      )}
      {gathering.map((job) => (
        <p key={job.id} role="status">
          {job.label} <progress aria-label={job.label} max={1} value={job.progress ?? undefined} />
        </p>
      ))}
      {said.length > 0 && <div role="alert" className="said">{said.map((line) => <p key={line}>{line}</p>)}</div>}
      {breakdown.footage.length === 0 && <p className="lead">Nothing is gathered yet. Add the films that you want to speak about; then cut clips from them: one camera, no cut inside.</p>}
      {breakdown.footage.map((footage) => <FilmCard key={footage.id} footage={footage} edit={(...change) => project.edit(...change)} />)}
    </div>
  )
}

export const shortName = (file: string): string => file.split(/[\\/]/).at(-1) ?? file
