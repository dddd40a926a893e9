import { stat } from 'node:fs/promises'
import { join, resolve } from 'node:path'
import { z } from 'zod'
import type { FilmFacts, FilmTable, Piece } from '../../app/contract/footage-calls'
import { Piece as PieceSchema } from '../../app/contract/footage-calls'
import { refusalOf } from '../../app/contract/refusal'
import { CodedError } from '../../app/errors/coded-error'
import type { Footage } from '../../app/project/film'
import type { FrameTable } from '../../app/time/frame-table'
import { FilmLibrary, type LibraryFilm } from '../media/film-library'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { knownFilm } from '../media/known-film'
import { scanPictures } from '../media/picture-scan'
import { factsOfFilm, factsOfHead, unknownFilm, warningsOf } from './film-facts'
import { FilmIdentities } from './film-identities'
import { piecesOf } from './film-pieces'
import type { JobDesk } from './job-desk'
import { readKept, writeKept } from './kept-json'
import { LikenessDesk } from './likeness-desk'
import { isMade, makeStandIn, standInFile } from './stand-in'

export interface FilmDeskOptions {
  readonly tool: () => Promise<FfmpegTool>
  readonly folder: string
  readonly cache: string
  readonly jobs: JobDesk
  readonly tell: (film: FilmFacts) => void
  /// Frame times became known, or were lost.
  readonly onTable: () => void
  readonly onFault: (error: unknown, what: string) => string
}

interface Entry {
  readonly footage: Footage
  facts: FilmFacts
  film: LibraryFilm | null
  standInJob: string | null
  pieces: readonly Piece[] | null
  piecesJob: string | null
  readonly stop: AbortController
}

/// The films of the open project: what is known of each, and what is made of it on demand.
export class FilmDesk {
  readonly #entries = new Map<string, Entry>()
  readonly #likeness: LikenessDesk
  /// The project's films in their order.
  #order: readonly string[] = []
  readonly #identities: FilmIdentities

