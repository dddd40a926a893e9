import { join } from 'node:path'
import { z } from 'zod'
import { readKept, writeKept } from './kept-json'

const Identities = z.record(z.string(), z.string())

/// What the content of each film was known by when it was first seen in a project, by the film's id; kept in the project's cache.
export class FilmIdentities {
  readonly #file: string
  readonly #kept: Promise<Record<string, string>>

  constructor(
    cache: string,
    private readonly onFault: (error: unknown, what: string) => string,
  ) {
    this.#file = join(cache, 'identities.json')
    this.#kept = readKept(this.#file, Identities).then((kept) => kept ?? {})
  }

  async of(id: string): Promise<string | null> {
    return (await this.#kept)[id] ?? null
  }

  /// Ids of all films that were ever seen.
  async films(): Promise<ReadonlySet<string>> {
    return new Set(Object.keys(await this.#kept))
  }

  /// A relinked film keeps the name of its content; a new one gets it.
  async remember(id: string, identity: string): Promise<void> {
    const identities = await this.#kept
    if (identities[id] === identity) return
    identities[id] = identity
    await writeKept(this.#file, identities).catch((error: unknown) => void this.onFault(error, 'remembering films'))
  }
}
