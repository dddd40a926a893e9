/// Decoded frames of every film that the window shows, within one budget of bytes. The one that was looked at least
/// lately goes first. A picture is only ever taken and drawn within one task, so letting go of it harms nobody.

/// Two clips side by side in 1080p: thirty small pictures on either side of each cursor, and both whole ones.
export const BUDGET_BYTES = 270e6

export type Detail = 'small' | 'full'

export class FrameCache {
  readonly #kept = new Map<string, { readonly picture: ImageBitmap; readonly bytes: number }>()
  #bytes = 0

  constructor(private readonly budget = BUDGET_BYTES) {}

  get bytes(): number {
    return this.#bytes
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
    this.#kept.set(key, { picture, bytes })
    this.#bytes += bytes
    for (const oldest of this.#kept.keys()) {
      if (this.#bytes <= this.budget || oldest === key) return
      this.#drop(oldest)
    }
  }

  /// Lets go of everything of one film.
  forget(film: string): void {
    for (const key of [...this.#kept.keys()]) if (key.startsWith(`${film}/`)) this.#drop(key)
  }

  #drop(key: string): void {
    const entry = this.#kept.get(key)
    if (!entry) return
    this.#kept.delete(key)
    this.#bytes -= entry.bytes
    entry.picture.close()
  }
}

/// Ids hold no slash.
const keyOf = (film: string, frame: number, detail: Detail): string => `${film}/${detail}/${frame}`
