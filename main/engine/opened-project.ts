import { dirname } from 'node:path'
import type { Committed } from '../../app/contract/edit-calls'
import type { EngineEvent } from '../../app/contract/events'
import type { ProjectFacts } from '../../app/contract/project-calls'
import { settingsOf } from '../../app/edit/project-state'
import type { Edit, SentEdit } from '../../app/edit/edit'
import type { CodedError } from '../../app/errors/coded-error'
import type { Reading } from '../../app/measure/reading'
import type { Result } from '../../app/result'
import type { FfmpegTool } from '../media/find-ffmpeg'
import type { Committed as StoreCommitted, Project } from '../store/project'
import { cacheFolder } from './cache-folder'
import type { MendedRelease } from '../release/pending-release'
import { FilmDesk } from './film-desk'
import type { JobDesk } from './job-desk'
import { ReadingDesk } from './reading-desk'
import { TakeDesk } from './take-desk'

export interface OpenedOptions {
  readonly project: Project
  readonly tool: () => Promise<FfmpegTool>
  readonly jobs: JobDesk
  readonly tell: (event: EngineEvent) => void
  readonly onFault: (error: unknown, what: string) => string
  /// Versions that an earlier run had made and that were recorded at this opening.
  readonly mended: readonly MendedRelease[]
}

/// When nobody has edited for so long, the script document is written whole.
const IDLE_MS = 5000

/// The project that is open, with everything that is kept level with its edits.
export class OpenedProject {
  readonly project: Project
  readonly folder: string
  readonly cache: string
  readonly films: FilmDesk
  readonly readings: ReadingDesk
  readonly takes: TakeDesk
  readonly mended: readonly MendedRelease[]
  #idle: NodeJS.Timeout | null = null

  constructor(private readonly options: OpenedOptions) {
    const { project, tool, jobs, tell, onFault } = options
    this.project = project
    this.mended = options.mended
    this.folder = dirname(project.path)
    this.cache = cacheFolder(project.path)
    this.films = new FilmDesk({
      tool,
      folder: this.folder,
      cache: this.cache,
      jobs,
      tell: (film) => tell({ kind: 'film', film }),
      onTable: () => this.readings.noteFilm(),
      onFault,
    })
    this.readings = new ReadingDesk(
      project,
      (footage) => this.films.tableOf(footage),
      (news) => tell({ kind: 'readings', version: news.version, changed: news.changed.map(copyOf), gone: [...news.gone] }),
      (error) => void onFault(error, 'readings'),
    )
    this.takes = new TakeDesk(this.folder, (take) => tell({ kind: 'take', take }))
    this.films.level(project.state.tables.footage.list())
  }

  facts(): ProjectFacts {
    const { project } = this
    return { file: project.path, title: settingsOf(project.state).title, version: project.version, readOnly: project.readOnly }
  }

  /// Commits an edit. Throws its refusal.
  apply(edit: SentEdit): Committed {
    const before = this.project.version
    const committed = valueOf(this.project.apply(edit))
    if (this.project.version > before) this.#committed(committed)
    return this.#answer(committed, this.project.editsAfter(Math.min(edit.base, before)))
  }

  takeBack(kind: 'undo' | 'redo'): Committed {
    const committed = valueOf(this.project[kind]())
    if (committed) this.#committed(committed)
    return this.#answer(committed, committed ? [committed.edit] : [])
  }

  since(version: number): Committed {
    return this.#answer(null, this.project.editsAfter(version))
  }

  /// A new id for a record of a table: `f1`, `f2`, …; none of `taken`.
  freeId(table: 'footage', letter: string, taken: ReadonlySet<string>): string {
    for (let i = this.project.state.tables[table].size + 1; ; i++)
      if (!this.project.state.tables[table].has(`${letter}${i}`) && !taken.has(`${letter}${i}`)) return `${letter}${i}`
  }

  close(): void {
    if (this.#idle) clearTimeout(this.#idle)
    this.readings.close()
    this.films.close()
    if (!this.project.readOnly) this.project.snapshot()
    this.project.close()
  }

  #committed(committed: StoreCommitted): void {
    this.options.tell({ kind: 'edits', ...this.#answer(committed, [committed.edit]) })
    this.readings.noteEdit(committed.edit)
    if (committed.edit.diffs.some((diff) => diff.table === 'footage')) this.films.level(this.project.state.tables.footage.list())
    if (this.#idle) clearTimeout(this.#idle)
    this.#idle = setTimeout(() => this.project.snapshot(), IDLE_MS).unref()
  }

  #answer(committed: StoreCommitted | null, edits: readonly Edit[]): Committed {
    const { undo, redo } = this.project.next()
    return {
      version: this.project.version,
      edits: [...edits],
      done: committed && { kind: committed.kind, label: committed.label, place: committed.place },
      next: { undo: undo && { label: undo.label, place: undo.place }, redo: redo && { label: redo.label, place: redo.place } },
    }
  }
}

function valueOf<T>(result: Result<T, CodedError>): T {
  if (!result.ok) throw result.error
  return result.value
}

const copyOf = (reading: Reading): Reading => ({ ...reading })
