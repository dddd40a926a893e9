import Database from 'better-sqlite3'
import type { ProjectState } from '../../app/edit/project-state'
import { CodedError } from '../../app/errors/coded-error'
import { ok, refused, type Result } from '../../app/result'
import { loadState } from './load-state'
import { bringUpToDate, formatOf, migrate } from './migrate'
import { migrations as all } from './migrations'
import { nativeModule } from './native-module'
import { OwnerLock } from './owner-lock'
import { Project } from './project'
import { readFormat, storeError } from './project-file'
import { RecordRows } from './record-rows'

export interface OpenOptions {
  /// Reads beside whoever has the project open; whatever would write is refused.
  readonly readOnly?: boolean
  /// Who has it open, as others are told: "the window", "claimframe readings".
  readonly owner?: string
}

/// Opens a project file, for editing unless told otherwise. Refused, and left untouched, are files
/// that are missing, foreign ('project-not-ours'), newer ('project-newer'), damaged, or open for
/// editing elsewhere ('project-locked'). A file of an older format is copied beside itself first
/// (`name.format1`) and then brought up to date; a reader does that in memory.
/// `migrations` is given by tests alone.
export function openProject(path: string, options: OpenOptions = {}, migrations: readonly string[] = all): Result<Project, CodedError> {
  const newest = migrations.length
  const newer = (found: number): CodedError => new CodedError('project-newer', { file: path, found, known: newest })
  const format = readFormat(path)
  if (!format.ok) return format
  if (format.value > newest) return refused(newer(format.value))
  let db: Database.Database | undefined
  let lock: OwnerLock | null = null
  try {
    if (!options.readOnly) lock = OwnerLock.take(path, options.owner ?? `process ${process.pid}`)
    db = new Database(path, { readonly: options.readOnly === true, fileMustExist: true, ...nativeModule() })
    const found = formatOf(db)
    if (found > newest) throw newer(found)
    if (!options.readOnly) {
      bringUpToDate(db, path, migrations)
      db.pragma('journal_mode = WAL')
      db.pragma('synchronous = FULL')
    } else if (found < newest) {
      const copy = inMemory(db.serialize())
      db.close()
      db = copy
      migrate(db, migrations)
    }
    db.pragma('foreign_keys = ON')
    const rows = new RecordRows(db)
    return ok(new Project(path, db, rows, lock, loadOrDamaged(rows, path)))
  } catch (cause) {
    db?.close()
    lock?.release()
    return refused(storeError(cause, path))
  }
}

/// A database in memory of a file's bytes. Bytes 18 and 19 say whether changes go to a file of their
/// own (SQLite file format, "File format version numbers"), which memory has none of.
function inMemory(bytes: Buffer): Database.Database {
  bytes[18] = 1
  bytes[19] = 1
  return new Database(bytes, nativeModule())
}

/// A file that says it is a project and cannot be read as one is damaged.
function loadOrDamaged(rows: RecordRows, path: string): ProjectState {
  try {
    return loadState(rows, path)
  } catch (cause) {
    if (cause instanceof CodedError) throw cause
    throw new CodedError(
      'project-damaged',
      { file: path, problem: cause instanceof Error ? cause.message : 'it cannot be read' },
      { cause },
    )
  }
}
