import { useState } from 'react'
import type { CallOutput } from '../../app/contract/calls'
import type { Job } from '../../app/contract/work-calls'
import { AnsweredForm } from '../sheets/answered-form'
import { Dialog } from '../sheets/dialog'
import { engine } from '../state/engine'
import { useAbilities } from '../state/use-abilities'
import { useProject, usePart } from '../state/use-project'
import { FilmFields } from './film-fields'

/// The project: its film's title, question, picture and sound; where its file lies, copies of it, and all that belongs to it in one folder to hand over.
export function ProjectSheet({ onClose }: { readonly onClose: () => void }) {
  const project = useProject()
  const file = usePart('file')
  const readOnly = usePart('readOnly')
  const jobs = usePart('jobs')
  const beside = file.replace(/\.claimframe$/, '')
  const [said, setSaid] = useState<{ readonly words: string; readonly wrong: boolean } | null>(null)
  const { fileDialog, showInFolder } = useAbilities()
  const [copyTo, setCopyTo] = useState(`${beside} copy.claimframe`)
  const [folder, setFolder] = useState(`${beside} to hand over`)
  const [own, setOwn] = useState<string | null>(null)
  const bundling =
    jobs.find(({ id }) => id === own) ?? jobs.find(({ kind, state }) => kind === 'bundle' && (state === 'running' || state === 'waiting'))
  const choose = async (what: 'project' | 'folder', name: string, set: (file: string) => void): Promise<void> => {
    const answer = await engine.call('desktop.chooseTarget', { what, name })
    if (answer.ok && answer.value.file !== null) set(answer.value.file)
    else if (!answer.ok) setSaid({ words: answer.error.message, wrong: true })
  }
  const copy = async (to: string): Promise<void> => {
    const answer = await engine.call('project.copy', { file: to })
    setSaid(
      answer.ok ? { words: copiedWords(answer.value), wrong: answer.value.left.length > 0 } : { words: answer.error.message, wrong: true },
    )
  }
  const bundle = async (folder: string): Promise<void> => {
    const answer = await engine.call('project.bundle', { folder })
    if (answer.ok) setOwn(answer.value.job)
    setSaid(answer.ok ? null : { words: answer.error.message, wrong: true })
  }
  const close = async (): Promise<void> => {
    const refusal = await project.close()
    if (refusal) setSaid({ words: refusal.message, wrong: true })
  }
  return (
    <Dialog title="This project" onClose={onClose}>
      {!readOnly && <FilmFields />}
      <p className="quiet">{file}</p>
      <p>Every change is kept as you make it; there is nothing to save.</p>
      <AnsweredForm onKeep={() => copy(copyTo.trim())} className="path-form">
        <label>
          Keep a copy as <input name="path" value={copyTo} onChange={(event) => setCopyTo(event.target.value)} required />
        </label>
        {fileDialog && (
          <button type="button" onClick={() => void choose('project', copyTo, setCopyTo)}>
            Choose …
          </button>
        )}
        <button type="submit">Copy</button>
      </AnsweredForm>
      <AnsweredForm onKeep={() => bundle(folder.trim())} className="path-form">
        <label>
          All of it, films and takes too, to hand over, in the new folder{' '}
          <input name="path" value={folder} onChange={(event) => setFolder(event.target.value)} required />
        </label>
        {fileDialog && (
          <button type="button" onClick={() => void choose('folder', folder, setFolder)} aria-label="Choose the folder …">
            Choose …
          </button>
        )}
        <button type="submit">Gather it</button>
      </AnsweredForm>
      {bundling && <Bundling job={bundling} canShow={showInFolder} onCancel={() => void project.cancel(bundling.id)} />}
      {said && (
        <p role={said.wrong ? 'alert' : 'status'} className={said.wrong ? 'refusal' : undefined}>
          {said.words}
        </p>
      )}
      <p>
        <button type="button" onClick={() => void close()}>
          Close this project, open another
        </button>
      </p>
    </Dialog>
  )
}

/// How far the gathering is, or what came of it.
function Bundling({ job, canShow, onCancel }: { readonly job: Job; readonly canShow: boolean; readonly onCancel: () => void }) {
  if (job.state === 'failed')
    return (
      <p role="alert" className="refusal">
        Nothing was handed over: {job.refusal?.message}
      </p>
    )
  if (job.state === 'cancelled') return <p role="status">The gathering was cancelled; nothing of it was left.</p>
  if (job.state === 'done')
    return (
      <p role="status">
        All of it lies in {job.file}.{' '}
        {canShow && (
          <button type="button" onClick={() => void engine.call('desktop.showInFolder', { job: job.id })}>
            Show in its folder
          </button>
        )}
      </p>
    )
  return (
    <p role="status">
      {job.label} <progress aria-label={job.label} max={1} value={job.progress ?? undefined} />{' '}
      <button type="button" onClick={onCancel}>
        Cancel
      </button>
    </p>
  )
}

/// Where the copy lies, and what it will not find there.
function copiedWords({ file, left }: CallOutput<'project.copy'>): string {
  const done = `Copied to ${file}. You go on in the one that is open.`
  if (left.length === 0) return done
  const some = left.slice(0, 3).join(', ')
  return `${done} The copy does not find ${left.length > 3 ? `${some} and ${left.length - 3} more` : some} there: films and takes stay beside this project. Gather all of it below, or keep the copy beside this one.`
}
