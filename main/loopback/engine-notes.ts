import { createHash } from 'node:crypto'
import { mkdirSync, readFileSync, realpathSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { z } from 'zod'

/// Where the engine of a project is to be found, for the user's own programs alone: files that nobody
/// else can read, in the user's state folder.

const Note = z.strictObject({
  project: z.string(),
  origin: z.string().regex(/^http:\/\/127\.0\.0\.1:\d{1,5}$/),
  key: z.string(),
  pid: z.int(),
})
export type EngineNote = z.infer<typeof Note>

export class EngineNotes {
  readonly #folder: string

  constructor(stateFolder: string) {
    this.#folder = join(stateFolder, 'engines')
    mkdirSync(this.#folder, { recursive: true, mode: 0o700 })
  }

  write(note: EngineNote): void {
    const file = this.#fileOf(note.project)
    const part = `${file}.${process.pid}.part`
    writeFileSync(part, JSON.stringify(note), { mode: 0o600 })
    renameSync(part, file)
  }

  /// Takes the note away if it is still that engine's.
  remove(note: EngineNote): void {
    if (this.#read(note.project)?.key === note.key) rmSync(this.#fileOf(note.project), { force: true })
  }

  /// An address that opens one more window on the engine that has the project; null where no engine of
  /// this user answers.
  async attach(project: string): Promise<string | null> {
    const note = this.#read(project)
    if (!note) return null
    try {
      const answer = await fetch(`${note.origin}/new-code`, {
        method: 'POST',
        headers: { authorization: `Bearer ${note.key}` },
        signal: AbortSignal.timeout(3000),
      })
      const made = Made.safeParse(await answer.json())
      return made.success && made.data.value.address.startsWith(`${note.origin}/`) ? made.data.value.address : null
    } catch {
      return null
    }
  }

  #read(project: string): EngineNote | null {
    try {
      const note = Note.safeParse(JSON.parse(readFileSync(this.#fileOf(project), 'utf8')))
      return note.success ? note.data : null
    } catch {
      return null
    }
  }

  #fileOf(project: string): string {
    return join(this.#folder, `${createHash('sha256').update(realOf(project)).digest('hex').slice(0, 32)}.json`)
  }
}

const Made = z.object({ ok: z.literal(true), value: z.object({ address: z.string() }) })

function realOf(path: string): string {
  try {
    return realpathSync(path)
  } catch {
    return path
  }
}
