import { readFile } from 'node:fs/promises'
import { join, resolve } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import type { Film, SeekKind } from '../../app/project/scanned-film'
import type { FrameTable } from '../../app/time/frame-table'
import { writeWhole } from '../whole-file'
import type { FfmpegTool } from './find-ffmpeg'
import { scanFrames } from './frame-scan'
import { insideFolder } from './inside-folder'
import { knownFilm } from './known-film'

/// The films of one project, each opened once. Frame times are kept in the cache folder under what the
/// film's content is known by, so a long film is read once and not again at every run.
export class FilmLibrary {
  readonly #films = new Map<string, Promise<LibraryFilm>>()

  constructor(
    readonly tool: FfmpegTool,
    /// Folder that the footage's names are relative to.
    readonly folder: string,
    readonly cache: string,
    /// `confined`: nothing outside the folder is opened (a document from elsewhere).
    /// `free`: the person chose the files themselves (a project).
    readonly reach: 'confined' | 'free',
    readonly signal?: AbortSignal,
  ) {}

  /// Opens a footage file named relative to the project's folder. Rejects with CodedError.
  film(footage: { readonly id: string; readonly file: string }, onProgress?: (fraction: number) => void): Promise<LibraryFilm> {
    const known = this.#films.get(footage.id)
    if (known) return known
    const opened = this.#open(footage, onProgress)
    opened.catch(() => this.#films.delete(footage.id))
    this.#films.set(footage.id, opened)
    return opened
  }

  async #open(footage: { readonly id: string; readonly file: string }, onProgress?: (fraction: number) => void): Promise<LibraryFilm> {
    const path =
      this.reach === 'confined'
        ? await insideFolder(this.folder, footage.file, `footage ${footage.id}`)
        : resolve(this.folder, footage.file)
    const { head, identity } = await knownFilm(this.tool, path, this.cache, { signal: this.signal })
    if (head.oddMatrix)
      throw new CodedError('not-a-video', { file: path, problem: 'it is stored mirrored or turned by no right angle; convert it first' })
    const kept = join(this.cache, 'frames', `${identity}.json`)
    const times = await readTimes(kept)
    if (times) return { path, head, identity, ...times }
    const scan = await scanFrames(this.tool, path, { head, signal: this.signal, onProgress })
    const read = { table: scan.table, keyframes: scan.keyframes, seek: scan.seek }
    await writeTimes(kept, read)
    return { path, head, identity, ...read }
  }
}

export interface LibraryFilm extends Film {
  /// What the file's content is known by.
  readonly identity: string
}

type Times = Pick<Film, 'table' | 'keyframes' | 'seek'>

interface KeptTimes {
  readonly version: 1
  readonly table: Omit<FrameTable, 'pts'> & { readonly pts: readonly number[] }
  readonly keyframes: readonly number[]
  readonly seek: SeekKind
}

async function readTimes(path: string): Promise<Times | null> {
  try {
    const kept = JSON.parse(await readFile(path, 'utf8')) as KeptTimes
    if (kept.version !== 1) return null
    return { table: { ...kept.table, pts: Float64Array.from(kept.table.pts) }, keyframes: Int32Array.from(kept.keyframes), seek: kept.seek }
  } catch {
    return null
  }
}

async function writeTimes(path: string, { table, keyframes, seek }: Times): Promise<void> {
  const kept: KeptTimes = { version: 1, table: { ...table, pts: [...table.pts] }, keyframes: [...keyframes], seek }
  await writeWhole(path, JSON.stringify(kept))
}
