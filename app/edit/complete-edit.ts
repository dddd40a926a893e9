import { takeSteps } from '../script/script-json'
import type { Edit, RecordDiff } from './edit'
import type { ProjectState } from './project-state'

/// The edit with what must go along: when its steps take a paragraph away (deleted, or merged
/// into the one before), the paragraph's pictures, take, title and cue times are removed with it.
/// Records that the edit touches itself are left to it. Steps that do not fit
/// take nothing away: whoever applies them refuses them.
export function completeEdit(state: ProjectState, edit: Edit): Edit {
  const taken = takeSteps(state.script, edit.steps)
  if (edit.steps.length === 0 || !taken.ok) return edit
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
  return gone.length === 0 ? edit : { ...edit, diffs: [...edit.diffs, ...gone] }
}
