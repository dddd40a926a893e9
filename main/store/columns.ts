/// How one field of a record lies in one column. An absent field is NULL.
export interface Column {
  readonly name: string
  toColumn(value: unknown): string | number | null
  toField(value: unknown): unknown
}

export type Row = { readonly [column: string]: string | number | null }

/// One column for each field of `R`: the compiler asks for every one of them.
export type Columns<R> = { readonly [K in keyof R]-?: Column }

const plain = (name: string): Column => ({
  name,
  toColumn: (value) => (typeof value === 'string' || typeof value === 'number' ? value : null),
  toField: (value) => value,
})
export const text = plain
export const number = plain

export const boolean = (name: string): Column => ({
  name,
  toColumn: (value) => (value === undefined ? null : value === true ? 1 : 0),
  toField: (value) => value === 1,
})

/// A field with parts of its own, as JSON text.
export const json = (name: string): Column => ({
  name,
  toColumn: (value) => (value === undefined ? null : JSON.stringify(value)),
  toField: (value): unknown => JSON.parse(String(value)),
})

type AnyColumns = Readonly<Record<string, Column>>

export function toRow(columns: AnyColumns, record: object): Row {
  const fields = new Map<string, unknown>(Object.entries(record))
  return Object.fromEntries(Object.entries(columns).map(([key, column]) => [column.name, column.toColumn(fields.get(key))]))
}

/// Trusts that the row was written by `toRow`: whoever reads checks the whole afterwards.
export function toRecord<R>(columns: AnyColumns, row: Row): R {
  const fields: [string, unknown][] = []
  for (const [key, column] of Object.entries(columns)) {
    const value = row[column.name]
    if (value !== null && value !== undefined) fields.push([key, column.toField(value)])
  }
  return Object.fromEntries(fields) as R
}
