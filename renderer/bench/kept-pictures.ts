/// Pictures that wait to be taken, by their frame; each is closed once, by whoever takes it or here. After the end nothing is
/// kept any more: what a reading under way still brings is closed at once.
export class KeptPictures<Picture extends { close(): void }> {
  readonly #kept = new Map<number, Picture>()
  #over = false

  has(frame: number): boolean {
    return this.#kept.has(frame)
  }

  keep(frame: number, picture: Picture): void {
    if (this.#over) return picture.close()
    this.#kept.get(frame)?.close()
    this.#kept.set(frame, picture)
  }

  /// Hands a picture over, to be closed by the receiver; null where there is none.
  take(frame: number): Picture | null {
    const picture = this.#kept.get(frame) ?? null
    this.#kept.delete(frame)
    return picture
  }

  clear(): void {
    for (const picture of this.#kept.values()) picture.close()
    this.#kept.clear()
  }

  end(): void {
    this.#over = true
    this.clear()
  }
}
