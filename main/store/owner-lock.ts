import Database from 'better-sqlite3'
import { basename, dirname, join } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { nativeModule } from './native-module'

/// The one place from which a project is edited. It is a write transaction held open on a small
/// database beside the project, so the system lets go of it however its owner ends; the owner's
/// name can be read meanwhile.
export class OwnerLock {
  private constructor(private readonly db: Database.Database) {}

  /// Throws CodedError 'project-locked' while another holds it, SQLite's error where nothing can
  /// be written beside the project.
  static take(project: string, owner: string): OwnerLock {
    const db = new Database(lockFile(project), { timeout: 0, ...nativeModule() })
    try {
      db.exec('BEGIN IMMEDIATE; CREATE TABLE IF NOT EXISTS owner (one INTEGER PRIMARY KEY, name TEXT NOT NULL) STRICT')
      db.prepare('INSERT OR REPLACE INTO owner (one, name) VALUES (1, ?)').run(owner)
      db.exec('COMMIT; BEGIN IMMEDIATE')
      return new OwnerLock(db)
    } catch (cause) {
      const error = isBusy(cause) ? new CodedError('project-locked', { file: project, owner: nameIn(db) }, { cause }) : cause
      db.close()
      throw error
    }
  }

  release(): void {
    this.db.close()
  }
}

const UNKNOWN = 'another program'

const lockFile = (project: string): string => join(dirname(project), `.${basename(project)}.lock`)

const isBusy = (cause: unknown): boolean => cause instanceof Database.SqliteError && cause.code.startsWith('SQLITE_BUSY')

function nameIn(db: Database.Database): string {
  try {
    const name: unknown = db.prepare('SELECT name FROM owner').pluck().get()
    return typeof name === 'string' ? name : UNKNOWN
  } catch {
    return UNKNOWN
  }
}
