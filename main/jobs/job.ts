import { CodedError } from '../../app/errors/coded-error'

/// Long work with progress and cancel. Cancel is a state, not an error.

export type JobState = 'queued' | 'running' | 'done' | 'failed' | 'cancelled'

/// What the outside sees of a job, at one moment.
export interface JobView {
  readonly id: string
  readonly label: string
  readonly state: JobState
  /// 0–1, never falling.
  readonly progress: number
  readonly error: { readonly code: string; readonly message: string } | null
}

export interface JobContext {
  readonly signal: AbortSignal
  readonly report: (fraction: number) => void
}

export interface Job<T> {
  readonly id: string
  readonly view: () => JobView
  readonly cancel: () => void
  /// What came of it. Never rejects.
  readonly outcome: Promise<JobOutcome<T>>
}

export type JobOutcome<T> =
  { readonly state: 'done'; readonly value: T } | { readonly state: 'failed'; readonly error: unknown } | { readonly state: 'cancelled' }

export type JobListener = (view: JobView) => void

interface Entry {
  view: JobView
  readonly abort: AbortController
  readonly start: () => void
  readonly settleCancelled: () => void
}

/// Finished jobs that are remembered, so that a late asker still learns how they ended.
const REMEMBERED = 100
/// Smallest step of progress that listeners are told of.
const STEP = 0.002

/// Runs jobs in order of arrival, at most `atOnce` of them together.
export class JobQueue {
  private readonly entries = new Map<string, Entry>()
  private readonly waiting: Entry[] = []
  private readonly listeners = new Set<JobListener>()
  private running = 0

  constructor(
    private readonly newId: () => string,
    private readonly atOnce = 1,
  ) {}

  /// Adds work to the queue. The work must end soon after its signal aborts.
  add<T>(label: string, work: (context: JobContext) => Promise<T>): Job<T> {
    const id = this.newId()
    if (this.entries.has(id)) throw new Error(`job id ${id} is taken`)
    const abort = new AbortController()
    let settle!: (outcome: JobOutcome<T>) => void
    const outcome = new Promise<JobOutcome<T>>((resolve) => (settle = resolve))
    const finish = (result: JobOutcome<T>): void => {
      this.change(entry, {
        state: result.state,
        ...(result.state === 'done' ? { progress: 1 } : {}),
        ...(result.state === 'failed' ? { error: describe(result.error) } : {}),
      })
      settle(result)
      this.forget()
    }
    const run = async (): Promise<void> => {
      this.running++
      this.change(entry, { state: 'running' })
      const report = (fraction: number): void => {
        if (entry.view.state !== 'running' || !(fraction > entry.view.progress)) return
        if (fraction >= 1 || fraction - entry.view.progress >= STEP) this.change(entry, { progress: Math.min(1, fraction) })
      }
      const result = await (async () => work({ signal: abort.signal, report }))().then(
        (value): JobOutcome<T> => ({ state: 'done', value }),
        (error: unknown): JobOutcome<T> => (abort.signal.aborted ? { state: 'cancelled' } : { state: 'failed', error }),
      )
      this.running--
      finish(result)
      this.next()
    }
    const entry: Entry = {
      view: { id, label, state: 'queued', progress: 0, error: null },
      abort,
      start: () => void run(),
      settleCancelled: () => finish({ state: 'cancelled' }),
    }
    this.entries.set(id, entry)
    this.waiting.push(entry)
    this.tell(entry.view)
    queueMicrotask(() => this.next())
    return { id, view: () => entry.view, cancel: () => this.cancel(id), outcome }
  }

  /// Cancels a queued job at once, a running one as soon as it heeds its signal. False for a job that
  /// is unknown or has ended.
  cancel(id: string): boolean {
    const entry = this.entries.get(id)
    if (!entry || (entry.view.state !== 'queued' && entry.view.state !== 'running')) return false
    entry.abort.abort()
    const at = this.waiting.indexOf(entry)
    if (at >= 0) {
      this.waiting.splice(at, 1)
      entry.settleCancelled()
    }
    return true
  }

  cancelAll(): void {
    for (const id of [...this.entries.keys()]) this.cancel(id)
  }

  view(id: string): JobView | null {
    return this.entries.get(id)?.view ?? null
  }

  /// All known jobs, oldest first.
  list(): readonly JobView[] {
    return [...this.entries.values()].map((entry) => entry.view)
  }

  /// Tells of every change from now on; returns what ends it.
  listen(listener: JobListener): () => void {
    this.listeners.add(listener)
    return () => void this.listeners.delete(listener)
  }

  private next(): void {
    while (this.running < this.atOnce) {
      const entry = this.waiting.shift()
      if (!entry) return
      entry.start()
    }
  }

  private change(entry: Entry, part: Partial<JobView>): void {
    entry.view = { ...entry.view, ...part }
    this.tell(entry.view)
  }

  private tell(view: JobView): void {
    for (const listener of this.listeners) listener(view)
  }

  private forget(): void {
    const ended = [...this.entries.values()].filter((entry) => entry.view.state !== 'queued' && entry.view.state !== 'running')
    for (const entry of ended.slice(0, Math.max(0, ended.length - REMEMBERED))) this.entries.delete(entry.view.id)
  }
}

function describe(error: unknown): { readonly code: string; readonly message: string } {
  if (error instanceof CodedError) return { code: error.code, message: error.message }
  return { code: 'unexpected', message: error instanceof Error ? error.message : String(error) }
}
