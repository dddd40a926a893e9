import type { ShownNow } from './shown'

/// How long nothing must be on its way before all is said to be saved.
const CALM_MS = 250

/// Counts what was done and is not on the disk yet: edits on their way or waiting for others, and words that wait to be sent.
/// "saving" is shown at once, and taken away only when nothing has been on its way for a moment: it does not flicker.
export class Saving {
  #count = 0
  #calming: ReturnType<typeof setTimeout> | undefined

  constructor(private readonly shown: ShownNow) {}

  get any(): boolean {
    return this.#count > 0
  }

  add(by: 1 | -1): void {
    this.#count += by
    clearTimeout(this.#calming)
    if (!this.any) this.#calming = setTimeout(() => this.shown.show({ saving: false }), CALM_MS)
    else if (!this.shown.now.saving) this.shown.show({ saving: true })
  }

  /// Counts something until it is answered. It is said from here on: it may wait long for what goes before it.
  until<T>(answered: Promise<T>): Promise<T> {
    this.add(1)
    return answered.finally(() => this.add(-1))
  }
}
