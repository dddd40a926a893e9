import type { ProjectState } from '../../app/edit/project-state'
import type { EditChange } from '../state/project'
import { adding, freeId, updating } from '../state/record-change'

/// A person more on film: the change, and the id under which the person goes.
export function anotherPerson(state: ProjectState, name: string): { readonly id: string; readonly change: EditChange } {
  const id = freeId(state, 'subjects', 's')
  return { id, change: { label: `Name ${name}`, steps: [], diffs: [adding(state, 'subjects', { id, name })] } }
}

/// A person under another name. Null where there is no such person, or the name stays what it was.
export function renamePerson(state: ProjectState, id: string, name: string): EditChange | null {
  const from = state.tables.subjects.get(id)
  if (!from || from.name === name) return null
  return { label: `Rename ${from.name} to ${name}`, steps: [], diffs: [updating('subjects', from, { ...from, name })] }
}
