import { existsSync, mkdtempSync, realpathSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Edit } from '../../app/edit/edit'
import { Breakdown } from '../../app/project/breakdown'
import { createProject } from '../../main/store/create-project'
import { openProject } from '../../main/store/open-project'
import { program, startEngine } from '../killable-engine'
import { openWindow, type TestWindow } from '../open-door'
import { validDocument } from '../valid-document'

/// The built engine, killed in the middle of two windows' work. What was acknowledged is on the disk.

const ROUNDS = 6
let folder: string
let project: string

beforeAll(() => {
  expect(existsSync(program)).toBe(true)
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'claimframe-killed-')))
  project = join(folder, 'killed.claimframe')
  expect(createProject(project, Breakdown.parse(validDocument())).ok).toBe(true)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/// Adds subjects one after the other, and undoes every fifth, until the engine is gone. Answers what was acknowledged.
async function work(window: TestWindow, name: string, onAcknowledged: () => void): Promise<Map<string, 'there' | 'gone'>> {
  const acknowledged = new Map<string, 'there' | 'gone'>()
  for (let i = 0; ; i++) {
    const id = `${name}-${i}`
    const state = await window.client.call('project.state', {})
    if (!state.ok) return acknowledged
    const edit: Edit = {
      id,
      label: `Add ${id}`,
      group: null,
      steps: [],
      diffs: [
        { table: 'subjects', change: 'added', key: id, record: { id, name: id }, after: state.value.replica.subjects.at(-1)?.id ?? null },
      ],
      selection: null,
      base: state.value.version,
    }
    const applied = await window.client.call('edit.apply', { edit })
    if (!applied.ok) {
      if (applied.error.code === 'engine-gone') return acknowledged
      throw new Error(applied.error.message)
    }
    acknowledged.set(id, 'there')
    onAcknowledged()
    if (i % 5 !== 4) continue
    const undone = await window.client.call('edit.undo', {})
    if (!undone.ok) {
      // It may or may not have been done before the end.
      if (undone.error.code === 'engine-gone') return new Map([...acknowledged].filter(([key]) => key !== id))
      throw new Error(undone.error.message)
    }
    for (const diff of undone.value.edits.flatMap((each) => each.diffs)) if (diff.change === 'removed') acknowledged.set(diff.key, 'gone')
  }
}

it('an engine that is killed has lost nothing that it acknowledged, and its project opens again at once', async () => {
  const all = new Map<string, 'there' | 'gone'>()
  for (let round = 0; round < ROUNDS; round++) {
    const { newAddress, kill } = await startEngine(project, join(folder, 'state'))
    const windows = [await openWindow(await newAddress()), await openWindow(await newAddress())]
    // Once some are acknowledged: a busy machine takes its time.
    let told = 0
    let enough = (): void => undefined
    const begun = new Promise<void>((done) => (enough = done))
    const works = windows.map((window, i) => work(window, `r${round}w${i}`, () => void (++told >= 12 && enough())))
    const undoneElsewhere = new Set<string>()
    const ended = begun.then(() => new Promise((done) => setTimeout(done, 117 * round))).then(kill)
    for (const found of await Promise.all(works))
      for (const [id, state] of found) {
        if (state === 'gone') undoneElsewhere.add(id)
        else if (!undoneElsewhere.has(id)) all.set(id, state)
      }
    for (const id of undoneElsewhere) all.set(id, 'gone')
    await ended
    const reopened = openProject(project)
    if (!reopened.ok) throw reopened.error
    const there = new Set(reopened.value.state.tables.subjects.keys)
    // An undo that was under way when the engine ended may have taken back one subject of either window.
    const missing = [...all].filter(([id, state]) => state === 'there' && !there.has(id)).map(([id]) => id)
    const last = reopened.value.history(2).filter(({ kind }) => kind === 'undo').length
    expect(missing.length).toBeLessThanOrEqual(last)
    for (const id of missing) all.set(id, 'gone')
    expect([...all].filter(([id, state]) => state === 'gone' && there.has(id))).toEqual([])
    reopened.value.close()
  }
  expect(all.size).toBeGreaterThan(50)
})
