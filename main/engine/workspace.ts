import { randomUUID } from 'node:crypto'
import { hostname } from 'node:os'
import { dirname, resolve } from 'node:path'
import type { ProjectFacts } from '../../app/contract/project-calls'
import { settingsOf } from '../../app/edit/project-state'
import { CodedError } from '../../app/errors/coded-error'
import { findFfmpeg, type FfmpegTool } from '../media/find-ffmpeg'
import { mendReleases } from '../release/pending-release'
import { openProject } from '../store/open-project'
import { EventLog } from './event-log'
import { JobDesk } from './job-desk'
import { OpenedProject } from './opened-project'
import { RecentProjects } from './recent-projects'

/// One line of the engine's log.
export interface LogLine {
  readonly what: 'fault' | 'refused' | 'opened' | 'closed'
  readonly [detail: string]: unknown
}

export interface WorkspaceOptions {
  readonly stateFolder: string
  readonly log: (line: LogLine) => void
  readonly now?: () => Date
  readonly newId?: () => string
  readonly tool?: () => Promise<FfmpegTool>
  /// Told of the project that is open from now on; null: none.
  readonly onProject?: (project: ProjectFacts | null) => void
}

/// What one engine works on: at most one project, its jobs, and what windows are told.
export class Workspace {
  readonly events: EventLog
  readonly jobs: JobDesk
  readonly recent: RecentProjects
  readonly tool: () => Promise<FfmpegTool>
  readonly newId: () => string
  #opened: OpenedProject | null = null
  readonly #now: () => Date

  constructor(private readonly options: WorkspaceOptions) {
    this.newId = options.newId ?? randomUUID
    this.#now = options.now ?? ((): Date => new Date())
    this.tool = options.tool ?? findFfmpeg
    this.events = new EventLog(this.newId())
    this.recent = new RecentProjects(options.stateFolder)
    this.jobs = new JobDesk({
      newId: this.newId,
      now: () => this.#now().getTime(),
      tell: (job) => this.events.tell({ kind: 'job', job }),
      onFault: (error, what) => this.fault(error, what),
    })
  }

  now(): Date {
    return this.#now()
  }

  /// The open project. Throws `no-project`.
  get opened(): OpenedProject {
    if (!this.#opened) throw new CodedError('no-project', {})
    return this.#opened
  }

  get maybeOpened(): OpenedProject | null {
    return this.#opened
  }

  /// Opens a project in place of the present one. Where another program edits it, it opens to read only.
  open(file: string, readOnly = false): ProjectFacts {
    this.#mayLeave()
    const path = resolve(file)
    if (this.#opened?.project.path === path && this.#opened.project.readOnly === readOnly) return this.#opened.facts()
    if (this.#opened?.project.path === path) this.#leave()
    let result = openProject(path, { readOnly, owner: `Claimframe on ${hostname()}, process ${process.pid}` })
    if (!result.ok && result.error.code === 'project-locked') result = openProject(path, { readOnly: true })
    if (!result.ok) throw result.error
    this.#leave()
    const project = result.value
    const mended = project.readOnly ? [] : mendReleases(project, dirname(path), this.newId)
    this.#opened = new OpenedProject({
      project,
      mended,
      tool: this.tool,
      jobs: this.jobs,
      tell: (event) => this.events.tell(event),
      onFault: (error, what) => this.fault(error, what),
    })
    this.recent.remember(path, settingsOf(project.state).title, this.#now())
    const facts = this.#opened.facts()
    this.options.onProject?.(facts)
    this.events.tell({ kind: 'project', project: facts })
    this.options.log({ what: 'opened', readOnly: facts.readOnly })
    return facts
  }

  close(): void {
    this.#mayLeave()
    if (!this.#opened) return
    this.#leave()
    this.events.tell({ kind: 'project', project: null })
    this.options.log({ what: 'closed' })
  }

  /// Ends everything, jobs as well; what they finished is kept for the next run.
  async end(): Promise<void> {
    this.jobs.cancelAll()
    await this.jobs.settled()
    this.#leave()
    this.events.release()
  }

  /// Writes down what happened unexpectedly; answers the id under which the log has it.
  fault(error: unknown, at: string): string {
    const trace = randomUUID().slice(0, 8)
    this.options.log({ what: 'fault', trace, at, error: error instanceof Error ? (error.stack ?? error.message) : String(error) })
    return trace
  }

  #mayLeave(): void {
    const jobs = this.#opened ? this.jobs.atWork() : []
    if (jobs.length > 0) throw new CodedError('jobs-running', { jobs })
  }

  #leave(): void {
    if (!this.#opened) return
    this.#opened.close()
    this.#opened = null
    this.options.onProject?.(null)
  }
}
