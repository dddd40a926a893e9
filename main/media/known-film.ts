import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { FilmHead } from '../../app/project/film-head'
import { writeWhole } from '../whole-file'
import type { FfmpegTool } from './find-ffmpeg'
import { sampledIdentity } from './identity'
import { openFilm } from './probe'

/// A film's head with what its content is known by.
export interface KnownFilm {
  readonly head: FilmHead
  readonly identity: string
}

interface KeptHead {
  readonly version: 1
  /// The ffmpeg that read it: another one may read it otherwise.
  readonly tool: string
  readonly head: FilmHead
}

/// A film's head: as it is kept in the cache folder under what its content is known by, else as ffprobe reads it, which
/// takes a process and up to some hundred milliseconds of a project's opening. Rejects with all that `openFilm` and
/// `sampledIdentity` reject with.
export async function knownFilm(
  tool: FfmpegTool,
  path: string,
  cache: string,
  options: { readonly signal?: AbortSignal | undefined } = {},
): Promise<KnownFilm> {
  // A file that cannot be read is refused by `openFilm`, which says why.
  const before = await sampledIdentity(path).catch(() => null)
  const kept = before === null ? null : await readHead(fileOf(cache, before), tool)
  if (before !== null && kept) return { head: { ...kept, path }, identity: before }
  const head = await openFilm(tool, path, options)
  const identity = await sampledIdentity(path)
  // Without it the film is asked again, no more.
  if (identity === before) await writeHead(fileOf(cache, identity), tool, head).catch(() => undefined)
  return { head, identity }
}

const fileOf = (cache: string, identity: string): string => join(cache, 'heads', `${identity}.json`)

async function readHead(file: string, tool: FfmpegTool): Promise<FilmHead | null> {
  try {
    const kept = JSON.parse(await readFile(file, 'utf8')) as KeptHead
    return kept.version === 1 && kept.tool === tool.identity ? kept.head : null
  } catch {
    return null
  }
}

async function writeHead(file: string, tool: FfmpegTool, head: FilmHead): Promise<void> {
  const kept: KeptHead = { version: 1, tool: tool.identity, head }
  await writeWhole(file, JSON.stringify(kept))
}
