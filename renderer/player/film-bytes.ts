import { CustomSource } from 'mediabunny'

/// The bytes of a film file, asked of the engine in pages of fixed size. A question has an end: an open one has the engine
/// send on until it is broken off, ten megabytes and more at every jump.

const PAGE_BYTES = 256 * 1024
/// The packets between two key frames of most films; more is read again from the engine beside us.
const KEPT_PAGES = 32
const TRIES = 3

/// Bytes `from` (included) to `to` (excluded) of the file, or as many as there are, and the size of the whole file.
export type AskBytes = (from: number, to: number) => Promise<{ readonly bytes: Uint8Array; readonly size: number }>

export class FilmBytes {
  readonly #pages = new Map<number, Promise<Uint8Array>>()
  #size: Promise<number> | null = null
  #last = -1

  constructor(private readonly ask: AskBytes) {}

  /// The size of the file. Comes with its first page, with which reading begins.
  size(): Promise<number> {
    if (this.#size) return this.#size
    const size = this.#fetch(0).then(({ bytes, size }) => {
      this.#keep(0, Promise.resolve(bytes))
      return size
    })
    size.catch(() => (this.#size = null))
    return (this.#size = size)
  }

  /// Bytes `from` (included) to `to` (excluded). Rejects where the file has fewer.
  async read(from: number, to: number): Promise<Uint8Array> {
    const first = Math.floor(from / PAGE_BYTES)
    const last = Math.floor((to - 1) / PAGE_BYTES)
    const pages = Array.from({ length: last - first + 1 }, (_, i) => this.#page(first + i))
    // Read on in order, a film is asked for a page ahead.
    const onward = last === this.#last + 1
    this.#last = last
    if (onward && (last + 1) * PAGE_BYTES < (await this.size())) void this.#page(last + 1).catch(() => undefined)
    if (pages[0] && pages.length === 1) return whole(await pages[0], from % PAGE_BYTES, to - from)
    const bytes = new Uint8Array(to - from)
    for (const [i, page] of (await Promise.all(pages)).entries()) {
      const begins = (first + i) * PAGE_BYTES
      bytes.set(
        whole(page, Math.max(0, from - begins), Math.min(PAGE_BYTES, to - begins) - Math.max(0, from - begins)),
        Math.max(0, begins - from),
      )
    }
    return bytes
  }

  #page(index: number): Promise<Uint8Array> {
    const page = this.#pages.get(index) ?? this.#fetch(index).then(({ bytes }) => bytes)
    this.#keep(index, page)
    return page
  }

  #keep(index: number, page: Promise<Uint8Array>): void {
    this.#pages.delete(index)
    this.#pages.set(index, page)
    page.catch(() => this.#pages.get(index) === page && this.#pages.delete(index))
    for (const oldest of this.#pages.keys()) {
      if (this.#pages.size <= KEPT_PAGES) return
      this.#pages.delete(oldest)
    }
  }

  async #fetch(index: number): ReturnType<AskBytes> {
    for (let tries = 1; ; tries++) {
      try {
        return await this.ask(index * PAGE_BYTES, (index + 1) * PAGE_BYTES)
      } catch (error) {
        if (tries === TRIES) throw error
      }
    }
  }
}

function whole(page: Uint8Array, from: number, length: number): Uint8Array {
  if (from + length > page.length) throw new RangeError('the file ends before that')
  return page.subarray(from, from + length)
}

/// A film file at an address of the engine, for the reader of containers.
export function filmSource(address: string): CustomSource {
  const bytes = new FilmBytes(async (from, to) => {
    const answer = await fetch(address, { headers: { range: `bytes=${from}-${to - 1}` } })
    const size = Number(/\/(\d+)$/.exec(answer.headers.get('content-range') ?? '')?.[1] ?? NaN)
    if (answer.status !== 206 || !Number.isFinite(size)) throw new Error(`status ${answer.status}`)
    return { bytes: new Uint8Array(await answer.arrayBuffer()), size }
  })
  return new CustomSource({
    getSize: () => bytes.size(),
    read: (from, to) => bytes.read(from, to),
    maxCacheSize: 0,
    handleUnhandledError: () => undefined,
  })
}
