import Database from 'better-sqlite3'
import { constants, copyFileSync, existsSync } from 'node:fs'
import type { ProjectState } from '../../app/edit/project-state'
import { CodedError } from '../../app/errors/coded-error'
import { ok, refused, type Result } from '../../app/result'
import { loadState } from './load-state'
import { FORMAT, formatOf, migrate } from './migrate'
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
/// (`name.format1`) and then brought up to date.
export function openProject(path: string, options: OpenOptions = {}): Result<Project, CodedError> {
  const format = readFormat(path)
  if (!format.ok) return format
  if (format.value > FORMAT) return refused(newer(path, format.value))
  let db: Database.Database | undefined
  let lock: OwnerLock | null = null
  try {
    if (!options.readOnly) lock = OwnerLock.take(path, options.owner ?? `process ${process.pid}`)
    db = new Database(path, { readonly: options.readOnly === true, fileMustExist: true, ...nativeModule() })
    if (formatOf(db) > FORMAT) throw newer(path, formatOf(db))
    if (!options.readOnly) {
      bringUpToDate(db, path)
      db.pragma('journal_mode = WAL')
      db.pragma('synchronous = FULL')
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

/// A file that says it is a project and cannot be read as one is damaged.
function loadOrDamaged(rows: RecordRows, path: string): ProjectState {
  try {
    return loadState(rows, path)
  } catch (cause) {
    if (cause instanceof CodedError) throw cause
    throw new CodedError('project-damaged', { file: path, problem: cause instanceof Error ? cause.message : 'it cannot be read' }, { cause })
  }
}

const newer = (file: string, found: number): CodedError => new CodedError('project-newer', { file, found, known: FORMAT })

function bringUpToDate(db: Database.Database, path: string): void {
  const format = formatOf(db)
  if (format === FORMAT) return
  const copy = `${path}.format${format}`
  db.pragma('wal_checkpoint(TRUNCATE)')
  if (!existsSync(copy)) copyFileSync(path, copy, constants.COPYFILE_EXCL)
  migrate(db)
}
