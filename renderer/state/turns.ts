/// What is done one at a time, in the order in which it was asked for.
export class Turns {
  #last: Promise<unknown> = Promise.resolve()

  /// Does `work` once all that was asked for before is done, or has failed. Fails as `work` does.
  take<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#last.then(work)
    this.#last = done.catch(() => null)
    return done
  }

  /// Resolves once all that has been asked for until now is done.
  async over(): Promise<void> {
    await this.#last
  }
}
