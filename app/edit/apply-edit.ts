import { CodedError } from '../errors/coded-error'
import { wordIssue } from '../exchange/breakdown-wording'
import { placeWithin } from '../exchange/problem-list'
import { landmarkKey, tables, type Pack, type TableName } from './records'
import { ok, refused, type Result } from '../result'
import { takeSteps } from '../script/script-json'
import { checkState, checkWords } from './check-state'
import type { Added, Edit, RecordDiff, Removed, Updated } from './edit'
import { packHead, type PackHead, type ProjectState, type Tables } from './project-state'
import type { RecordTable, TableDraft } from './record-table'
import { sameRecord } from './same-record'

export interface Applied {
  readonly state: ProjectState
  /// The edit as it was done: where a record it was to stand after was gone, the place it took.
  readonly edit: Edit
  /// Takes it back exactly, on the state it led to. Its id is the edit's with "/back" behind it.
  readonly inverse: Edit
}

/// Applies an edit to the version of the project it was made on. Refused, and nothing changed:
/// - 'edit-conflict': a record is not as the edit knew it, or its name is taken
/// - 'edit-refused': the project would break a promise of `checkBreakdown`, the script would hold
///   what no document can say, steps do not fit, or the edit was made on another version
///   (see `rebaseEdit`)
/// A value or cue of the script may outlive its measure or event.
/// Where a pack's samples are not read in, its extent alone is compared.
export function applyEdit(state: ProjectState, edit: Edit): Result<Applied, CodedError> {
  const refuse = (place: string, problem: string): Result<never, CodedError> =>
    refused(new CodedError('edit-refused', { label: edit.label, problems: [{ place, problem }] }))
  if (edit.base !== state.version) return refuse('base', `made on version ${edit.base}, the project is at ${state.version}`)

  const changed = changeTables(state.tables, edit)
  if (!changed.ok) return changed
  const taken = takeSteps(state.script, edit.steps)
  if (!taken.ok) return refuse('script', taken.error.message)

  const after: ProjectState = { version: state.version + 1, script: taken.value.script, tables: changed.value.tables }
  const problems = [...checkWords(state.script, after), ...(edit.diffs.length > 0 ? checkState(after, edit.diffs) : [])]
  if (problems.length > 0) return refused(new CodedError('edit-refused', { label: edit.label, problems }))

  const done: Edit = { ...edit, diffs: changed.value.diffs }
  return ok({
    state: after,
    edit: done,
    inverse: {
      id: `${edit.id}/back`,
      label: edit.label,
      group: null,
      steps: taken.value.inverse,
      diffs: invertDiffs(changed.value.diffs),
      selection: edit.selection && { before: edit.selection.after, after: edit.selection.before },
      base: after.version,
    },
  })
}

/// The changes that take `diffs` back, last first.
export function invertDiffs(diffs: readonly RecordDiff[]): RecordDiff[] {
  return diffs.toReversed().map((diff): RecordDiff => {
    if (diff.change === 'updated') return { ...diff, from: diff.to, to: diff.from } as RecordDiff
    return { ...diff, change: diff.change === 'added' ? 'removed' : 'added' } as RecordDiff
  })
}

type AnyDiff = Added | Updated | Removed

function changeTables(before: Tables, { label, diffs }: Edit): Result<{ tables: Tables; diffs: RecordDiff[] }, CodedError> {
  const drafts = new Map<TableName, TableDraft<object>>()
  const done: RecordDiff[] = []
  for (const diff of diffs as readonly AnyDiff[]) {
    const { table, key } = diff
    const draft = drafts.get(table) ?? (before[table] as RecordTable<object>).draft()
    drafts.set(table, draft)
    const next = diff.change === 'updated' ? diff.to : diff.record
    const problem = problemOfRecord(table, key, next)
    if (problem) return refused(new CodedError('edit-refused', { label, problems: [{ place: `${table} ${key}`, problem }] }))
    const now = draft.get(key)
    const known = diff.change === 'updated' ? diff.from : diff.change === 'removed' ? diff.record : undefined
    if (known === undefined ? now !== undefined : now === undefined || !isAsKnown(table, now, known))
      return refused(new CodedError('edit-conflict', { table, id: key }))
    const { ordered } = tables[table]
    if (diff.change === 'updated') {
      draft.replace(key, stored(table, diff.to))
      done.push(diff as RecordDiff)
    } else if (diff.change === 'added') {
      const after = draft.add(key, stored(table, diff.record), ordered ? diff.after : null)
      done.push({ ...diff, after: ordered ? after : null } as RecordDiff)
    } else {
      const after = draft.remove(key)
      done.push({ ...diff, after: ordered ? after : null } as RecordDiff)
    }
  }
  const changed = Object.fromEntries([...drafts].map(([table, draft]) => [table, draft.done()]))
  return ok({ tables: { ...before, ...changed }, diffs: done })
}

/// Why a record may not be kept under `key`; null when it may.
function problemOfRecord(table: TableName, key: string, record: object): string | null {
  const parsed = tables[table].schema.safeParse(record, { error: wordIssue })
  if (!parsed.success)
    return parsed.error.issues.map((issue) => `${issue.path.reduce<string>(placeWithin, '')} ${issue.message}`.trim()).join('; ')
  const keyOf = tables[table].keyOf as (record: object) => string
  return keyOf(record) === key ? null : `is called ${keyOf(record)}`
}

/// How a record lies in the state: as it is, packs with their extent.
const stored = (table: TableName, record: object): object => (table === 'packs' ? packHead(record as Pack) : record)

function isAsKnown(table: TableName, now: object, known: object): boolean {
  if (table !== 'packs') return sameRecord(now, known)
  const head = packHead(known as Pack)
  const at = now as PackHead
  return at.samples
    ? sameRecord(at.samples, head.samples)
    : at.first === head.first && at.last === head.last && landmarkKey(at) === landmarkKey(head)
}
