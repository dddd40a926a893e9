import type { Database } from 'better-sqlite3'
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
