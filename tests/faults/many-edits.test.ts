import fc from 'fast-check'
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, realpathSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { callAddress } from '../../app/contract/addresses'
import { stateOfReplica } from '../../app/contract/replica'
import { applyEdit } from '../../app/edit/apply-edit'
import type { Edit } from '../../app/edit/edit'
import { breakdownOf, stateOf, type ProjectState } from '../../app/edit/project-state'
import { Breakdown } from '../../app/project/breakdown'
import { createProject } from '../../main/store/create-project'
import { openProject } from '../../main/store/open-project'
import { editOf, gestureArbitrary, type Gesture } from '../edit-arbitrary'
import { program, startEngine } from '../killable-engine'
import { openWindow, type TestWindow } from '../open-door'
import { validDocument } from '../valid-document'

/// Five hundred random edits of every kind, taken back and done again between, by two windows of the built engine and by
/// a writer at the command line while no engine runs; engines and windows are killed at random. Whatever was acknowledged
/// is there after the project is opened again, and every record and word is what the edits make of it.

const WANTED = 500
/// Engines killed at least, however quickly a machine makes the edits.
const KILLS = 10
const gestures: readonly Gesture[] = fc.sample(gestureArbitrary, { numRuns: 4000, seed: 20261125 })
let folder: string
let project: string
let taken = 0
const nextGesture = (): Gesture => gestures[taken++ % gestures.length] as Gesture

beforeAll(() => {
  expect(existsSync(program)).toBe(true)
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'claimframe-many-')))
  project = join(folder, 'many.claimframe')
  expect(createProject(project, Breakdown.parse(validDocument())).ok).toBe(true)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/// What has been acknowledged so far: every edit under the version that it led to.
class Ledger {
  readonly edits = new Map<number, Edit>()
  #state: ProjectState
  own = 0

  constructor(state: ProjectState) {
    this.#state = state
  }

  /// Throws where two answers tell of different edits under one version.
  take(edits: readonly Edit[]): void {
    for (const edit of edits) {
      const known = this.edits.get(edit.base + 1)
      if (known) expect(JSON.stringify(edit)).toBe(JSON.stringify(known))
      this.edits.set(edit.base + 1, edit)
    }
  }

