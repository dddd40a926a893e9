import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'

const Entry = z.strictObject({ file: z.string(), title: z.string(), opened: z.string() })
const Kept = z.array(Entry).max(100)
type Entry = z.infer<typeof Entry>

const REMEMBERED = 20

/// The projects that were opened, the latest first, kept in the user's state folder. A list that cannot
/// be read is an empty one: it is only a convenience.
export class RecentProjects {
  readonly #path: string

  constructor(folder: string) {
    this.#path = join(folder, 'recent.json')
  }

  list(): (Entry & { readonly there: boolean })[] {
    return this.#read().map((entry) => ({ ...entry, there: existsSync(entry.file) }))
  }

  remember(file: string, title: string, opened: Date): void {
    const others = this.#read().filter((entry) => entry.file !== file)
    const kept = [{ file, title, opened: opened.toISOString() }, ...others].slice(0, REMEMBERED)
    const part = `${this.#path}.${process.pid}.part`
    try {
      writeFileSync(part, JSON.stringify(kept, null, 1), { mode: 0o600 })
      renameSync(part, this.#path)
    } catch {
      // A full or read-only home folder does not keep a project from opening.
    }
  }

  #read(): Entry[] {
    try {
      const read = Kept.safeParse(JSON.parse(readFileSync(this.#path, 'utf8')))
      return read.success ? read.data : []
    } catch {
      return []
    }
  }
}
