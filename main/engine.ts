import { rm } from 'node:fs/promises'
import type { Handlers } from '../app/contract/calls'
import { refusalWith } from '../app/contract/refusal'
import { CodedError } from '../app/errors/coded-error'
import { aboutHandlers } from './engine/about-handlers'
import { everyAnswer, reportPolicy } from './engine/answer-headers'
import { faceFile, mediaType, soundFile, stillFile, waveFile } from './engine/bytes'
import { answerCall, refusedReply, reply } from './engine/call-door'
import { editHandlers } from './engine/edit-handlers'
import { fileAnswer } from './engine/file-answer'
import { addFilms, footageHandlers, FOOTAGE_FOLDER } from './engine/footage-handlers'
import { keptFile, REPORT_TYPE } from './engine/release-work'
import { gatherBytes } from './engine/gather'
import { pageFiles, type PageFile } from './engine/page-files'
import { projectHandlers } from './engine/project-handlers'
import { piecesOf, readBody } from './engine/read-body'
import { routeOf, type Route } from './engine/route'
import { claimHandlers } from './engine/claim-handlers'
import { scriptHandlers } from './engine/script-handlers'
import { bringSound, takeHandlers } from './engine/take-handlers'
import { workHandlers } from './engine/work-handlers'
import { Workspace, type WorkspaceOptions } from './engine/workspace'

export interface EngineOptions extends WorkspaceOptions {
  readonly version: string
  /// Folder of the built window; its files are listed when the engine starts.
  readonly page: string
  /// Checks every answer against the contract, for tests.
  readonly checked?: boolean
}

export interface Engine {
  readonly workspace: Workspace
  /// The whole contract: calls, events, bytes and the window's own files. Never rejects.
  readonly answer: (request: Request) => Promise<Response>
  readonly end: () => Promise<void>
}

/// How long a question for events waits, and what is taken of a recording at once.
const PATIENCE_MS = 25_000
const PIECE_BYTES = 8_000_000

/// The engine behind every door.
export function openEngine(options: EngineOptions): Engine {
  const workspace = new Workspace(options)
  const files = pageFiles(options.page)
  const handlers: Handlers = {
    ...projectHandlers(workspace),
    ...editHandlers(workspace),
    ...footageHandlers(workspace),
    ...scriptHandlers(workspace),
    ...claimHandlers(workspace),
    ...workHandlers(workspace),
    ...takeHandlers(workspace),
    ...aboutHandlers(workspace, options.version),
  }
  const calls = { handlers, onFault: (error: unknown, call: string) => workspace.fault(error, call), checked: options.checked ?? false }

  const answer = async (request: Request): Promise<Response> => {
    const url = new URL(request.url)
    const route = routeOf(request.method, url)
    try {
      const response =
        route.to === 'call' ? await answerCall(route.name, request, calls) : await answerBytes(route, request, workspace, files)
      for (const [name, value] of Object.entries(everyAnswer)) response.headers.set(name, value)
      if (route.to === 'kept' && response.headers.get('content-type') === REPORT_TYPE)
        response.headers.set('content-security-policy', reportPolicy)
      return response
    } catch (error) {
      const response = refusedReply(error, (fault) => workspace.fault(fault, route.to), statusOf(error))
      for (const [name, value] of Object.entries(everyAnswer)) response.headers.set(name, value)
      return response
    }
  }
  return { workspace, answer, end: () => workspace.end() }
}

