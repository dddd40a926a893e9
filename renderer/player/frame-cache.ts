import type { Room } from './read-ahead'

/// Decoded frames of every film that the window shows, within one budget of bytes: what is needed about the frames that are
/// looked at and little more, within limits. Only what is not needed is let go of, first what was looked at least lately: what
/// is needed fits in, since each film reads no further ahead than its room reaches. A picture is only ever taken and drawn
/// within one task, so letting go of it harms nobody.

/// Two clips side by side in 1080p: thirty small pictures on either side of each cursor, and both whole ones. Only what stands
/// on the canvas may be more.
export const MOST_BYTES = 290e6
/// For coming back to where one was, where films are small.
const LEAST_BYTES = 60e6
/// A film that is no longer looked at keeps its room for so long: a film of cuts goes back and forth.
const LINGER_MS = 5000

export type Detail = 'small' | 'full'

/// What a film's cursors need: room, and which of its pictures.
export interface Need extends Room {
  readonly has: (frame: number, detail: Detail) => boolean
}

interface Entry {
  readonly film: string
  readonly frame: number
  readonly detail: Detail
  readonly picture: ImageBitmap
  readonly bytes: number
}

export class FrameCache {
  readonly #kept = new Map<string, Entry>()
  readonly #needs = new Map<string, { readonly need: Need; readonly left: number | null }>()
  #bytes = 0

  constructor(
    private readonly least = LEAST_BYTES,
    private readonly most = MOST_BYTES,
    private readonly now: () => number = () => performance.now(),
  ) {}

  get bytes(): number {
    return this.#bytes
  }

  /// Says what a film needs from now on; null when it is not looked at.
  need(film: string, need: Need | null): void {
    const known = this.#needs.get(film)
    if (need) this.#needs.set(film, { need, left: null })
    else if (known?.left === null) this.#needs.set(film, { ...known, left: this.now() })
  }

  /// The bytes that a film may fill: what it asks for, or where all ask for too much, what stands on the canvas and of the rest
  /// a part like every other's.
  roomOf(film: string): number {
    const own = this.#needs.get(film)
    if (own?.left !== null) return 0
    const [least, bytes] = this.#asked
    const left = Math.max(0, this.most - least)
    return bytes <= this.most || bytes === least
      ? own.need.bytes
      : own.need.least + (left * (own.need.bytes - own.need.least)) / (bytes - least)
  }

  has(film: string, frame: number, detail: Detail): boolean {
    return this.#kept.has(keyOf(film, frame, detail))
  }

  /// The picture, for drawing at once; null when it is not there.
  take(film: string, frame: number, detail: Detail): ImageBitmap | null {
    const key = keyOf(film, frame, detail)
    const entry = this.#kept.get(key)
    if (!entry) return null
    this.#kept.delete(key)
    this.#kept.set(key, entry)
    return entry.picture
  }

  /// Keeps a picture. One that is there already under the name is closed.
  keep(film: string, frame: number, detail: Detail, picture: ImageBitmap): void {
    const key = keyOf(film, frame, detail)
    this.#drop(key)
    const bytes = picture.width * picture.height * 4
    this.#kept.set(key, { film, frame, detail, picture, bytes })
    this.#bytes += bytes
    const budget = this.#budget
    for (const [oldest, entry] of this.#kept) {
      if (this.#bytes <= budget) return
      if (oldest !== key && !this.#isNeeded(entry)) this.#drop(oldest)
    }
  }

  /// Lets go of everything of one film.
  forget(film: string): void {
    this.#needs.delete(film)
    for (const [key, entry] of this.#kept) if (entry.film === film) this.#drop(key)
  }

  get #budget(): number {
    let needed = 0
    for (const { need, left } of this.#needs.values()) if (left === null || this.now() - left < LINGER_MS) needed += need.bytes
    return Math.max(this.least, Math.min(Math.max(this.most, this.#asked[0]), needed))
  }

  /// What all films that are looked at ask for together.
  get #asked(): readonly [least: number, bytes: number] {
    let [least, bytes] = [0, 0]
    for (const { need, left } of this.#needs.values()) if (left === null) [least, bytes] = [least + need.least, bytes + need.bytes]
    return [least, bytes]
  }

  #isNeeded({ film, frame, detail }: Entry): boolean {
    const known = this.#needs.get(film)
    return known?.left === null && known.need.has(frame, detail)
  }

  #drop(key: string): void {
    const entry = this.#kept.get(key)
    if (!entry) return
    this.#kept.delete(key)
    this.#bytes -= entry.bytes
    entry.picture.close()
  }
}

const keyOf = (film: string, frame: number, detail: Detail): string => `${film}/${detail}/${frame}`
