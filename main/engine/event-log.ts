import type { EngineEvent, EventPage, SequencedEvent } from '../../app/contract/events'

const KEPT = 2000

/// What happened, in order, for windows that ask. Only the latest `kept` events are there; who asks
/// for older ones is told that some are lost.
export class EventLog {
  readonly #events: SequencedEvent[] = []
  readonly #waiting = new Set<() => void>()
  #last = 0

  constructor(
    /// Names this run of the engine: numbers of another run mean nothing here.
    readonly engine: string,
    private readonly kept = KEPT,
  ) {}

  /// Number of the latest event; 0 before the first.
  get last(): number {
    return this.#last
  }

  tell(event: EngineEvent): void {
    this.#events.push({ ...event, number: ++this.#last })
    if (this.#events.length > this.kept) this.#events.splice(0, this.#events.length - this.kept)
    for (const wake of [...this.#waiting]) wake()
  }

  /// The events after number `after`, at once where there are any, else as soon as there is one, at
  /// latest after `patience_ms` or when `signal` aborts (then none).
  async after(engine: string, after: number, patience_ms: number, signal?: AbortSignal): Promise<EventPage> {
    const page = this.#page(engine, after)
    if (page.lost || page.events.length > 0 || patience_ms <= 0 || signal?.aborted) return page
    await new Promise<void>((resolve) => {
      const done = (): void => {
        clearTimeout(timer)
        this.#waiting.delete(done)
        signal?.removeEventListener('abort', done)
        resolve()
      }
      const timer = setTimeout(done, patience_ms)
      this.#waiting.add(done)
      signal?.addEventListener('abort', done, { once: true })
    })
    return this.#page(engine, after)
  }

  /// Lets everyone who waits go, with what there is.
  release(): void {
    for (const wake of [...this.#waiting]) wake()
  }

  #page(engine: string, after: number): EventPage {
    const first = this.#last - this.#events.length
    if (engine !== this.engine || after > this.#last || after < first)
      return { engine: this.engine, events: [], next: this.#last, lost: true }
    return { engine: this.engine, events: this.#events.slice(after - first), next: this.#last, lost: false }
  }
}