  /// The project as far as it is known without a gap.
  get state(): ProjectState {
    for (let next = this.edits.get(this.#state.version + 1); next; next = this.edits.get(this.#state.version + 1)) {
      const applied = applyEdit(this.#state, next)
      if (!applied.ok) throw applied.error
      this.#state = applied.value.state
    }
    return this.#state
  }

  get latest(): number {
    return Math.max(this.#state.version, ...this.edits.keys())
  }
}

/// One window at work until the engine is gone. Now and then the window itself goes in the middle of a request, and
/// another one is opened.
async function work(open: () => Promise<TestWindow>, name: string, ledger: Ledger): Promise<void> {
  let window = await open()
  let state: ProjectState | null = null
  for (let i = 0; ; i++) {
    if (!state) {
      const answer = await window.client.call('project.state', {})
      if (!answer.ok) return
      state = stateOfReplica(answer.value.replica)
    }
    const dice = taken % 17
    if (dice === 5 || dice === 11) {
      taken++
      const answer = await window.client.call(dice === 5 ? 'edit.undo' : 'edit.redo', {})
      if (!answer.ok && answer.error.code === 'engine-gone') return
      // What another window has changed since cannot be taken back: said, and nothing is changed.
      if (answer.ok) ledger.take(answer.value.edits)
      state = null
      continue
    }
    const gesture = nextGesture()
    // Samples lie in the project, not in a window's replica: such an edit is made where all is known.
    const whole: ProjectState = gesture.kind === 'samples' ? ledger.state : state
    const edit: Edit | null = whole.version === state.version ? editOf(gesture, whole, `${name}-${i}`) : null
    if (!edit) continue
    if (dice === 7) {
      // The window is gone before it hears the answer.
      const gone = new AbortController()
      const asked = window
        .fetch(callAddress('edit.apply'), {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify({ edit }),
          signal: gone.signal,
        })
        .catch(() => null)
      await new Promise((done) => setTimeout(done, taken % 5))
      gone.abort()
      await asked
      const next = await open().catch(() => null)
      if (!next) return
      window = next
      state = null
      continue
    }
    const answer: Awaited<ReturnType<typeof window.client.call<'edit.apply'>>> = await window.client.call('edit.apply', { edit })
    if (!answer.ok) {
      if (answer.error.code === 'engine-gone') return
      expect(['edit-conflict', 'edit-refused']).toContain(answer.error.code)
      state = null
      continue
    }
    ledger.own++
    ledger.take(answer.value.edits)
    const last: Edit | undefined = answer.value.edits.at(-1)
    let followed: ProjectState | null = state
    for (const each of answer.value.edits) {
      const applied: ReturnType<typeof applyEdit> | null = followed && applyEdit(followed, each)
      followed = applied?.ok ? applied.value.state : null
    }
    state = last ? followed : null
  }
}

/// A writer at the command line: opens the project itself, and writes some edits of its own.
function writeAlone(ledger: Ledger): void {
  const opened = openProject(project)
  if (!opened.ok) throw opened.error
  for (let i = 0; i < 8; i++) {
    const edit = editOf(nextGesture(), { ...stateOf(opened.value.breakdown()), version: opened.value.version }, `alone-${taken}`)
    if (!edit) continue
    const applied = opened.value.apply(edit)
    if (!applied.ok) throw applied.error
    ledger.take(opened.value.editsAfter(edit.base))
    ledger.own++
  }
  opened.value.close()
}

it('should keep five hundred acknowledged edits, whoever is killed', { timeout: 600_000 }, async () => {
  const before = openProject(project, { readOnly: true })
  if (!before.ok) throw before.error
  const ledger = new Ledger(stateOf(before.value.breakdown()))
  before.value.close()
  let rounds = 0
  for (; ledger.own < WANTED || rounds < KILLS; rounds++) {
    const { newAddress, kill } = await startEngine(project, join(folder, 'state'))
    const open = async (): Promise<TestWindow> => openWindow(await newAddress())
    const works = [work(open, `r${rounds}a`, ledger), work(open, `r${rounds}b`, ledger)]
    const dumped = rounds === 1 ? spawnSync(process.execPath, [program, 'dump', project], { encoding: 'utf8' }) : null
    if (dumped) expect(Breakdown.safeParse(JSON.parse(dumped.stdout)).success).toBe(true)
    const ended = new Promise((done) => setTimeout(done, 1300 + ((rounds * 377) % 1700))).then(kill)
    await Promise.allSettled(works).then((results) =>
      results.forEach(
        (result) =>
          result.status === 'rejected' &&
          !/engine|fetch failed|ended without|refused/.test(String(result.reason)) &&
          expect.fail(String(result.reason)),
      ),
    )
    await ended
    // Edits that were committed and whose answer nobody heard are read from the project itself.
    const reopened = openProject(project)
    if (!reopened.ok) throw reopened.error
    expect(reopened.value.version).toBeGreaterThanOrEqual(ledger.latest)
    ledger.take(reopened.value.editsAfter(ledger.state.version))
    expect(ledger.state.version).toBe(reopened.value.version)
    expect(breakdownOf(ledger.state)).toEqual(reopened.value.breakdown())
    expect(ledger.state.script.toJSON()).toEqual(reopened.value.state.script.toJSON())
    reopened.value.close()
    writeAlone(ledger)
  }
  const last = openProject(project, { readOnly: true })
  if (!last.ok) throw last.error
  expect(breakdownOf(ledger.state)).toEqual(last.value.breakdown())
  last.value.close()
  console.info(
    `${ledger.own} edits acknowledged, ${ledger.edits.size} committed with undo and redo, ${rounds} engines killed: 0 lost, 0 mismatches`,
  )
})
