import fc from 'fast-check'
import { expect, it } from 'vitest'
import { applyEdit } from '../../../app/edit/apply-edit'
import type { Edit } from '../../../app/edit/edit'
import { breakdownOf, stateOf } from '../../../app/edit/project-state'
import { squashEdits } from '../../../app/edit/squash-edits'
import { breakdownArbitrary } from '../../breakdown-arbitrary'
import { editOf, gestureArbitrary } from '../../edit-arbitrary'

it('should do in one edit what many do, and take it back in one', () => {
  fc.assert(
    fc.property(breakdownArbitrary, fc.array(gestureArbitrary, { minLength: 2, maxLength: 25 }), (breakdown, gestures) => {
      const start = stateOf(breakdown)
      let state = start
      const edits: Edit[] = []
      gestures.forEach((gesture, i) => {
        const edit = editOf(gesture, state, `g${i}`)
        if (!edit) return
        const applied = applyEdit(state, edit)
        if (!applied.ok) throw applied.error
        state = applied.value.state
        edits.push(applied.value.edit)
      })
      if (edits.length === 0) return
      const squashed = squashEdits(edits)
      expect(squashed.diffs.length).toBeLessThanOrEqual(edits.reduce((n, edit) => n + edit.diffs.length, 0))
      const once = applyEdit(start, squashed)
      if (!once.ok) throw once.error
      expect(breakdownOf(once.value.state)).toEqual(breakdownOf(state))
      const back = applyEdit(once.value.state, once.value.inverse)
      if (!back.ok) throw back.error
      expect(breakdownOf(back.value.state)).toEqual(breakdownOf(start))
    }),
    { numRuns: 150 },
  )
})

it('should draw the changes of one record together', () => {
  const event = { id: 'e1', clip: 'c1', name: 'plant', earliest: 1, latest: 2 }
  const base = { label: 'Drag', group: 'g', steps: [], selection: null }
  const drag = [3, 4, 5].map((latest, i): Edit => ({
    ...base,
    id: `${i}`,
    base: i,
    diffs: [{ table: 'events', key: 'e1', change: 'updated', from: { ...event, latest: latest - 1 }, to: { ...event, latest } }],
  }))
  expect(squashEdits(drag).diffs).toEqual([{ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, latest: 5 } }])
  const there: Edit = { ...base, id: 'a', base: 0, diffs: [{ table: 'events', key: 'e1', change: 'added', record: event, after: null }] }
  const gone: Edit = { ...base, id: 'r', base: 1, diffs: [{ table: 'events', key: 'e1', change: 'removed', record: event, after: null }] }
  expect(squashEdits([there, gone]).diffs).toEqual([])
})
