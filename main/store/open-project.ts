import Database from 'better-sqlite3'
import { CodedError } from '../../app/errors/coded-error'
import { refused, ok, type Result } from '../../app/result'
import { loadState } from './load-state'
import { FORMAT, formatOf } from './migrate'
import { Project } from './project'
import { readFormat, storeError } from './project-file'
import { RecordRows } from './record-rows'

export interface OpenOptions {
  /// Reads beside whoever has the project open; `apply`, `undo` and `redo` are refused.
  readonly readOnly?: boolean
}

/// Opens a project file. Refuses, and leaves untouched, what is missing, foreign, newer or damaged.
export function openProject(path: string, options: OpenOptions = {}): Result<Project, CodedError> {
  const format = readFormat(path)
  if (!format.ok) return format
  if (format.value > FORMAT) return refused(new CodedError('project-newer', { file: path, found: format.value, known: FORMAT }))
  let db: Database.Database | undefined
  try {
    db = new Database(path, { readonly: options.readOnly === true, fileMustExist: true })
    if (formatOf(db) > FORMAT) throw new CodedError('project-newer', { file: path, found: formatOf(db), known: FORMAT })
    db.pragma('foreign_keys = ON')
    const rows = new RecordRows(db)
    return ok(new Project(path, db, rows, loadState(rows, path)))
  } catch (cause) {
    db?.close()
    return refused(storeError(cause, path))
  }
}
