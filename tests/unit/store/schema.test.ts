import Database from 'better-sqlite3'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { FORMAT, formatOf, migrate } from '../../../main/store/migrate'
import { migrations } from '../../../main/store/migrations'

const tablesOf = (db: Database.Database): string =>
  db
    .prepare("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY type DESC, name")
    .all()
    .map((row) => `${(row as { sql: string }).sql};`)
    .join('\n\n')

it('docs/schema.sql should be what the migrations make (vitest -u writes it anew)', async () => {
  const db = new Database(':memory:')
  migrate(db)
  await expect(`-- Made by the migrations in main/store/migrations; format ${FORMAT}.\n\n${tablesOf(db)}\n`).toMatchFileSnapshot(
    join(import.meta.dirname, '../../../docs/schema.sql'),
  )
})

it('should make every table strict, with foreign keys that hold', () => {
  const db = new Database(':memory:')
  migrate(db)
  db.pragma('foreign_keys = ON')
  const tables = db
    .prepare("SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite_%'")
    .all() as { name: string; strict: number }[]
  expect(tables.length).toBeGreaterThan(10)
  expect(tables.filter((table) => table.strict !== 1)).toEqual([])
  expect(db.pragma('foreign_key_check')).toEqual([])
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok')
})

it('should go forward one format at a time, and stay where a migration fails', () => {
  const db = new Database(':memory:')
  migrate(db, migrations.slice(0, 1))
  expect(formatOf(db)).toBe(1)
  expect(() => migrate(db, [...migrations, 'CREATE TABLE extra (n INTEGER) STRICT; INSERT INTO nowhere VALUES (1)'])).toThrow()
  expect(formatOf(db)).toBe(migrations.length)
  expect(tablesOf(db)).not.toContain('extra')
})
