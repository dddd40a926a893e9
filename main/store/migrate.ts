import type { Database } from 'better-sqlite3'
import { closeSync, copyFileSync, existsSync, fsyncSync, openSync, renameSync } from 'node:fs'
import { migrations as all } from './migrations'

/// The format that this program writes.
export const FORMAT = all.length

/// Takes a database from its format to the newest, one migration a transaction, forward only.
/// `migrations` is given by tests alone. Throws SQLite's error when one fails; the database then
/// stays at the last that succeeded.
export function migrate(db: Database, migrations: readonly string[] = all): void {
  for (let format = formatOf(db); format < migrations.length; format++) {
    db.transaction(() => {
      db.exec(migrations[format] ?? '')
      db.pragma(`user_version = ${format + 1}`)
    }).exclusive()
  }
}

export const formatOf = (db: Database): number => Number(db.pragma('user_version', { simple: true }))

/// Brings the project file at `path`, open as `db` and nowhere else, to the newest format. The file
/// is copied to `path` + ".format1" (its own number) first; a copy that is there already is kept.
export function bringUpToDate(db: Database, path: string, migrations: readonly string[] = all): void {
  const format = formatOf(db)
  if (format >= migrations.length) return
  const copy = `${path}.format${format}`
  if (!existsSync(copy)) {
    db.pragma('wal_checkpoint(TRUNCATE)')
    copyWhole(path, copy)
  }
  migrate(db, migrations)
}

/// Under `copy` there is nothing or the whole file.
function copyWhole(path: string, copy: string): void {
  const part = `${copy}.part`
  copyFileSync(path, part)
  const file = openSync(part, 'r+')
  try {
    fsyncSync(file)
  } finally {
    closeSync(file)
  }
  renameSync(part, copy)
}
