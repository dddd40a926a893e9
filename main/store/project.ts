import type { Database } from 'better-sqlite3'
import { randomUUID } from 'node:crypto'
import { applyEdit } from '../../app/edit/apply-edit'
import type { Edit, RecordDiff, SentEdit } from '../../app/edit/edit'
import { placeOfEdit, type EditPlace } from '../../app/edit/place-of-edit'
import { publishes, publishingProblem } from '../../app/edit/publishing'
import { breakdownOf, packHead, type PackHead, type ProjectState } from '../../app/edit/project-state'
import { completeEdit } from '../../app/edit/complete-edit'
import { rebaseEdit } from '../../app/edit/rebase-edit'
import { wholeOf } from '../../app/edit/sent-edit'
import { CodedError } from '../../app/errors/coded-error'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Sample } from '../../app/project/film'
import { ok, refused, type Result } from '../../app/result'
import { EditLog, type EditKind, type HistoryEntry } from './edit-log'
import type { OwnerLock } from './owner-lock'
import { storeError } from './project-file'
import type { RecordRows } from './record-rows'
import { writeScriptRows } from './script-rows'

/// Steps after which the script document is written whole, so that opening never replays more.
const SNAPSHOT_STEPS = 200

/// What was committed. `edit` is the edit as it was done, for replicas to follow.
export interface Committed {
  readonly sequence: number
  readonly kind: EditKind
  readonly label: string
  readonly place: EditPlace
  readonly edit: Edit
}

/// An open project file: the only writer of it, or a reader beside one.
/// Everything that is answered with `ok` is on the disk.
export class Project {
  private readonly log: EditLog
  private stepsSinceSnapshot: number

  /// `lock` is null for a reader. Use `openProject`.
  constructor(
    readonly path: string,
    private readonly db: Database,
    private readonly rows: RecordRows,
    private readonly lock: OwnerLock | null,
    private current: ProjectState,
  ) {
    this.log = new EditLog(rows)
    this.stepsSinceSnapshot = Number(
      rows.all(
        'SELECT coalesce(sum(json_array_length(steps)), 0) AS n FROM edit WHERE sequence > (SELECT max(sequence) FROM script_snapshot)',
      )[0]?.['n'],
    )
  }

  get readOnly(): boolean {
    return this.lock === null
  }

  /// Sequence number of the last edit; 0 before the first.
  get version(): number {
    return this.current.version
  }

  /// The state that edits are applied to, samples left on the disk.
  get state(): ProjectState {
    return this.current
  }

  /// The whole project as one value, every sample read in.
  breakdown(): Breakdown {
    return breakdownOf(this.current, (of) => this.rows.packs(of, 0, Infinity).flatMap((pack) => pack.samples))
  }

  /// A landmark's samples on frames `from` (included) to `to` (excluded), in the order of their frames.
  samples(clip: string, subject: string, point: string, from: number, to: number): Sample[] {
    return this.rows
      .packs({ clip, subject, point }, from, to)
      .flatMap((pack) => pack.samples.filter((s) => s.frame >= from && s.frame < to))
  }

  /// Applies an edit made on this or an earlier version. An edit whose id was applied already is
  /// answered again. Words that take a paragraph away take along what belongs to it. Refused as `wholeOf`, `applyEdit` and
  /// `rebaseEdit` refuse, with 'read-only' for a reader, with 'disk-full' and the like; nothing has changed then.
  apply(sent: SentEdit): Result<Committed, CodedError> {
    const known = this.log.sequenceOf(sent.id)
    if (known !== null) return ok(this.committed(known))
    const whole = wholeOf(sent, (key) => this.rows.pack(key))
    if (!whole.ok) return whole
    const edit = whole.value
    if (edit.base > this.version)
      return refused(
        new CodedError('edit-refused', {
          label: edit.label,
          problems: [{ place: 'base', problem: `version ${edit.base} is not there yet` }],
        }),
      )
    const problem = publishingProblem(edit.diffs, edit.steps)
    if (problem) return refused(new CodedError('edit-refused', { label: edit.label, problems: [problem] }))
    const rebased = rebaseEdit(edit, edit.base === this.version ? [] : this.log.after(edit.base))
    return rebased.ok ? this.commit(completeEdit(this.current, rebased.value), 'edit', null) : rebased
  }

  /// Takes the last edit, or group of edits, back; published versions are passed over. Null when there is none.
  undo(): Result<Committed | null, CodedError> {
    return this.takeBack('undo')
  }

  /// Takes the last undo back, unless something was edited since. Null when there is none.
  redo(): Result<Committed | null, CodedError> {
    return this.takeBack('redo')
  }

  /// What undo and redo would act on: label and place, or null.
  next(): { readonly undo: { label: string; place: EditPlace } | null; readonly redo: { label: string; place: EditPlace } | null } {
    return { undo: this.log.next('undo'), redo: this.log.next('redo') }
  }

  /// The last `count` edits, oldest first, undoing included.
  history(count = 1000): HistoryEntry[] {
    return this.log.history(count)
  }

  /// The edits after `version`, in order, for a replica to catch up.
  editsAfter(version: number): Edit[] {
    return this.log.after(version)
  }

  /// Keeps the readings of measures beside them: a cache, no edit. Those of measures that are
  /// gone are left out.
  storeReadings(readings: readonly Reading[]): Result<null, CodedError> {
    return this.write(() => {
      for (const reading of readings)
        if (this.current.tables.measures.has(reading.id))
          this.rows.run('INSERT OR REPLACE INTO reading (measure, body) VALUES (?, ?)', reading.id, JSON.stringify(reading))
      return null
    })
  }

