import type { FromSpelling, ToSpelling } from './spelling-worker'

/// What is known of words: asked of a worker once each, while the script is open.
export class Spelling {
  #worker: Worker | null = null
  readonly #known = new Map<string, boolean>()
  readonly #asked = new Set<string>()
  readonly #waiting = new Map<string, ((words: readonly string[]) => void)[]>()

  /// `onNews`: more words are known than before.
  constructor(private readonly onNews: () => void) {}

  /// False: in no list. Undefined: not known yet; asked for by this.
  knows(word: string): boolean | undefined {
    const known = this.#known.get(word)
    if (known === undefined) this.#asked.add(word)
    return known
  }

  /// Sends what was asked for.
  send(): void {
    const look = [...this.#asked].filter((word) => !this.#known.has(word))
    this.#asked.clear()
    if (look.length > 0) this.#tell({ look })
  }

  /// Words that may have been meant, the likeliest first.
  suggest(word: string): Promise<readonly string[]> {
    return new Promise((done) => {
      this.#waiting.set(word, [...(this.#waiting.get(word) ?? []), done])
      this.#tell({ suggest: word })
    })
  }

  end(): void {
    this.#worker?.terminate()
    this.#worker = null
  }

  #tell(what: ToSpelling): void {
    this.#worker ??= this.#start()
    this.#worker.postMessage(what)
  }

  #start(): Worker {
    const worker = new Worker(new URL('./spelling-worker.ts', import.meta.url), { type: 'module' })
    worker.onmessage = ({ data }: MessageEvent<FromSpelling>): void => {
      if ('suggestions' in data) {
        for (const done of this.#waiting.get(data.for) ?? []) done(data.suggestions)
        this.#waiting.delete(data.for)
        return
      }
      const unknown = new Set(data.unknown)
      for (const word of data.of) this.#known.set(word, !unknown.has(word))
      this.onNews()
    }
    return worker
  }
}
