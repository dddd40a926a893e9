import type { RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import { tables, type Records, type TableName } from '../../app/edit/records'

/// Changes of single records, as the one gate takes them. A record goes behind the last of its table.

type Keyed = Exclude<TableName, 'packs'>

const keyOf = <T extends TableName>(table: T, record: Records[T]): string => (tables[table].keyOf as (record: Records[T]) => string)(record)

export function adding<T extends TableName>(state: ProjectState, table: T, record: Records[T]): RecordDiff {
  const after = tables[table].ordered ? (state.tables[table].keys.at(-1) ?? null) : null
  return { table, key: keyOf(table, record), change: 'added', record, after } as RecordDiff
}

export function updating<T extends TableName>(table: T, from: Records[T], to: Records[T]): RecordDiff {
  return { table, key: keyOf(table, from), change: 'updated', from, to } as RecordDiff
}

export function removing<T extends TableName>(state: ProjectState, table: T, record: Records[T]): RecordDiff {
  const key = keyOf(table, record)
  const { keys } = state.tables[table]
  const after = tables[table].ordered ? (keys[keys.indexOf(key) - 1] ?? null) : null
  return { table, key, change: 'removed', record, after } as RecordDiff
}

/// An id that is free in a table: the prefix and the next number.
export function freeId(state: ProjectState, table: Keyed, prefix: string): string {
  const taken = new Set(state.tables[table].keys)
  for (let n = taken.size + 1; ; n++) if (!taken.has(`${prefix}${n}`)) return `${prefix}${n}`
}
