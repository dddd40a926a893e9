import { ok, type Result } from '../result'
import type { CodedError } from '../errors/coded-error'
import { takeSteps } from '../script/script-json'
import type { Edit, RecordDiff } from './edit'
import type { ProjectState } from './project-state'

/// The edit with what must go along: when its steps take a paragraph away (deleted, or merged
/// into the one before), the paragraph's pictures, take, title and cue times are removed with it.
/// Records that the edit touches itself are left to it. Refused when the steps do not fit.
export function completeEdit(state: ProjectState, edit: Edit): Result<Edit, CodedError> {
  if (edit.steps.length === 0) return ok(edit)
  const taken = takeSteps(state.script, edit.steps)
  if (!taken.ok) return taken
  const ids = new Set(taken.value.script.children.map((node) => String(node.attrs['id'])))
  const touched = new Set(edit.diffs.map((diff) => `${diff.table}:${diff.key}`))
  const gone: RecordDiff[] = []
  for (const record of state.tables.paragraphs.list())
    if (!ids.has(record.id) && !touched.has(`paragraphs:${record.id}`))
      gone.push({ table: 'paragraphs', key: record.id, change: 'removed', record, after: null })
  state.tables.cueTimes.list().forEach((record, i) => {
    const key = state.tables.cueTimes.keys[i] ?? ''
    if (!ids.has(record.paragraph) && !touched.has(`cueTimes:${key}`))
      gone.push({ table: 'cueTimes', key, change: 'removed', record, after: state.tables.cueTimes.keys[i - 1] ?? null })
  })
  return ok({ ...edit, diffs: [...edit.diffs, ...gone] })
}
