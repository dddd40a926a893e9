import { expect } from 'vitest'
import { applyEdit } from '../app/edit/apply-edit'
import { Edit, SentEdit } from '../app/edit/edit'
import { breakdownOf, type ProjectState } from '../app/edit/project-state'
import { rebaseEdit } from '../app/edit/rebase-edit'
import { sentOf } from '../app/edit/sent-edit'
import type { Breakdown } from '../app/project/breakdown'
import type { Project } from '../main/store/project'

/// Whatever an edit does, this holds of it: it leads to `after`; its inverse leads back exactly; it
/// survives JSON; and an open project that commits it, as it is sent, is left with the same breakdown on the disk.
export function checkEdit(before: ProjectState, edit: Edit, after: (breakdown: Breakdown) => void, project?: Project): ProjectState {
  const start = breakdownOf(before)
  const applied = applyEdit(before, edit)
  if (!applied.ok) throw applied.error
  const { state, inverse } = applied.value
  after(breakdownOf(state))
  expect(state.version).toBe(before.version + 1)

  const travelled = Edit.parse(JSON.parse(JSON.stringify(edit)))
  const again = applyEdit(before, travelled)
  if (!again.ok) throw again.error
  expect(breakdownOf(again.value.state)).toEqual(breakdownOf(state))

  const back = applyEdit(state, Edit.parse(JSON.parse(JSON.stringify(inverse))))
  if (!back.ok) throw back.error
  expect(breakdownOf(back.value.state)).toEqual(start)
  const forth = applyEdit(back.value.state, back.value.inverse)
  if (!forth.ok) throw forth.error
  expect(breakdownOf(forth.value.state)).toEqual(breakdownOf(state))

  const rebased = rebaseEdit(edit, [])
  if (!rebased.ok) throw rebased.error

  if (project) {
    const committed = project.apply({ ...SentEdit.parse(JSON.parse(JSON.stringify(sentOf(edit)))), base: project.version })
    if (!committed.ok) throw committed.error
    expect(project.breakdown()).toEqual(breakdownOf(state))
  }
  return state
}
