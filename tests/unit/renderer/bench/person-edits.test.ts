import { expect, it } from 'vitest'
import { applyEdit } from '../../../../app/edit/apply-edit'
import { breakdownOf, stateOf, type ProjectState } from '../../../../app/edit/project-state'
import { anotherPerson, renamePerson } from '../../../../renderer/bench/person-edits'
import type { EditChange } from '../../../../renderer/state/project'

const applied = (state: ProjectState, change: EditChange | null): ProjectState => {
  const done = change && applyEdit(state, { ...change, selection: null, id: 'e', group: null, base: state.version })
  if (!done?.ok) throw new Error('it was refused')
  return done.value.state
}
const start = stateOf({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [],
  script: [],
})

it('should name a second person beside the first, and rename either', () => {
  const { id, change } = anotherPerson(start, 'Ona Brekke')
  const two = applied(start, change)
  expect(breakdownOf(two).subjects).toEqual([
    { id: 's1', name: 'Nela Varga' },
    { id, name: 'Ona Brekke' },
  ])
  expect(breakdownOf(applied(two, renamePerson(two, id, 'Ona Lind'))).subjects?.map(({ name }) => name)).toEqual(['Nela Varga', 'Ona Lind'])
})

it('should do nothing for a name that stays, or a person who is gone', () => {
  expect(renamePerson(start, 's1', 'Nela Varga')).toBeNull()
  expect(renamePerson(start, 's2', 'Ona Brekke')).toBeNull()
})
