import fc from 'fast-check'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, it } from 'vitest'
import { breakdownOf, stateOf } from '../../../app/edit/project-state'
import type { Breakdown } from '../../../app/project/breakdown'
import { createProject } from '../../../main/store/create-project'
import { dumpProject } from '../../../main/store/dump-project'
import { openProject } from '../../../main/store/open-project'
import type { Project } from '../../../main/store/project'
import { breakdownArbitrary } from '../../breakdown-arbitrary'
import { checkEdit } from '../../check-edit'
import { editOf, gestureArbitrary } from '../../edit-arbitrary'

const folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const open = (path: string): Project => {
  const opened = openProject(path)
  if (!opened.ok) throw opened.error
  return opened.value
}
const dump = (path: string): Breakdown => {
  const dumped = dumpProject(path)
  if (!dumped.ok) throw dumped.error
  return dumped.value
}

it('should keep every random edit on the disk as in memory, take them back one by one over restarts, and do them again', () => {
  let n = 0
  let edits = 0
  fc.assert(
    fc.property(breakdownArbitrary, fc.array(gestureArbitrary, { minLength: 8, maxLength: 25 }), (breakdown, gestures) => {
      const path = join(folder, `${n++}.claimframe`)
      const made = createProject(path, breakdown)
      if (!made.ok) throw made.error
      let project = open(path)
      let state = stateOf(breakdown)
      const past = [breakdownOf(state)]
      gestures.forEach((gesture, i) => {
        const edit = editOf(gesture, state, `g${i}`)
        if (!edit) return
        state = checkEdit(state, edit, () => undefined, project)
        past.push(breakdownOf(state))
      })
      edits += past.length - 1
      expect(dump(path)).toEqual(past.at(-1))
      for (let i = past.length - 2; i >= 0; i--) {
        if (i % 5 === 0) {
          project.close()
          project = open(path)
        }
        expect(project.undo()).toMatchObject({ ok: true, value: { kind: 'undo' } })
        expect(project.breakdown()).toEqual(past[i])
      }
      expect(project.undo()).toEqual({ ok: true, value: null })
      for (const wanted of past.slice(1)) {
        expect(project.redo()).toMatchObject({ ok: true, value: { kind: 'redo' } })
        expect(project.breakdown()).toEqual(wanted)
      }
      project.close()
      expect(dump(path)).toEqual(past.at(-1))
    }),
    { numRuns: 30 },
  )
  expect(edits).toBeGreaterThan(150)
}, 120_000)
