import Database from 'better-sqlite3'
import { closeSync, existsSync, fsyncSync, linkSync, openSync, readdirSync, renameSync, rmSync, unlinkSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { stateOf, type ProjectState } from '../../app/edit/project-state'
import { tableNames } from '../../app/edit/records'
import { CodedError } from '../../app/errors/coded-error'
import type { Breakdown } from '../../app/project/breakdown'
import { ok, refused, type Result } from '../../app/result'
import { isRunning } from '../process-running'
import { migrate } from './migrate'
import { nativeModule } from './native-module'
import { APPLICATION_ID, storeError } from './project-file'
import { RecordRows } from './record-rows'
import { writeScriptRows } from './script-rows'

/// Makes a project file of a breakdown (one that was read, see `readBreakdown`). The file is
/// written under another name beside `path`, flushed to the disk and only then named `path`, so
/// that under `path` there is nothing or a whole project, whatever happens.
/// Refuses an existing `path` ('file-exists'), a folder that cannot be written, a full disk; then
/// nothing is left behind. What an earlier run that was killed left is cleared away.
export function createProject(path: string, breakdown: Breakdown): Result<null, CodedError> {
  if (existsSync(path)) return refused(new CodedError('file-exists', { file: path }))
  const part = `${path}.${process.pid}.part`
  try {
    clearLeftParts(path)
    writeProject(part, stateOf(breakdown))
    flush(part, 'r+')
    if (!nameIt(part, path)) return refused(new CodedError('file-exists', { file: path }))
    flush(dirname(path), 'r')
    return ok(null)
  } catch (cause) {
    return refused(storeError(cause, path))
  } finally {
    rmSync(part, { force: true })
    rmSync(`${part}-journal`, { force: true })
  }
}

function writeProject(file: string, state: ProjectState): void {
  const db = new Database(file, nativeModule())
  try {
    db.pragma('journal_mode = OFF')
    db.pragma('synchronous = OFF')
    db.pragma(`application_id = ${APPLICATION_ID}`)
    db.pragma('foreign_keys = ON')
    migrate(db)
    db.transaction(() => {
      const rows = new RecordRows(db)
      writeScriptRows(rows, null, state.script)
      for (const table of tableNames) {
        if (table === 'packs') continue
        for (const record of state.tables[table].list()) rows.add(table, record)
      }
      for (const { first: _first, last: _last, samples, ...pack } of state.tables.packs.list())
        rows.add('packs', { ...pack, samples: [...(samples ?? [])] })
      rows.run('INSERT INTO script_snapshot (sequence, document) VALUES (0, ?)', JSON.stringify(state.script.toJSON()))
    })()
  } finally {
    db.close()
  }
}

function flush(path: string, flags: string): void {
  const file = openSync(path, flags)
  try {
    fsyncSync(file)
  } finally {
    closeSync(file)
  }
}

/// Gives `part` its final name unless that is taken meanwhile. Where the file system knows no
/// second names, the check and the naming are two steps.
function nameIt(part: string, path: string): boolean {
  try {
    linkSync(part, path)
    unlinkSync(part)
    return true
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? cause.code : ''
    if (code === 'EEXIST') return false
    if (code !== 'EPERM' && code !== 'ENOTSUP' && code !== 'ENOSYS' && code !== 'EOPNOTSUPP') throw cause
    if (existsSync(path)) return false
    renameSync(part, path)
    return true
  }
}

/// Removes what runs that were killed left beside `path`: parts whose process is gone.
function clearLeftParts(path: string): void {
  const name = basename(path)
  for (const entry of readdirSync(dirname(path))) {
    if (!entry.startsWith(`${name}.`)) continue
    const pid = /^(\d+)\.part(-journal)?$/.exec(entry.slice(name.length + 1))?.[1]
    if (pid !== undefined && !isRunning(Number(pid))) rmSync(join(dirname(path), entry), { force: true })
  }
}