async function answerBytes(
  route: Exclude<Route, { to: 'call' }>,
  request: Request,
  workspace: Workspace,
  files: ReadonlyMap<string, PageFile>,
): Promise<Response> {
  switch (route.to) {
    case 'events':
      return reply(200, { ok: true, value: await workspace.events.after(route.engine, route.after, PATIENCE_MS, request.signal) })
    case 'media': {
      const path = workspace.opened.films.filePath(route.id)
      return found(await fileAnswer(request, path, mediaType(path), 'no-store'), 'film', route.id)
    }
    case 'proxy': {
      const path = workspace.opened.films.standInPath(route.id)
      return found(path === null ? null : await fileAnswer(request, path, 'video/mp4', 'no-store'), 'stand-in', route.id)
    }
    case 'finished': {
      const film = workspace.jobs.film(route.id)
      return found(
        film === null ? null : await fileAnswer(request, film.path, 'video/mp4', 'no-store', film.tag),
        'finished film of job',
        route.id.slice(0, 80),
      )
    }
    case 'still':
      return found(
        await fileAnswer(
          request,
          await stillFile(workspace, workspace.opened, route.id, route.frame, route.width, request.signal),
          'image/png',
          'no-store',
        ),
        'frame',
        String(route.frame),
      )
    case 'kept': {
      const file = keptFile(workspace.opened, route.release, route.name)
      return found(file === null ? null : await fileAnswer(request, file.path, file.type), 'kept file', route.name.slice(0, 80))
    }
    case 'wave': {
      const sound = await soundFile(workspace.opened, route.id)
      return found(
        sound === null
          ? null
          : await fileAnswer(request, await waveFile(workspace, workspace.opened, sound, request.signal), 'application/octet-stream'),
        'recording',
        route.id,
      )
    }
    case 'take': {
      const sound = await soundFile(workspace.opened, route.id)
      return found(sound === null ? null : await fileAnswer(request, sound, mediaType(sound)), 'recording', route.id)
    }
    case 'face': {
      const face = await faceFile(route.id)
      return found(face === null ? null : await fileAnswer(request, face, 'font/ttf', 'max-age=86400'), 'type face', route.id)
    }
    case 'take-piece': {
      onlyBytes(request)
      const bytes = await readBody(request, PIECE_BYTES, 'a piece of a recording')
      return reply(200, { ok: true, value: { bytes: await workspace.opened.takes.append(route.id, route.offset, bytes) } })
    }
    case 'film-upload': {
      onlyBytes(request)
      const { opened } = workspace
      if (opened.project.readOnly) throw new CodedError('read-only', { file: opened.project.path })
      const path = `${opened.folder}/${await gatherBytes(opened.folder, route.name, piecesOf(request), FOOTAGE_FOLDER)}`
      let added = false
      try {
        const value = await addFilms(workspace, [path])
        added = value.added.length > 0
        return reply(200, { ok: true, value })
      } finally {
        // What is here already, or is no film, leaves nothing behind.
        if (!added) await rm(path, { force: true })
      }
    }
    case 'sound-upload': {
      onlyBytes(request)
      return reply(200, { ok: true, value: await bringSound(workspace, route.name, route.paragraph, piecesOf(request)) })
    }
    case 'page': {
      const file = files.get(route.file)
      return found(
        file && (await fileAnswer(request, file.path, file.type, file.lasting ? 'max-age=31536000, immutable' : 'no-cache')),
        'page',
        route.file.slice(0, 80),
      )
    }
    case 'nowhere':
      return reply(route.status, { ok: false, error: refusalWith('not-allowed', { problem: route.problem }) })
  }
}

function found(response: Response | null | undefined, what: string, id: string): Response {
  if (!response) throw new CodedError('not-there', { what, id })
  return response
}

/// A foreign page's form cannot send this without asking first, and is never allowed to.
function onlyBytes(request: Request): void {
  if (request.headers.get('content-type') !== 'application/octet-stream')
    throw new CodedError('not-allowed', { problem: 'bytes are sent as application/octet-stream' })
}

function statusOf(error: unknown): number {
  if (!(error instanceof CodedError)) return 500
  switch (error.code) {
    case 'not-there':
    case 'file-missing':
    case 'no-project':
      return 404
    case 'still-reading':
    case 'take-offset':
    case 'footage-changed':
      return 409
    case 'too-large':
      return 413
    case 'not-allowed':
      return 415
    default:
      return 400
  }
}
