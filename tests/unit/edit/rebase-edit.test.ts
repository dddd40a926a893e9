import fc from 'fast-check'
import { expect, it } from 'vitest'
import { applyEdit } from '../../../app/edit/apply-edit'
import type { Edit } from '../../../app/edit/edit'
import { breakdownOf, stateOf, type ProjectState } from '../../../app/edit/project-state'
import { rebaseEdit } from '../../../app/edit/rebase-edit'
import { CodedError } from '../../../app/errors/coded-error'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Caret } from '../../../app/edit/edit'
import { scriptSchema } from '../../../app/script/schema'
import { breakdownArbitrary } from '../../breakdown-arbitrary'
import { editOf, gestureArbitrary } from '../../edit-arbitrary'
import { validDocument } from '../../valid-document'

const start = stateOf(validDocument() as unknown as Breakdown)
const typed = (id: string, at: number, text: string, caret: Caret | null = null): Edit => ({
  id,
  label: 'Typing',
  group: null,
  steps: [{ stepType: 'replace', from: at, to: at, slice: { content: [scriptSchema.text(text).toJSON() as unknown] } }],
  diffs: [],
  selection: caret && { before: caret, after: caret },
  base: 0,
})

it('should carry words and caret behind what was typed before them', () => {
  const paragraph = (start.script.firstChild?.nodeSize ?? 0) + 1
  const rebased = rebaseEdit(typed('b', paragraph + 4, 'BB', { anchor: paragraph + 4, head: paragraph + 4 }), [
    typed('a', paragraph, 'AAA'),
  ])
  if (!rebased.ok) throw rebased.error
  expect(rebased.value.steps[0]).toMatchObject({ from: paragraph + 7, to: paragraph + 7 })
  expect(rebased.value.selection?.after).toEqual({ anchor: paragraph + 7, head: paragraph + 7 })
  expect(rebased.value.base).toBe(1)
})

it('should keep what was typed into words of one’s own, though the place moved', () => {
  const paragraph = (start.script.firstChild?.nodeSize ?? 0) + 1
  const two = {
    ...typed('b', paragraph + 4, 'BB'),
    steps: [...typed('b', paragraph + 4, 'BB').steps, ...typed('b', paragraph + 5, 'xx').steps],
  }
  const before = applyEdit(start, typed('a', paragraph, 'AAA'))
  if (!before.ok) throw before.error
  const rebased = rebaseEdit(two, [before.value.edit])
  if (!rebased.ok) throw rebased.error
  const after = applyEdit(before.value.state, rebased.value)
  if (!after.ok) throw after.error
  expect(after.value.state.script.textContent).toContain('BxxB')
})

it('should bring edits made on any older version in, or refuse them alone; replicas that follow agree, and taking all back leads to the start', () => {
  let rebased = 0
  let refused = 0
  fc.assert(
    fc.property(
      breakdownArbitrary,
      fc.array(fc.record({ gesture: gestureArbitrary, behind: fc.nat(4) }), { minLength: 3, maxLength: 25 }),
      (breakdown, moves) => {
        const states: ProjectState[] = [stateOf(breakdown)]
        const log: Edit[] = []
        const inverses: Edit[] = []
        moves.forEach(({ gesture, behind }, i) => {
          const known = states[Math.max(0, states.length - 1 - behind)]!
          const edit = editOf(gesture, known, `g${i}`)
          if (!edit) return
          const fresh = rebaseEdit(edit, log.slice(known.version))
          const applied = fresh.ok ? applyEdit(states.at(-1)!, fresh.value) : fresh
          if (!applied.ok) {
            expect(applied.error).toBeInstanceOf(CodedError)
            // Made on the newest version, nothing stands against it.
            expect(known, applied.error.message).not.toBe(states.at(-1))
            refused++
            return
          }
          if (known !== states.at(-1)) rebased++
          states.push(applied.value.state)
          log.push(applied.value.edit)
          inverses.push(applied.value.inverse)
        })
        let replica = states[0]!
        for (const edit of log) {
          const followed = applyEdit(replica, JSON.parse(JSON.stringify(edit)) as Edit)
          if (!followed.ok) throw followed.error
          replica = followed.value.state
        }
        expect(breakdownOf(replica)).toEqual(breakdownOf(states.at(-1)!))
        inverses.toReversed().forEach((inverse, i) => {
          const back = applyEdit(replica, { ...inverse, base: replica.version })
          if (!back.ok) throw back.error
          replica = back.value.state
          expect(breakdownOf(replica)).toEqual(breakdownOf(states[states.length - 2 - i]!))
        })
        expect(replica.script.eq(states[0]!.script)).toBe(true)
      },
    ),
    { numRuns: 150 },
  )
  expect(rebased).toBeGreaterThan(200)
  expect(refused).toBeLessThan(rebased)
})
