import { invertDiffs } from '../../app/edit/apply-edit'
import type { Edit } from '../../app/edit/edit'
import type { EditPlace } from '../../app/edit/place-of-edit'
import { squashEdits } from '../../app/edit/squash-edits'
import type { StepJson } from '../../app/script/script-json'
import type { Row } from './columns'
import type { RecordRows } from './record-rows'

export type EditKind = 'edit' | 'undo' | 'redo'

/// One line of a project's history.
export interface HistoryEntry {
  readonly sequence: number
  readonly kind: EditKind
  readonly label: string
  readonly place: EditPlace
}

/// Edits that are undone together, as one entry of the undo or redo stack.
interface Group extends Omit<HistoryEntry, 'kind' | 'sequence'> {
  readonly merge: string | null
  readonly sequences: readonly number[]
}

/// What an entry of history is told of beside itself: whose group it joins, and whether it publishes a version, which undo
/// passes over.
export interface EntryKind {
  readonly merge: string | null
  readonly publishes: boolean
}

/// Whether a row publishes. Only such rows are looked into: the changes of others can be many megabytes.
const PUBLISHES = `CASE WHEN steps = '[]' AND place LIKE '%"evidence"%' THEN instr(diffs, '"table":"releases"') > 0 ELSE 0 END AS publishes`

/// The rows of `edit`, and what of them can be undone and redone. The stacks follow from the rows
/// alone, so they are the same after a restart. A version that was published is out: its row is on neither.
export class EditLog {
  private readonly done: Group[] = []
  private readonly undone: Group[] = []

  constructor(private readonly rows: RecordRows) {
    for (const row of rows.all(`SELECT sequence, kind, label, merge, place, ${PUBLISHES} FROM edit ORDER BY sequence`))
      this.note(entryOf(row), { merge: textOrNull(row['merge']), publishes: row['publishes'] === 1 })
  }

  /// Writes the row of an edit; `note` it once the transaction is through.
  append(entry: HistoryEntry, edit: Edit, inverse: Edit, takesBack: readonly number[] | null): void {
    this.rows.run(
      'INSERT INTO edit (sequence, id, kind, takes_back, label, merge, place, steps, inverse_steps, diffs, selection) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)',
      entry.sequence,
      edit.id,
      entry.kind,
      takesBack && JSON.stringify(takesBack),
      entry.label,
      edit.group,
      JSON.stringify(entry.place),
      JSON.stringify(edit.steps),
      JSON.stringify(inverse.steps),
      JSON.stringify(edit.diffs),
      edit.selection && JSON.stringify(edit.selection),
    )
  }

  note({ sequence, kind, label, place }: HistoryEntry, { merge, publishes }: EntryKind): void {
    if (publishes) return
    const group: Group = { label, place, merge, sequences: [sequence] }
    if (kind === 'undo') {
      this.done.pop()
      this.undone.push(group)
    } else if (kind === 'redo') {
      this.undone.pop()
      this.done.push(group)
    } else {
      this.undone.length = 0
      const last = this.done.at(-1)
      const joins = last && merge !== null && last.merge === merge && last.sequences.at(-1) === sequence - 1
      if (joins) this.done[this.done.length - 1] = { ...last, sequences: [...last.sequences, sequence] }
      else this.done.push(group)
    }
  }

  /// What `undo` or `redo` would take back, or null.
  next(kind: 'undo' | 'redo'): Group | null {
    return (kind === 'undo' ? this.done : this.undone).at(-1) ?? null
  }

  /// The edit that takes a group back, made on version `base`.
  inverseOf(group: Group, id: string, base: number): Edit {
    const inverses = group.sequences.toReversed().map((sequence): Edit => {
      const row = this.rows.all('SELECT * FROM edit WHERE sequence = ?', sequence)[0]
      if (!row) throw new RangeError(`no edit ${sequence}`)
      const edit = editOf(row)
      return {
        ...edit,
        steps: JSON.parse(String(row['inverse_steps'])) as StepJson[],
        diffs: invertDiffs(edit.diffs),
        selection: edit.selection && { before: edit.selection.after, after: edit.selection.before },
      }
    })
    return { ...squashEdits(inverses), id, label: group.label, group: null, base }
  }

  /// The edits after a version, in order, as they were done.
  after(version: number): Edit[] {
    return this.rows.all('SELECT * FROM edit WHERE sequence > ? ORDER BY sequence', version).map(editOf)
  }

  /// The sequence number under which an edit was applied already, or null.
  sequenceOf(id: string): number | null {
    const row = this.rows.all('SELECT sequence FROM edit WHERE id = ?', id)[0]
    return row ? Number(row['sequence']) : null
  }

  /// The last `count` entries, oldest first.
  history(count: number): HistoryEntry[] {
    return this.rows.all('SELECT sequence, kind, label, place FROM edit ORDER BY sequence DESC LIMIT ?', count).map(entryOf).reverse()
  }
}

const textOrNull = (value: unknown): string | null => (typeof value === 'string' ? value : null)

const entryOf = (row: Row): HistoryEntry => ({
  sequence: Number(row['sequence']),
  kind: row['kind'] as EditKind,
  label: String(row['label']),
  place: JSON.parse(String(row['place'])) as EditPlace,
})

const editOf = (row: Row): Edit => ({
  id: String(row['id']),
  label: String(row['label']),
  group: textOrNull(row['merge']),
  steps: JSON.parse(String(row['steps'])) as Edit['steps'],
  diffs: JSON.parse(String(row['diffs'])) as Edit['diffs'],
  selection: row['selection'] === null ? null : (JSON.parse(String(row['selection'])) as Edit['selection']),
  base: Number(row['sequence']) - 1,
})
