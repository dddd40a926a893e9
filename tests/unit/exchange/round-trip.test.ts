import fc from 'fast-check'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { breakdownOf, stateOf } from '../../../app/edit/project-state'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { writeBreakdown } from '../../../app/exchange/breakdown-writing'
import { nodeToScript, scriptToNode } from '../../../app/script/conversion'
import { createProject } from '../../../main/store/create-project'
import { dumpProject } from '../../../main/store/dump-project'
import { breakdownArbitrary } from '../../breakdown-arbitrary'

const folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('a breakdown', () => {
  it('should be read from its own JSON without a problem, and written as the same JSON', () => {
    fc.assert(
      fc.property(breakdownArbitrary, (breakdown) => {
        const text = JSON.stringify(breakdown)
        const read = readBreakdown(text, 'a.json')
        if (!read.ok) throw read.error
        expect(JSON.parse(writeBreakdown(read.value))).toEqual(JSON.parse(text))
      }),
      { numRuns: 150 },
    )
  })

  it('should come back from the state that edits are applied to', () => {
    fc.assert(
      fc.property(breakdownArbitrary, (breakdown) => {
        expect(breakdownOf(stateOf(breakdown))).toEqual(breakdown)
        expect(nodeToScript(scriptToNode(breakdown.script)).map((entry) => ('text' in entry ? entry.text : entry.chapter))).toEqual(
          breakdown.script.map((entry) => ('text' in entry ? entry.text : entry.chapter)),
        )
      }),
      { numRuns: 150 },
    )
  })

  it('should come back from a project file, equal to what went in', () => {
    let n = 0
    fc.assert(
      fc.property(breakdownArbitrary, (breakdown) => {
        const path = join(folder, `${n++}.claimframe`)
        const made = createProject(path, breakdown)
        if (!made.ok) throw made.error
        const dumped = dumpProject(path)
        if (!dumped.ok) throw dumped.error
        expect(dumped.value).toEqual(breakdown)
      }),
      { numRuns: 60 },
    )
  })
})
