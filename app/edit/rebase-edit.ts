import { Mapping, Step } from 'prosemirror-transform'
import { CodedError } from '../errors/coded-error'
import { ok, refused, type Result } from '../result'
import { scriptSchema } from '../script/schema'
import type { StepJson } from '../script/script-json'
import type { Caret, Edit } from './edit'

/// The edit as if it had been made after `newer`, the edits that were applied since its base, in
/// their order. Steps go through the newer steps' mapping; one whose place is gone falls away.
/// Refused with 'edit-conflict' when it touches a record that one of them touched, and with
/// 'edit-refused' when its steps cannot be read.
export function rebaseEdit(edit: Edit, newer: readonly Edit[]): Result<Edit, CodedError> {
  const base = edit.base + newer.length
  if (newer.length === 0) return ok(edit)
  const touched = new Set(newer.flatMap((other) => other.diffs.map((diff) => `${diff.table}:${diff.key}`)))
  const conflict = edit.diffs.find((diff) => touched.has(`${diff.table}:${diff.key}`))
  if (conflict) return refused(new CodedError('edit-conflict', { table: conflict.table, id: conflict.key }))
  try {
    const over = newer.flatMap((other) => other.steps)
    const { steps, mapping } = rebaseSteps(edit.steps, over)
    const map = (caret: Caret | null): Caret | null => caret && { anchor: mapping.map(caret.anchor), head: mapping.map(caret.head) }
    return ok({
      ...edit,
      base,
      steps,
      selection: edit.selection && { before: null, after: map(edit.selection.after) },
    })
  } catch (cause) {
    return refused(
      new CodedError('edit-refused', { label: edit.label, problems: [{ place: 'script', problem: String(cause) }] }, { cause }),
    )
  }
}

/// Each step is led back over the steps before it, forward over the newer ones, and forward again
/// over what became of those before it; mirrored maps keep what was only moved from being lost.
function rebaseSteps(steps: readonly StepJson[], over: readonly StepJson[]): { steps: StepJson[]; mapping: Mapping } {
  const own = steps.map((json) => Step.fromJSON(scriptSchema, json))
  const mapping = new Mapping(own.map((step) => step.getMap().invert()).reverse())
  for (const json of over) mapping.appendMap(Step.fromJSON(scriptSchema, json).getMap())
  const rebased: StepJson[] = []
  own.forEach((step, i) => {
    const back = own.length - 1 - i
    const mapped = step.map(mapping.slice(back + 1))
    if (!mapped) return
    rebased.push(mapped.toJSON() as StepJson)
    mapping.appendMap(mapped.getMap(), back)
  })
  return { steps: rebased, mapping }
}
