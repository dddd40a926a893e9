import { z } from 'zod'
import { Line } from '../project/fields'
import type { StepJson } from '../script/script-json'
import { tableNames, tables, type Records, type TableName } from './records'

/// One change of a record. `key` is the record's by its table's `keyOf`, and stays the same in an
/// update; a record that is renamed is removed and added. `after` is the key of the record it
/// stands after (null: it is the first, or the table has no order).
export type RecordDiff = { [T in TableName]: Added<T> | Updated<T> | Removed<T> }[TableName]

interface Touched<T extends TableName> {
  readonly table: T
  readonly key: string
}
export interface Added<T extends TableName = TableName> extends Touched<T> {
  readonly change: 'added'
  readonly record: Records[T]
  readonly after: string | null
}
export interface Updated<T extends TableName = TableName> extends Touched<T> {
  readonly change: 'updated'
  readonly from: Records[T]
  readonly to: Records[T]
}
export interface Removed<T extends TableName = TableName> extends Touched<T> {
  readonly change: 'removed'
  readonly record: Records[T]
  readonly after: string | null
}

/// Where the caret is in the script document.
export interface Caret {
  readonly anchor: number
  readonly head: number
}

/// What an edit does: steps of the script document and changes of records, both in the order in
/// which they are done.
export interface Change {
  /// What a person calls it: "Move knee.left".
  readonly label: string
  readonly steps: readonly StepJson[]
  readonly diffs: readonly RecordDiff[]
  /// The caret before and after, where the edit was made in the script.
  readonly selection: { readonly before: Caret | null; readonly after: Caret | null } | null
}

/// One change through the gate.
export interface Edit extends Change {
  /// Made by whoever makes the edit. An id that was applied already is answered, not applied again.
  readonly id: string
  /// Neighbouring edits of one group are undone together; null: alone.
  readonly group: string | null
  /// The version of the project that the edit was made on.
  readonly base: number
}

/// A pack of samples that goes, named by its extent alone: its samples, which may be many megabytes, lie in the project.
export interface PackGone extends Touched<'packs'> {
  readonly change: 'gone'
  /// The first and the last frame that it has samples on.
  readonly first: number
  readonly last: number
}

/// An edit on its way to the project that it is for.
export interface SentEdit extends Omit<Edit, 'diffs'> {
  readonly diffs: readonly (RecordDiff | PackGone)[]
}

const Key = z.string().min(1).max(400)
const Caret = z.strictObject({ anchor: z.int().min(0), head: z.int().min(0) })

const changesOf = (table: TableName) => {
  const { schema } = tables[table]
  const touched = { table: z.literal(table), key: Key }
  return [
    z.strictObject({ ...touched, change: z.literal('added'), record: schema, after: Key.nullable() }),
    z.strictObject({ ...touched, change: z.literal('updated'), from: schema, to: schema }),
    z.strictObject({ ...touched, change: z.literal('removed'), record: schema, after: Key.nullable() }),
  ] as const
}
const PackGone = z.strictObject({
  table: z.literal('packs'),
  key: Key,
  change: z.literal('gone'),
  first: z.int().min(0),
  last: z.int().min(0),
})
const [first, ...others] = tableNames.map((table) => z.discriminatedUnion('change', changesOf(table)))
const [firstSent, ...othersSent] = tableNames.map((table) =>
  z.discriminatedUnion('change', table === 'packs' ? [...changesOf(table), PackGone] : changesOf(table)),
)
if (!first || !firstSent) throw new RangeError('no tables')
const RecordDiff = z.discriminatedUnion('table', [first, ...others])
const SentDiff = z.discriminatedUnion('table', [firstSent, ...othersSent])
const MOST_DIFFS = 100_000

/// An edit as it comes over the wire.
export const Edit = z.strictObject({
  id: z.string().min(1).max(80),
  label: Line,
  group: z.string().min(1).max(80).nullable(),
  steps: z.array(z.looseObject({ stepType: z.string() })).max(100_000),
  diffs: z.array(RecordDiff as unknown as z.ZodType<RecordDiff>).max(MOST_DIFFS),
  selection: z.strictObject({ before: Caret.nullable(), after: Caret.nullable() }).nullable(),
  base: z.int().min(0),
}) satisfies z.ZodType<Edit>

/// The same as a window sends it.
export const SentEdit = Edit.extend({
  diffs: z.array(SentDiff as unknown as z.ZodType<RecordDiff | PackGone>).max(MOST_DIFFS),
}) satisfies z.ZodType<SentEdit>
