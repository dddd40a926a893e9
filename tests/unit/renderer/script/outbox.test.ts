import { join } from 'node:path'
import { EditorState, type Transaction } from 'prosemirror-state'
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import { createProject } from '../../../../main/store/create-project'
import { deleteRow } from '../../../../renderer/script/editor-commands'
import { Outbox } from '../../../../renderer/script/outbox'
import { stepBetween, unsentOf } from '../../../../renderer/script/unsent'
import { Project } from '../../../../renderer/state/project'
import { openTestDoor, openWindow, type OpenedDoor } from '../../../open-door'

/// What is typed goes to a real engine behind a real door; the editor is its state alone, without a view.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Sent',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [],
  subjects: [],
  clips: [],
  script: [
    { id: 'p1', text: ['One.'] },
    { id: 'p2', text: ['Two.'] },
  ],
}

let opened: OpenedDoor
let project: Project
let made = 0
const real = globalThis.fetch

beforeAll(async () => {
  opened = await openTestDoor()
  const window = await openWindow(opened.door.newAddress())
  vi.stubGlobal('fetch', (address: string, init: RequestInit) =>
    real(new URL(address, window.at), { ...init, headers: { ...(init.headers as Record<string, string>), ...window.headers } }),
  )
  project = new Project()
})
beforeEach(async () => {
  const file = join(opened.folder, `sent-${made++}.claimframe`)
  expect(createProject(file, breakdown).ok).toBe(true)
  await project.open(file)
})
afterAll(async () => {
  vi.unstubAllGlobals()
  await opened.close()
})

function openEditor() {
  const { script, version } = project.shown().state!
  let state = EditorState.create({ doc: script })
  const put = (tr: Transaction): void => void (state = state.apply(tr))
  const outbox = new Outbox(script, version, project, (now) => {
    const step = stepBetween(state.doc, now)
    if (step) put(state.tr.step(step))
  })
  const act = (tr: Transaction): void => {
    put(tr)
    outbox.add(unsentOf(tr, [tr], Date.now()))
    outbox.sendSoon()
  }
  return {
    outbox,
    act,
    type: (words: string, at: number): void => act(state.tr.insertText(words, at)),
    state: (): EditorState => state,
    words: (): string => state.doc.textBetween(0, state.doc.content.size, '|'),
  }
}
const kept = (): string =>
  opened.engine.workspace.opened.project
    .breakdown()
    .script.map((row) => ('text' in row ? row.text.join('') : ''))
    .join('|')

describe('what is typed', () => {
  it('should go together, while "saving" stands, and be one step back', async () => {
    const editor = openEditor()
    for (const [i, key] of [...'But '].entries()) editor.type(key, 1 + i)
    expect([project.shown().saving, project.leaving()]).toEqual([true, true])
    await editor.outbox.settled()
    expect([kept(), editor.words()]).toEqual(['But One.|Two.', 'But One.|Two.'])
    expect(project.leaving()).toBe(false)
    editor.outbox.leave()
    await project.undo('undo')
    expect(kept()).toBe('One.|Two.')
  })

  it('should follow behind what is on its way, on what it has become', async () => {
    const editor = openEditor()
    deleteRow(editor.state(), editor.act)
    editor.type('And ', 1)
    expect(editor.words()).toBe('And Two.')
    await editor.outbox.settled()
    expect([kept(), editor.words()]).toEqual(['And Two.', 'And Two.'])
    editor.outbox.leave()
  })

  it('should stand beside what was done elsewhere meanwhile', async () => {
    const editor = openEditor()
    editor.type('And ', 1)
    await project.edit((state) => ({
      label: 'Elsewhere',
      steps: [EditorState.create({ doc: state.script }).tr.insertText('Also ', 7).steps[0]!.toJSON()],
      diffs: [],
    }))
    const { script, version } = project.shown().state!
    editor.outbox.follow(script, version)
    expect(editor.words()).toBe('And One.|Also Two.')
    await editor.outbox.settled()
    expect(kept()).toBe('And One.|Also Two.')
    editor.outbox.leave()
  })

  it('should be held for the person where it was refused, and stand in the script no longer', async () => {
    const editor = openEditor()
    const stubbed = globalThis.fetch
    vi.stubGlobal('fetch', async (address: string, init: RequestInit) => {
      if (!String(address).endsWith('edit.apply')) return stubbed(address, init)
      return new Response('no answer', { status: 500 })
    })
    editor.type('Lost words ', 1)
    await editor.outbox.settled()
    vi.stubGlobal('fetch', stubbed)
    expect(project.shown().kept).toEqual(['Lost words '])
    expect([kept(), editor.words()]).toEqual(['One.|Two.', 'One.|Two.'])
    project.putAway(0)
    editor.outbox.leave()
  })
})
