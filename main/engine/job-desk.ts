import { statSync } from 'node:fs'
import { refusalOf, refusalWith, type Refusal } from '../../app/contract/refusal'
import type { Job } from '../../app/contract/work-calls'
import { CodedError } from '../../app/errors/coded-error'
import { fileTag } from './file-answer'
import { JobQueue, type JobContext, type JobOutcome, type JobView } from '../jobs/job'

/// What a job is about, for people.
export interface JobAbout {
  readonly kind: Job['kind']
  readonly label: string
  readonly footage?: string
}

export interface StartedJob<T> {
  readonly id: string
  readonly outcome: Promise<JobOutcome<T>>
}

export interface JobDeskOptions {
  readonly newId: () => string
  readonly now: () => number
  readonly tell: (job: Job) => void
  readonly onFault: (error: unknown, what: string) => string
}

/// A film that a job made: where it lies, and what tells it from another file at that place.
export interface MadeFilm {
  readonly path: string
  readonly tag: string
}

interface Known {
  job: Job
  film: MadeFilm | null
  started: number
  told: number
}

/// Progress is told of this often at most.
const TELL_EVERY_MS = 200
const REMEMBERED = 200

/// The engine's long work: renders in one queue, reading of films in another, and what nobody waits for in a third, so
/// that none waits for another.
export class JobDesk {
  readonly #queues: { readonly render: JobQueue; readonly other: JobQueue; readonly quiet: JobQueue }
  readonly #known = new Map<string, Known>()
  readonly #outcomes = new Set<Promise<unknown>>()

  constructor(private readonly options: JobDeskOptions) {
    this.#queues = { render: new JobQueue(options.newId), other: new JobQueue(options.newId), quiet: new JobQueue(options.newId) }
    for (const queue of Object.values(this.#queues)) queue.listen((view) => this.#follow(view))
  }

  /// `fileOf` names the finished file, where there is one; `filmOf` the film that may be looked at by the job's id.
  start<T>(
    about: JobAbout,
    work: (context: JobContext) => Promise<T>,
    fileOf: (value: T) => string | null = () => null,
    filmOf: (value: T) => string | null = () => null,
  ): StartedJob<T> {
    const queue =
      about.kind === 'render' || about.kind === 'bundle' || about.kind === 'release'
        ? this.#queues.render
        : about.kind === 'likeness'
          ? this.#queues.quiet
          : this.#queues.other
    const { id, outcome } = queue.add(about.label, work)
    const job: Job = {
      id,
      kind: about.kind,
      label: about.label,
      state: 'waiting',
      progress: 0,
      left_s: null,
      footage: about.footage ?? null,
      file: null,
      refusal: null,
    }
    this.#known.set(id, { job, film: null, started: this.options.now(), told: 0 })
    this.#tell(id)
    this.#outcomes.add(outcome)
    void outcome.finally(() => this.#outcomes.delete(outcome))
    void outcome.then((result) => {
      const known = this.#known.get(id)
      if (known && result.state === 'done') known.film = madeFilm(filmOf(result.value))
      this.#end(
        id,
        result.state,
        result.state === 'done' ? fileOf(result.value) : null,
        result.state === 'failed' ? this.#refusal(result.error, about.label) : null,
      )
    })
    return { id, outcome }
  }

  list(): Job[] {
    return [...this.#known.values()].map(({ job }) => job)
  }

  get(id: string): Job | null {
    return this.#known.get(id)?.job ?? null
  }

  /// The film that a finished job made; null where it made none.
  film(id: string): MadeFilm | null {
    return this.#known.get(id)?.film ?? null
  }

  cancel(id: string): boolean {
    return Object.values(this.#queues).some((queue) => queue.cancel(id))
  }

  cancelAll(): void {
    for (const queue of Object.values(this.#queues)) queue.cancelAll()
  }

  /// When every job has ended.
  async settled(): Promise<void> {
    await Promise.all(this.#outcomes)
  }

  /// Labels of the work that a person would miss if the project were closed now.
  atWork(): string[] {
    return this.list()
      .filter(
        (job) =>
          ['render', 'bundle', 'release', 'gather', 'fields'].includes(job.kind) && (job.state === 'waiting' || job.state === 'running'),
      )
      .map((job) => job.label)
  }

  #follow(view: JobView): void {
    const known = this.#known.get(view.id)
    if (!known || view.state !== 'running') return
    const now = this.options.now()
    if (known.job.state !== 'running') known.started = now
    const elapsed = (now - known.started) / 1000
    const left_s = view.progress > 0.01 && elapsed > 1 ? (elapsed * (1 - view.progress)) / view.progress : null
    known.job = { ...known.job, state: 'running', progress: view.progress, left_s }
    if (now - known.told >= TELL_EVERY_MS) this.#tell(view.id)
  }

  #end(id: string, state: 'done' | 'failed' | 'cancelled', file: string | null, refusal: Refusal | null): void {
    const known = this.#known.get(id)
    if (!known) return
    known.job = { ...known.job, state, file, refusal, left_s: null, progress: state === 'done' ? 1 : known.job.progress }
    this.#tell(id)
    const ended = [...this.#known.values()].filter(({ job }) => job.state !== 'waiting' && job.state !== 'running')
    for (const { job } of ended.slice(0, Math.max(0, ended.length - REMEMBERED))) this.#known.delete(job.id)
  }

  #tell(id: string): void {
    const known = this.#known.get(id)
    if (!known) return
    known.told = this.options.now()
    this.options.tell(known.job)
  }

  #refusal(error: unknown, what: string): Refusal {
    if (error instanceof CodedError) return refusalOf(error)
    return refusalWith('unexpected', { trace: this.options.onFault(error, what) })
  }
}

function madeFilm(path: string | null): MadeFilm | null {
  const facts = path === null ? undefined : statSync(path, { bigint: true, throwIfNoEntry: false })
  return path === null || !facts ? null : { path, tag: fileTag(facts) }
}