  /// The readings kept last, in the order of the measures.
  readings(): Reading[] {
    return this.rows
      .all('SELECT reading.body FROM reading JOIN measure ON measure.id = reading.measure ORDER BY measure.position')
      .map((row) => JSON.parse(String(row['body'])) as Reading)
  }

  /// Writes the script document whole, for an idle moment.
  snapshot(): Result<null, CodedError> {
    if (this.stepsSinceSnapshot === 0) return ok(null)
    return this.write(
      () => {
        this.writeSnapshot(this.current)
        return null
      },
      () => {
        this.stepsSinceSnapshot = 0
      },
    )
  }

  /// Versions at which the script document was written whole, oldest first.
  snapshots(): number[] {
    return this.rows.all('SELECT sequence FROM script_snapshot ORDER BY sequence').map((row) => Number(row['sequence']))
  }

  /// Leaves one plain file, which can be read where nothing can be written; a reader that has it
  /// open meanwhile keeps the change log beside it until the next time.
  close(): void {
    try {
      if (!this.readOnly) this.db.pragma('journal_mode = DELETE')
    } catch (cause) {
      storeError(cause, this.path)
    } finally {
      this.db.close()
      this.lock?.release()
    }
  }

  private takeBack(kind: 'undo' | 'redo'): Result<Committed | null, CodedError> {
    const group = this.log.next(kind)
    if (!group) return ok(null)
    return this.commit(this.log.inverseOf(group, randomUUID(), this.version), kind, group.sequences)
  }

  private commit(edit: Edit, kind: EditKind, takesBack: readonly number[] | null): Result<Committed, CodedError> {
    const before = this.readIn(edit.diffs)
    const applied = applyEdit(before, edit)
    if (!applied.ok) return applied
    const { state, edit: done, inverse } = applied.value
    const entry: HistoryEntry = { sequence: state.version, kind, label: done.label, place: placeOfEdit(done, before.script, state.script) }
    const steps = this.stepsSinceSnapshot + done.steps.length
    const due = steps >= SNAPSHOT_STEPS
    return this.write(
      () => {
        this.log.append(entry, done, inverse, takesBack)
        if (state.script !== before.script) writeScriptRows(this.rows, before.script, state.script)
        for (const diff of done.diffs) this.writeDiff(diff)
        if (due) this.writeSnapshot(state)
        return { ...entry, edit: done }
      },
      () => {
        this.current = withoutSamples(state, done.diffs)
        this.log.note(entry, { merge: done.group, publishes: publishes(done.diffs) })
        this.stepsSinceSnapshot = due ? 0 : steps
      },
    )
  }

  /// Runs `work` in one transaction, then `after`. What goes wrong with the file is refused.
  private write<T>(work: () => T, after?: () => void): Result<T, CodedError> {
    if (this.readOnly) return refused(new CodedError('read-only', { file: this.path }))
    let value: T
    try {
      value = this.db.transaction(work).immediate()
    } catch (cause) {
      return refused(storeError(cause, this.path))
    }
    after?.()
    return ok(value)
  }

  private writeDiff(diff: RecordDiff): void {
    if (diff.change === 'added') this.rows.add(diff.table, diff.record, diff.after)
    else if (diff.change === 'updated') this.rows.replace(diff.table, diff.key, diff.to)
    else this.rows.remove(diff.table, diff.key)
  }

  /// The last two snapshots are kept, and the first.
  private writeSnapshot(state: ProjectState): void {
    this.rows.run(
      'INSERT OR REPLACE INTO script_snapshot (sequence, document) VALUES (?, ?)',
      state.version,
      JSON.stringify(state.script.toJSON()),
    )
    this.rows.run(
      'DELETE FROM script_snapshot WHERE sequence > 0 AND sequence NOT IN (SELECT sequence FROM script_snapshot ORDER BY sequence DESC LIMIT 2)',
    )
  }

  /// The state with the samples of the packs that `diffs` touch.
  private readIn(diffs: readonly RecordDiff[]): ProjectState {
    return withPacks(this.current, diffs, (_, key) => {
      const pack = this.rows.pack(key)
      if (!pack) throw new RangeError(`pack ${key} is not on the disk`)
      return packHead(pack)
    })
  }

  private committed(sequence: number): Committed {
    const [edit] = this.log.after(sequence - 1)
    const entry = this.rows.all('SELECT kind, label, place FROM edit WHERE sequence = ?', sequence)[0]
    if (!edit || !entry) throw new RangeError(`no edit ${sequence}`)
    return { sequence, kind: entry['kind'] as EditKind, label: edit.label, place: JSON.parse(String(entry['place'])) as EditPlace, edit }
  }
}

const withoutSamples = (state: ProjectState, diffs: readonly RecordDiff[]): ProjectState =>
  withPacks(state, diffs, (pack) => ({ ...pack, samples: null }))

function withPacks(state: ProjectState, diffs: readonly RecordDiff[], change: (pack: PackHead, key: string) => PackHead): ProjectState {
  const keys = new Set(diffs.flatMap((diff) => (diff.table === 'packs' ? [diff.key] : [])))
  if (keys.size === 0) return state
  const packs = state.tables.packs.draft()
  for (const key of keys) {
    const pack = packs.get(key)
    if (pack) packs.replace(key, change(pack, key))
  }
  return { ...state, tables: { ...state.tables, packs: packs.done() } }
}
