import { useEffect, useRef, useState } from 'react'
import type { CallOutput } from '../../app/contract/calls'
import { AnsweredForm } from '../sheets/answered-form'
import { takeHeld, useMenu } from '../state/desktop-bridge'
import { engine } from '../state/engine'
import { useAbilities } from '../state/use-abilities'
import { useProject, useShown } from '../state/use-project'

type Listing = CallOutput<'files.list'>

/// What stands in the window while no project is open: recent ones, the folders, and a new one.
export function StartScreen() {
  const project = useProject()
  const { refusal, phase } = useShown()
  const [recent, setRecent] = useState<CallOutput<'project.recent'>['projects']>([])
  const [listing, setListing] = useState<Listing | null>(null)
  const [said, setSaid] = useState<string | null>(null)
  const look = async (folder?: string): Promise<Listing | null> => {
    const answer = await engine.call('files.list', folder === undefined ? {} : { folder })
    if (answer.ok) setListing(answer.value)
    return answer.ok ? answer.value : null
  }
  useEffect(() => {
    void engine.call('project.recent', {}).then((answer) => answer.ok && setRecent(answer.value.projects.filter((p) => p.there)))
    void look()
  }, [])
  const { fileDialog } = useAbilities()
  const titleField = useRef<HTMLInputElement>(null)
  const choose = async (): Promise<void> => {
    const answer = await engine.call('desktop.chooseFiles', { what: 'project', several: false })
    const [file] = answer.ok ? answer.value.files : []
    if (file !== undefined) await project.open(file)
  }
  useMenu({ 'new-project': () => titleField.current?.focus(), 'open-project': () => void choose() })
  useEffect(() => {
    if (takeHeld('new-project')) titleField.current?.focus()
    else if (takeHeld('open-project')) void choose()
  }, [])
  const make = async (filled: FormData): Promise<void> => {
    const title = String(filled.get('title')).trim()
    const name = title.replaceAll(/[^\p{L}\p{M}\p{N} _-]/gu, '').trim()
    setSaid(name === '' ? 'A title needs a letter or a figure: the file is named after it.' : null)
    // A hand may be quicker than the first look at the folder.
    const into = name === '' ? null : (listing ?? (await look()))
    if (into)
      await project.create(`${into.folder}/${name}.claimframe`, title, filled.get('template') === 'walkthrough' ? 'walkthrough' : 'blank')
  }
  return (
    <main className="start">
      <h1>Claimframe</h1>
      <p className="lead">
        A breakdown pairs what you say with the frames that show it. Every value in it is measured, and stands with its error.
      </p>
      {(said ?? refusal) && (
        <p className="refusal" role="alert">
          {said ?? refusal?.message}
        </p>
      )}
      {phase === 'lost' && <p className="quiet">The engine does not answer. Start Claimframe again.</p>}
      {recent.length > 0 && (
        <section aria-label="Recent projects">
          <h2>Recent</h2>
          <ul className="plain">
            {recent.slice(0, 6).map(({ file, title }) => (
              <li key={file}>
                <button type="button" className="entry" onClick={() => void project.open(file)}>
                  <strong>{title}</strong>
                  <span className="quiet">{file}</span>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      <AnsweredForm onKeep={make} label="New project">
        <h2>New</h2>
        <div className="new-project">
          <label>
            Title <input ref={titleField} name="title" maxLength={120} size={32} required />
          </label>
          <label>
            Begin with{' '}
            <select name="template">
              <option value="blank">an empty page</option>
              <option value="walkthrough">the headings and questions of a breakdown</option>
            </select>
          </label>
          <button type="submit" className="main-action">
            Make it
          </button>
        </div>
        {listing && <p className="quiet">It goes into {listing.folder}. Another folder: choose it below.</p>}
      </AnsweredForm>
      {listing && (
        <section aria-label="Open a project">
          <h2>Open</h2>
          {fileDialog && (
            <p>
              <button type="button" onClick={() => void choose()}>
                Choose …
              </button>
            </p>
          )}
          <p className="quiet">{listing.folder}</p>
          <ul className="plain">
            {listing.parent && (
              <li>
                <button type="button" className="entry" onClick={() => void look(listing.parent!)}>
                  one folder up
                </button>
              </li>
            )}
            {listing.folders.map(({ name, path }) => (
              <li key={path}>
                <button type="button" className="entry" onClick={() => void look(path)}>
                  {name}/
                </button>
              </li>
            ))}
            {listing.files
              .filter((file) => file.kind === 'project')
              .map(({ name, path }) => (
                <li key={path}>
                  <button type="button" className="entry" onClick={() => void project.open(path)}>
                    <strong>{name}</strong>
                  </button>
                </li>
              ))}
          </ul>
        </section>
      )}
    </main>
  )
}