  constructor(private readonly options: FilmDeskOptions) {
    this.#likeness = new LikenessDesk({
      tool: options.tool,
      cache: options.cache,
      jobs: options.jobs,
      tell: (id, shared) => {
        const entry = this.#entries.get(id)
        if (entry && JSON.stringify(entry.facts.shared) !== JSON.stringify(shared)) this.#learn(entry, { shared: [...shared] })
      },
    })
    this.#identities = new FilmIdentities(options.cache, options.onFault)
  }

  /// Brings the desk level with the project's footage: opens films that are new or lie elsewhere now, lets
  /// go of those that are gone.
  level(footage: readonly Footage[]): void {
    const there = new Map(footage.map((f) => [f.id, f]))
    for (const [id, entry] of this.#entries) {
      if (there.get(id)?.file === entry.footage.file) continue
      entry.stop.abort()
      this.#entries.delete(id)
    }
    for (const each of footage) if (!this.#entries.has(each.id)) this.#begin(each)
    const order = footage.map(({ id }) => id)
    if (order.join() === this.#order.join()) return
    this.#order = order
    this.#levelLikeness()
  }

  /// Opens a film again that was not there, or not the right one.
  reopen(footage: Footage): void {
    this.#entries.get(footage.id)?.stop.abort()
    this.#begin(footage)
  }

  facts(): FilmFacts[] {
    return [...this.#entries.values()].map(({ facts }) => facts)
  }

  factsOf(id: string): FilmFacts {
    return this.#entry(id).facts
  }

  tableOf(id: string): FrameTable | null {
    return this.#entries.get(id)?.film?.table ?? null
  }

  /// The opened film. Throws `not-there`, `still-reading`, or why it could not be opened.
  film(id: string): LibraryFilm {
    const { film, facts, footage } = this.#entry(id)
    if (film) return film
    throw facts.refusal
      ? new CodedError(facts.refusal.code, facts.refusal.parameters as never)
      : new CodedError('still-reading', { file: footage.file })
  }

  filePath(id: string): string {
    return resolve(this.options.folder, this.#entry(id).footage.file)
  }

  table(id: string): FilmTable {
    const { table, head, keyframes } = this.film(id)
    return {
      id,
      base: table.base,
      pts: [...table.pts],
      end: table.end,
      rate: table.rate,
      picture: { width: head.width, height: head.height },
      keyframes: [...keyframes],
    }
  }

  async identityOf(id: string): Promise<string | null> {
    return this.#entries.get(id)?.film?.identity ?? (await this.#identities.of(id))
  }

  /// Ids of films that were ever opened here. What is in such a film is remembered under its id, also when it was taken away:
  /// another film under that id would be taken for one that changed.
  seen(): Promise<ReadonlySet<string>> {
    return this.#identities.films()
  }

  standIn(id: string): { state: 'making' | 'ready'; job: string | null } {
    const entry = this.#entry(id)
    if (entry.facts.proxy === 'ready') return { state: 'ready', job: null }
    const film = this.film(id)
    entry.standInJob ??= this.options.jobs.start(
      { kind: 'proxy', label: `making ${entry.footage.file} small`, footage: id },
      async ({ signal, report }) => {
        try {
          await makeStandIn(await this.options.tool(), film, standInFile(this.options.cache, film.identity), {
            signal: AbortSignal.any([signal, entry.stop.signal]),
            onProgress: report,
          })
          this.#learn(entry, { proxy: 'ready' })
        } catch (error) {
          this.#learn(entry, { proxy: 'none' })
          throw error
        } finally {
          entry.standInJob = null
        }
      },
    ).id
    if (entry.facts.proxy !== 'making') this.#learn(entry, { proxy: 'making' })
    return { state: 'making', job: entry.standInJob }
  }

  standInPath(id: string): string | null {
    const { facts, film } = this.#entry(id)
    return facts.proxy === 'ready' && film ? standInFile(this.options.cache, film.identity) : null
  }

  pieces(id: string): { state: 'reading' | 'ready'; job: string | null; pieces: Piece[] } {
    const entry = this.#entry(id)
    if (entry.pieces) return { state: 'ready', job: null, pieces: [...entry.pieces] }
    const film = this.film(id)
    entry.piecesJob ??= this.options.jobs.start(
      { kind: 'pieces', label: `looking for cuts in ${entry.footage.file}`, footage: id },
      async ({ signal, report }) => {
        try {
          const kept = join(this.options.cache, 'pieces', `${film.identity}.json`)
          const known = await readKept(kept, z.array(PieceSchema))
          if (known) entry.pieces = known
          else {
            const scan = await scanPictures(await this.options.tool(), film, {
              signal: AbortSignal.any([signal, entry.stop.signal]),
              onProgress: report,
            })
            entry.pieces = piecesOf(film, scan)
            await writeKept(kept, entry.pieces)
            this.#learn(entry, { warnings: warningsOf(film, scan) })
          }
        } finally {
          entry.piecesJob = null
        }
      },
    ).id
    return { state: 'reading', job: entry.piecesJob, pieces: [] }
  }

  close(): void {
    this.#likeness.close()
    for (const { stop } of this.#entries.values()) stop.abort()
    this.#entries.clear()
  }

  #entry(id: string): Entry {
    const entry = this.#entries.get(id)
    if (!entry) throw new CodedError('not-there', { what: 'film', id })
    return entry
  }

  #begin(footage: Footage): void {
    const entry: Entry = {
      footage,
      facts: unknownFilm(footage),
      film: null,
      standInJob: null,
      pieces: null,
      piecesJob: null,
      stop: new AbortController(),
    }
    this.#entries.set(footage.id, entry)
    void this.#open(entry).catch((error: unknown) => {
      if (entry.stop.signal.aborted) return
      const refusal =
        error instanceof CodedError
          ? refusalOf(error)
          : refusalOf(new CodedError('unexpected', { trace: this.options.onFault(error, footage.file) }))
      const state = refusal.code === 'file-missing' ? 'missing' : refusal.code === 'footage-changed' ? 'changed' : 'unreadable'
      this.#learn(entry, { state, refusal, job: null })
    })
  }

  async #open(entry: Entry): Promise<void> {
    const { folder, cache, jobs } = this.options
    const { footage, stop } = entry
    const path = resolve(folder, footage.file)
    const tool = await this.options.tool()
    const { head, identity } = await knownFilm(tool, path, cache, { signal: stop.signal })
    const before = await this.#identities.of(footage.id)
    if (before !== null && before !== identity) throw new CodedError('footage-changed', { file: footage.file })
    this.#learn(entry, { ...factsOfHead(head), state: 'reading' })
    const library = new FilmLibrary(tool, folder, cache, 'free', stop.signal)
    const read = async (report?: (fraction: number) => void): Promise<LibraryFilm> => library.film(footage, report)
    const known = (await stat(join(cache, 'frames', `${identity}.json`)).catch(() => null)) !== null
    let film: LibraryFilm
    if (known) film = await read()
    else {
      const job = jobs.start({ kind: 'read-film', label: `reading ${footage.file}`, footage: footage.id }, async ({ report, signal }) => {
        signal.addEventListener('abort', () => stop.abort(), { once: true })
        return read(report)
      })
      this.#learn(entry, { job: job.id })
      const outcome = await job.outcome
      if (outcome.state === 'failed') throw outcome.error
      if (outcome.state === 'cancelled') throw new CodedError('cancelled', { what: `reading ${footage.file}` })
      film = outcome.value
    }
    if (this.#entries.get(footage.id) !== entry) return
    entry.film = film
    await this.#identities.remember(footage.id, film.identity)
    this.#learn(entry, {
      ...factsOfFilm(film, tool.has),
      state: 'ready',
      job: null,
      proxy: (await isMade(standInFile(cache, film.identity))) ? 'ready' : 'none',
    })
    this.options.onTable()
    this.#levelLikeness()
  }

  #levelLikeness(): void {
    const films = this.#order.flatMap((id) => {
      const entry = this.#entries.get(id)
      return entry?.film ? [{ id, file: entry.footage.file, madeOf: entry.footage.fields?.file ?? null, film: entry.film }] : []
    })
    void this.#likeness.level(films)
  }

  #learn(entry: Entry, news: Partial<FilmFacts>): void {
    entry.facts = { ...entry.facts, ...news }
    if (this.#entries.get(entry.footage.id) === entry) this.options.tell(entry.facts)
  }
}
