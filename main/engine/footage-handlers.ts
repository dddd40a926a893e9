import { randomUUID } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { rm } from 'node:fs/promises'
import { basename, extname, join, resolve } from 'node:path'
import type { Handlers, CallOutput } from '../../app/contract/calls'
import type { footageCalls } from '../../app/contract/footage-calls'
import { refusalOf } from '../../app/contract/refusal'
import { CodedError } from '../../app/errors/coded-error'
import type { Footage } from '../../app/project/film'
import { makeFieldFilm } from '../media/field-film'
import { fullHash, sampledIdentity } from '../media/identity'
import { openFilm } from '../media/probe'
import { gatherBytes, gatherFile } from './gather'
import type { OpenedProject } from './opened-project'
import type { Workspace } from './workspace'

export const FOOTAGE_FOLDER = 'footage'

export function footageHandlers(workspace: Workspace): Handlers<keyof typeof footageCalls> {
  return {
    'footage.add': ({ files, source }) => addFilms(workspace, files, source),
    'footage.facts': () => ({ films: workspace.opened.films.facts() }),
    'footage.table': ({ footage }) => workspace.opened.films.table(footage),
    'footage.pieces': ({ footage }) => workspace.opened.films.pieces(footage),
    'footage.proxy': ({ footage }) => workspace.opened.films.standIn(footage),
    'footage.fields': ({ footage, first }) => splitFields(workspace, footage, first),
    'footage.relink': ({ footage, file }) => relink(workspace, footage, resolve(file)),
  }
}

/// The last gathering of each workspace: the next waits for it, so that a film that is dropped twice is one film.
const gatherings = new WeakMap<Workspace, Promise<unknown>>()

/// Gathers films, each as one edit.
export function addFilms(workspace: Workspace, files: readonly string[], source?: Footage['source']): Promise<CallOutput<'footage.add'>> {
  const turn = (gatherings.get(workspace) ?? Promise.resolve()).then(() => gatherFilms(workspace, files, source))
  gatherings.set(
    workspace,
    turn.catch(() => undefined),
  )
  return turn
}

async function gatherFilms(workspace: Workspace, files: readonly string[], source: Footage['source']): Promise<CallOutput<'footage.add'>> {
  const { opened } = workspace
  if (opened.project.readOnly) throw new CodedError('read-only', { file: opened.project.path })
  const answer: CallOutput<'footage.add'> = { added: [], refused: [], same: [] }
  const tool = await workspace.tool()
  for (const file of files) {
    try {
      const path = resolve(file)
      const head = await openFilm(tool, path)
      if (head.oddMatrix)
        throw new CodedError('not-a-video', { file: path, problem: 'it is stored mirrored or turned by no right angle; convert it first' })
      const twin = await twinOf(opened, await sampledIdentity(path))
      if (twin !== null) {
        answer.same.push({ file, footage: twin })
        continue
      }
      const job = workspace.jobs.start({ kind: 'gather', label: `gathering ${basename(path)}` }, async ({ signal, report }) => {
        const sha256 = await fullHash(path, { signal, onProgress: report })
        return { name: await gatherFile(opened.folder, path, FOOTAGE_FOLDER), sha256 }
      })
      const outcome = await job.outcome
      if (outcome.state === 'cancelled') throw new CodedError('cancelled', { what: `gathering ${basename(path)}` })
      if (outcome.state === 'failed') throw outcome.error
      answer.added.push(
        await record(opened, outcome.value.name, { sha256: outcome.value.sha256, ...(source === undefined ? {} : { source }) }),
      )
    } catch (error) {
      const refusal =
        error instanceof CodedError ? refusalOf(error) : refusalOf(new CodedError('unexpected', { trace: workspace.fault(error, file) }))
      answer.refused.push({ file, refusal })
    }
  }
  return answer
}

async function record(opened: OpenedProject, file: string, known: Omit<Footage, 'id' | 'file'>): Promise<{ id: string; file: string }> {
  const seen = await opened.films.seen()
  const id = opened.freeId('footage', 'f', seen)
  const { footage } = opened.project.state.tables
  const film: Footage = { id, file, ...known }
  opened.apply({
    id: randomUUID(),
    label: `Add ${basename(file)}`,
    group: null,
    steps: [],
    diffs: [{ table: 'footage', change: 'added', key: id, record: film, after: footage.keys.at(-1) ?? null }],
    selection: null,
    base: opened.project.version,
  })
  return { id, file }
}

/// The film of the project that has the same content. One that is still being read is looked at itself.
async function twinOf(opened: OpenedProject, identity: string): Promise<string | null> {
  for (const { id } of opened.project.state.tables.footage.list()) {
    const known = (await opened.films.identityOf(id)) ?? (await sampledIdentity(opened.films.filePath(id)).catch(() => null))
    if (known === identity) return id
  }
  return null
}

/// Begins the film of a film's fields; it is added when it is whole.
function splitFields(workspace: Workspace, id: string, first: 'top' | 'bottom'): CallOutput<'footage.fields'> {
  const { opened } = workspace
  if (opened.project.readOnly) throw new CodedError('read-only', { file: opened.project.path })
  const film = opened.films.film(id)
  const footage = opened.project.state.tables.footage.get(id)
  if (!footage) throw new CodedError('not-there', { what: 'film', id })
  const { file, sha256, source } = footage
  const label = `splitting ${file} into its fields`
  const { id: job } = workspace.jobs.start({ kind: 'fields', label, footage: id }, async ({ signal, report }) => {
    const made = join(opened.cache, `fields-${randomUUID()}.mp4`)
    try {
      await makeFieldFilm(await workspace.tool(), film, first, made, { signal, onProgress: report })
      const digest = await fullHash(made, { signal })
      const name = await gatherBytes(opened.folder, `${basename(file, extname(file))} fields.mp4`, createReadStream(made), FOOTAGE_FOLDER)
      const fields = { file, ...(sha256 === undefined ? {} : { sha256 }), first }
      await record(opened, name, { sha256: digest, ...(source === undefined ? {} : { source }), fields })
    } finally {
      await rm(made, { force: true })
    }
  })
  return { job }
}

/// A film is taken back when its content is the one that is known: by the digest of all its bytes where the project, or
/// a version that was published, has it; else by that of its beginning, middle and end.
async function relink(workspace: Workspace, id: string, path: string): Promise<CallOutput<'footage.relink'>> {
  const { opened } = workspace
  const { footage: films, releases } = opened.project.state.tables
  const footage = films.get(id)
  if (!footage) throw new CodedError('not-there', { what: 'film', id })
  if (opened.project.readOnly) throw new CodedError('read-only', { file: opened.project.path })
  await openFilm(await workspace.tool(), path)
  const sha256 =
    footage.sha256 ??
    releases
      .list()
      .findLast((release) => release.footage.some((film) => film.id === id && film.sha256 !== undefined))
      ?.footage.find((film) => film.id === id)?.sha256
  const known = await opened.films.identityOf(id)
  const same = sha256 !== undefined ? (await fullHash(path)) === sha256 : known === null || (await sampledIdentity(path)) === known
  if (!same) throw new CodedError('footage-changed', { file: path })
  const file = await gatherFile(opened.folder, path, FOOTAGE_FOLDER)
  if (file === footage.file) opened.films.reopen(footage)
  else
    opened.apply({
      id: randomUUID(),
      label: `Find ${basename(file)}`,
      group: null,
      steps: [],
      diffs: [{ table: 'footage', change: 'updated', key: id, from: footage, to: { ...footage, file } }],
      selection: null,
      base: opened.project.version,
    })
  return opened.films.factsOf(id)
}
