import { useEffect, useRef, useState, type DragEvent, type FormEvent } from 'react'
import type { CallOutput } from '../../app/contract/calls'
import { pathOf, takeHeld, useMenu } from '../state/desktop-bridge'
import { engine } from '../state/engine'
import { useAbilities } from '../state/use-abilities'
import { useProject, useShown } from '../state/use-project'
import { FilmCard } from './film-card'
import { useSecondsUsed, type SecondsUsed } from './seconds-used'
import { SubjectList } from './subject-list'
import { uploadFilm } from './upload-film'

type Added = CallOutput<'footage.add'>

/// The shelf: every film of the project, what is known of it, and the clips that were cut from it.
export function Footage() {
  const project = useProject()
  const { breakdown, readOnly, jobs } = useShown()
  const { fileDialog: hasDialog } = useAbilities()
  const [said, setSaid] = useState<readonly string[]>([])
  const [over, setOver] = useState(false)
  const [arriving, setArriving] = useState<{ readonly name: string; readonly part: number } | null>(null)
  /// Places that were told and are not answered yet.
  const [asked, setAsked] = useState<readonly string[]>([])
  const used = useSecondsUsed()
  const choice = useRef<HTMLInputElement>(null)
  const tell = (added: Added): void => {
    // As they are now: what is answered may have come in only since.
    const { footage } = project.shown().breakdown ?? { footage: [] }
    const nameOf = (id: string): string => footage.find((film) => film.id === id)?.file ?? id
    setSaid((before) => [
      ...before,
      ...added.same.map(({ file, footage }) => `${shortName(file)} is here already, as ${shortName(nameOf(footage))}.`),
      ...added.refused.map(({ refusal }) => refusal.message),
    ])
  }
  /// Whether none was refused.
  const linkPaths = async (files: readonly string[]): Promise<boolean> => {
    const answer = await engine.call('footage.add', { files: [...files] })
    if (answer.ok) tell(answer.value)
    else setSaid((before) => [...before, answer.error.message])
    return answer.ok && answer.value.refused.length === 0
  }
  const addPaths = async (files: readonly string[]): Promise<boolean> => {
    setSaid([])
    return linkPaths(files)
  }
  /// A file whose place is known is linked from there; of another one the bytes are taken.
  const addFiles = async (files: readonly File[]): Promise<void> => {
    setSaid([])
    const paths = files.map(pathOf)
    const known = paths.filter((path) => path !== null)
    if (known.length > 0) await linkPaths(known)
    const rest = files.filter((_, i) => paths[i] === null)
    if (rest.length > 0) await addBytes(rest)
  }
  const addBytes = async (files: readonly File[]): Promise<void> => {
    for (const file of files) {
      const arrive = (part: number | null): void => setArriving(part === null ? null : { name: file.name, part })
      arrive(0)
      const reply = await uploadFilm(file, arrive)
      arrive(null)
      if (reply.ok) tell(reply.value as Added)
      else setSaid((before) => [...before, reply.error.message])
    }
  }
  const submit = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const form = event.currentTarget
    const field = form.elements.namedItem('path') as HTMLInputElement
    const sent = field.value.trim()
    const path = withoutQuotes(sent)
    if (!path) return
    // It is empty at once: what is typed before the answer is the next film's place, and no end of this one's.
    field.value = ''
    setAsked((before) => [...before, path])
    void addPaths([path]).then((taken) => {
      setAsked((before) => before.filter((_, i) => i !== before.indexOf(path)))
      // A place that was refused is put right, not typed anew; what was typed meanwhile stays.
      if (!taken && field.value === '') field.value = sent
    })
  }
  const choose = async (): Promise<void> => {
    const answer = await engine.call('desktop.chooseFiles', { what: 'film', several: true })
    if (answer.ok && answer.value.files.length > 0) await addPaths(answer.value.files)
  }
  const ask = (): void => (hasDialog ? void choose() : document.querySelector<HTMLInputElement>('.add-film input[name="path"]')?.focus())
  useMenu({ 'add-films': ask })
  useEffect(() => {
    if (takeHeld('add-films'))
      void engine.call('engine.about', {}).then((answer) => (answer.ok && answer.value.fileDialog ? choose() : ask()))
  }, [])
  const drop = (event: DragEvent): void => {
    event.preventDefault()
    setOver(false)
    if (event.dataTransfer.files.length > 0) void addFiles([...event.dataTransfer.files])
  }
  if (!breakdown) return null
  const gathering = jobs.filter((job) => job.kind === 'gather' && (job.state === 'running' || job.state === 'waiting'))
  return (
    <div
      className={over ? 'footage dropping' : 'footage'}
      onDragOver={(event) => {
        event.preventDefault()
        setOver(true)
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      {!readOnly && (
        <form onSubmit={submit} className="add-film" aria-label="Add a film">
          <label>
            Add a film <input name="path" placeholder="where the file lies" size={48} required />
          </label>
          <button type="submit">Add</button>
          <button type="button" onClick={() => (hasDialog ? void choose() : choice.current?.click())}>
            Choose films …
          </button>
          <input
            ref={choice}
            type="file"
            hidden
            aria-label="Films of this machine"
            accept="video/*,.mkv"
            multiple
            onChange={(event) =>
              void addFiles([...(event.target.files ?? [])]).then(() => {
                event.target.value = ''
              })
            }
          />
          <span className="quiet">or drop it here; films are never altered</span>
        </form>
      )}
      {asked.length > 0 && <p role="status">adding {asked.map(shortName).join(', ')} …</p>}
      {arriving && (
        <p role="status">
          bringing {arriving.name} in <progress aria-label={`bringing ${arriving.name} in`} max={1} value={arriving.part} />{' '}
          <span className="quiet">{Math.floor(arriving.part * 100)} %</span>
        </p>
      )}
      {gathering.map((job) => (
        <p key={job.id} role="status">
          {job.label} <progress aria-label={job.label} max={1} value={job.progress ?? undefined} />
        </p>
      ))}
      {said.length > 0 && (
        <div role="alert" className="said">
          {said.map((line, i) => (
            <p key={i}>{line}</p>
          ))}
        </div>
      )}
      {breakdown.footage.length === 0 && (
        <p className="lead">
          Nothing is gathered yet. Add the films that you want to speak about; then cut clips from them: one camera, no cut inside.
        </p>
      )}
      <SubjectList />
      {breakdown.footage.map((footage) => (
        <FilmCard
          key={footage.id}
          footage={footage}
          edit={(...change) => project.edit(...change)}
          used={used && (used.get(footage.id) ?? NOTHING_USED)}
        />
      ))}
    </div>
  )
}

const NOTHING_USED: SecondsUsed = { used_s: 0, onScreen_s: 0 }

export const shortName = (file: string): string => file.split(/[\\/]/).at(-1) ?? file

/// A place as file managers copy it, in quotation marks.
const withoutQuotes = (path: string): string => (/^(["']).*\1$/.test(path) ? path.slice(1, -1).trim() : path)
