import { useState, type FormEvent } from 'react'
import { Dialog } from '../sheets/dialog'
import { engine } from '../state/engine'
import { useProject, usePart } from '../state/use-project'
import { FilmFields } from './film-fields'

/// The project: its film's title, question, picture and sound; where its file lies, copies of it, and all that belongs to it in one folder to hand over.
export function ProjectSheet({ onClose }: { readonly onClose: () => void }) {
  const project = useProject()
  const file = usePart('file')
  const readOnly = usePart('readOnly')
  const jobs = usePart('jobs')
  const [said, setSaid] = useState<{ readonly words: string; readonly wrong: boolean } | null>(null)
  const bundling = jobs.find(({ kind, state }) => kind === 'bundle' && (state === 'running' || state === 'waiting'))
  const path = (event: FormEvent<HTMLFormElement>): string => {
    event.preventDefault()
    return String(new FormData(event.currentTarget).get('path')).trim()
  }
  const copy = async (to: string): Promise<void> => {
    const answer = await engine.call('project.copy', { file: to })
    setSaid(answer.ok ? { words: `Copied to ${answer.value.file}. You go on in the one that is open.`, wrong: false } : { words: answer.error.message, wrong: true })
  }
  const bundle = async (folder: string): Promise<void> => {
    const answer = await engine.call('project.bundle', { folder })
    setSaid(answer.ok ? { words: `The project, its films and its takes are being copied into ${folder}.`, wrong: false } : { words: answer.error.message, wrong: true })
  }
  const close = async (): Promise<void> => {
    const refusal = await project.close()
    if (refusal) setSaid({ words: refusal.message, wrong: true })
  }
  const beside = file.replace(/\.claimframe$/, '')
  return (
    <Dialog title="This project" onClose={onClose}>
      {!readOnly && <FilmFields />}
      <p className="quiet">{file}</p>
      <p>Every change is kept as you make it; there is nothing to save.</p>
      <form onSubmit={(event) => void copy(path(event))} className="path-form">
        <label>
          Keep a copy as <input name="path" defaultValue={`${beside} copy.claimframe`} required />
        </label>
        <button type="submit">Copy</button>
      </form>
      <form onSubmit={(event) => void bundle(path(event))} className="path-form">
        <label>
          All of it, films and takes too, to hand over, in the new folder <input name="path" defaultValue={`${beside} to hand over`} required />
        </label>
        <button type="submit">Gather it</button>
      </form>
      {bundling && (
        <p role="status">
          {bundling.label} <progress aria-label={bundling.label} max={1} value={bundling.progress ?? undefined} />
        </p>
      )}
      {said && <p role={said.wrong ? 'alert' : 'status'} className={said.wrong ? 'refusal' : undefined}>{said.words}</p>}
      <p>
        <button type="button" onClick={() => void close()}>Close this project, open another</button>
      </p>
    </Dialog>
  )
}
