/// An immutable table of records in the order they stand in, each known by its key.
export class RecordTable<R> {
  private constructor(
    readonly keys: readonly string[],
    private readonly byKey: ReadonlyMap<string, R>,
  ) {}

  /// Throws when two records have one key.
  static of<R>(records: Iterable<R>, keyOf: (record: R) => string): RecordTable<R> {
    const byKey = new Map<string, R>()
    for (const record of records) {
      const key = keyOf(record)
      if (byKey.has(key)) throw new RangeError(`two records are called ${key}`)
      byKey.set(key, record)
    }
    return new RecordTable([...byKey.keys()], byKey)
  }

  get size(): number {
    return this.keys.length
  }

  get(key: string): R | undefined {
    return this.byKey.get(key)
  }

  has(key: string): boolean {
    return this.byKey.has(key)
  }

  /// The records in order.
  list(): R[] {
    return this.keys.map((key) => this.byKey.get(key) as R)
  }

  /// A copy to change; `done` makes it a table.
  draft(): TableDraft<R> {
    return new TableDraft([...this.keys], new Map(this.byKey), (keys, byKey) => new RecordTable(keys, byKey))
  }
}

/// A table being changed. Never outlives the verb that asked for it.
export class TableDraft<R> {
  constructor(
    private readonly keys: string[],
    private readonly byKey: Map<string, R>,
    private readonly finish: (keys: readonly string[], byKey: ReadonlyMap<string, R>) => RecordTable<R>,
  ) {}

  get(key: string): R | undefined {
    return this.byKey.get(key)
  }

  /// Puts a new record right after `after` (null: first). When `after` is not there, last.
  /// Returns the key it now stands after. Throws when the key is taken.
  add(key: string, record: R, after: string | null): string | null {
    if (this.byKey.has(key)) throw new RangeError(`${key} is taken`)
    const last = this.keys.length - 1
    const at = after === null ? -1 : this.keys[last] === after || !this.byKey.has(after) ? last : this.keys.indexOf(after)
    this.keys.splice(at + 1, 0, key)
    this.byKey.set(key, record)
    return this.keys[at] ?? null
  }

  /// Throws when there is no such record.
  replace(key: string, record: R): void {
    if (!this.byKey.has(key)) throw new RangeError(`${key} is not there`)
    this.byKey.set(key, record)
  }

  /// Returns the key that it stood after. Throws when there is no such record.
  remove(key: string): string | null {
    if (!this.byKey.delete(key)) throw new RangeError(`${key} is not there`)
    const last = this.keys.length - 1
    const at = this.keys[last] === key ? last : this.keys.indexOf(key)
    this.keys.splice(at, 1)
    return this.keys[at - 1] ?? null
  }

  done(): RecordTable<R> {
    return this.finish(this.keys, this.byKey)
  }
}
