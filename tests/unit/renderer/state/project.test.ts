import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { leaveQuestion, leavesAllTheSame } from '../../../../main/desktop/leave-question'
import { JSON_LIMIT_BYTES } from '../../../../main/engine/read-body'
import { createProject } from '../../../../main/store/create-project'
import type { ProjectState } from '../../../../app/edit/project-state'
import type { Breakdown } from '../../../../app/project/breakdown'
import { remove } from '../../../../renderer/footage/removal'
import { framesOf } from '../../../../renderer/player/films'
import { editPlaceWords, goTo, placeNow } from '../../../../renderer/state/place'
import { Project, type EditChange } from '../../../../renderer/state/project'
import type { FilmFacts, FilmTable } from '../../../../app/contract/footage-calls'
import { openTestDoor, openWindow, type OpenedDoor } from '../../../open-door'

/// The window's replica against a real engine behind a real door.

let opened: OpenedDoor
let project: Project
const real = globalThis.fetch

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Kept',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 50, capture: 'unknown', name: 'entry' }],
  events: [{ id: 'e1', clip: 'c1', name: 'plant', earliest: 12, latest: 13 }],
  script: [{ id: 'p1', text: ['Words.'] }],
}
const file = (name: string): string => join(opened.folder, `${name}.claimframe`)

// One window throughout: where a person is belongs to the window, whatever project is in it.
beforeAll(async () => {
  opened = await openTestDoor()
  for (const name of ['one', 'other']) expect(createProject(file(name), breakdown).ok).toBe(true)
  const samples = [{ frame: 12, at: [10, 10] as [number, number], sigma: 1 }]
  expect(
    createProject(file('marked'), {
      ...breakdown,
      subjects: [{ id: 's1', name: 'Nela Varga' }],
      landmarks: [{ clip: 'c1', subject: 's1', point: 'knee.left', samples }],
    }).ok,
  ).toBe(true)
  const window = await openWindow(opened.door.newAddress())
  vi.stubGlobal('fetch', (address: string, init: RequestInit) =>
    real(new URL(address, window.at), { ...init, headers: { ...(init.headers as Record<string, string>), ...window.headers } }),
  )
  project = new Project()
})
beforeEach(async () => {
  if (project.shown().phase === 'open') await project.close()
  await project.open(file('one'))
  while (project.shown().kept.length > 0) project.putAway(0)
})
afterAll(async () => {
  vi.unstubAllGlobals()
  await opened.close()
})

describe('words of refused edits', () => {
  it('should all stand, the earliest first, until each is put away', async () => {
    project.keep('the first batch')
    project.keep('the second')
    project.keep('  ')
    expect(project.shown().kept).toEqual(['the first batch', 'the second'])
    project.dismiss()
    expect(project.shown().kept).toHaveLength(2)
    project.putAway(0)
    expect(project.shown().kept).toEqual(['the second'])
  })

  it('should outlive the project’s being closed and read again', async () => {
    project.keep('said in the first one')
    expect(await project.close()).toBeNull()
    expect(project.shown()).toMatchObject({ phase: 'none', kept: ['said in the first one'] })
    await project.open(file('one'))
    expect(project.shown()).toMatchObject({ phase: 'open', kept: ['said in the first one'] })
  })
})

describe('what is not on the disk yet', () => {
  const rename = (name: string) => () => ({
    label: 'Name the clip',
    steps: [],
    diffs: [
      {
        table: 'clips' as const,
        key: 'c1',
        change: 'updated' as const,
        from: project.shown().state!.tables.clips.get('c1')!,
        to: { ...breakdown.clips[0]!, name },
      },
    ],
  })
  /// Holds calls of one name back until it is let go.
  const hold = (name: string): (() => void) => {
    let free = (): void => undefined
    const freed = new Promise<void>((done) => (free = done))
    const through = globalThis.fetch
    vi.stubGlobal('fetch', async (address: string, init: RequestInit) => {
      if (String(address).endsWith(name)) await freed
      return through(address, init)
    })
    return () => {
      vi.stubGlobal('fetch', through)
      free()
    }
  }

  it('should never be called saved: not while it waits for an edit before it, nor for that one’s answer', async () => {
    await vi.waitFor(() => expect(project.shown().saving).toBe(false))
    const letGo = hold('edit.apply')
    const first = project.edit(rename('one'))
    expect([project.shown().saving, project.leaving()]).toEqual([true, true])
    const second = project.edit(rename('two'))
    letGo()
    await first
    expect([project.shown().saving, project.leaving()]).toEqual([true, true])
    await second
    expect(project.leaving()).toBe(false)
    expect(opened.engine.workspace.opened.project.state.tables.clips.get('c1')?.name).toBe('two')
    await vi.waitFor(() => expect(project.shown().saving).toBe(false))
    await project.undo('undo')
    await project.undo('undo')
  })

  it('should count while samples that it waits for are being read, and when it came to nothing', async () => {
    await project.close()
    const letGo = hold('landmarks.samples')
    const opening = project.open(file('marked'))
    await vi.waitFor(() => expect(project.shown().phase).toBe('open'))
    const edit = project.edit(rename('three'))
    const nothing = project.edit(() => null)
    await new Promise((done) => setTimeout(done, 400))
    expect([project.shown().saving, project.leaving()]).toEqual([true, true])
    letGo()
    await Promise.all([opening, edit, nothing])
    expect(project.leaving()).toBe(false)
    await vi.waitFor(() => expect(project.shown().saving).toBe(false))
    expect(opened.engine.workspace.opened.project.state.tables.clips.get('c1')?.name).toBe('three')
  })

  it('should count while something is being taken back', async () => {
    await project.edit(rename('four'))
    await vi.waitFor(() => expect(project.shown().saving).toBe(false))
    const letGo = hold('edit.undo')
    const undone = project.undo('undo')
    expect([project.shown().saving, project.leaving()]).toEqual([true, true])
    letGo()
    await undone
    expect(project.leaving()).toBe(false)
  })

  it('should be asked about by the desktop’s shell with staying as the answer of Enter and Escape', () => {
    const { buttons, defaultId, cancelId } = leaveQuestion
    expect(buttons?.map((_, i) => leavesAllTheSame(i))).toEqual([false, true])
    expect([defaultId, cancelId].map((id) => leavesAllTheSame(id!))).toEqual([false, false])
  })
})

it('should take a clip away with more samples than one call may carry, and bring all of it back', { timeout: 60_000 }, async () => {
  await project.close()
  const many = Array.from({ length: 30 }, (_, p) => ({
    clip: 'c1',
    subject: 's1',
    point: `ring.${p}`,
    samples: Array.from({ length: 5000 }, (_, frame) => ({
      frame,
      at: [20 + p * 9.125, 40.375 + frame / 64] as [number, number],
      sigma: 2.5,
      origin: 'tracked' as const,
    })),
  }))
  expect(JSON.stringify(many).length).toBeGreaterThan(JSON_LIMIT_BYTES)
  expect(
    createProject(file('many'), {
      ...breakdown,
      subjects: [{ id: 's1', name: 'Nela Varga' }],
      clips: [{ ...breakdown.clips[0]!, to: 5000 }],
      landmarks: many,
    }).ok,
  ).toBe(true)
  await project.open(file('many'))
  remove(project, { table: 'clips', id: 'c1' }, 'entry')
  await vi.waitFor(() => expect(project.leaving()).toBe(false), { timeout: 20_000 })
  expect(project.shown().refusal).toBeNull()
  expect([project.shown().breakdown?.clips, project.shown().breakdown?.landmarks]).toEqual([[], []])
  expect(opened.engine.workspace.opened.project.state.tables.packs.size).toBe(0)
  await project.undo('undo')
  expect(project.shown().breakdown?.landmarks).toEqual(many)
  expect(opened.engine.workspace.opened.project.breakdown().landmarks).toEqual(many)
})

describe('another project in the window', () => {
  it('should begin where every project begins, with nothing of the one before in hand', async () => {
    goTo({ room: 'Bench', clip: 'c1', frame: 20, subject: 's1', paragraph: 'p1' })
    await project.close()
    await project.open(file('other'))
    expect(placeNow()).toEqual({ room: 'Script', clip: null, frame: null, subject: null, paragraph: null, claim: null, form: null })
  })

  const facts = (parts: Partial<FilmFacts> = {}): FilmFacts => ({
    id: 'f1',
    file: 'a.mp4',
    state: 'ready',
    refusal: null,
    job: null,
    width: 16,
    height: 16,
    frames: 2,
    rate: { n: 30, d: 1 },
    variable: false,
    duration_s: 0.1,
    codec: 'h264',
    bytes: 1000,
    sound: false,
    coding: null,
    fields: null,
    captureRate: null,
    warnings: [],
    shared: [],
    proxy: 'making',
    ...parts,
  })
  const table: FilmTable = {
    id: 'f1',
    base: { n: 1, d: 30 },
    pts: [0, 1],
    end: 2,
    rate: { n: 30, d: 1 },
    picture: { width: 16, height: 16 },
    keyframes: [0],
  }
  const frames = (film: FilmFacts) => framesOf('f1', { films: new Map([['f1', film]]), tables: new Map([['f1', { ...table }]]) })

  it('should not be shown frames of the one before, nor of a film that had the id before', async () => {
    const first = frames(facts())
    expect(frames(facts({ proxy: 'ready' }))).toBe(first)
    expect(frames(facts({ file: 'b.mp4' }))).not.toBe(first)
    const second = frames(facts())
    expect(frames(facts({ bytes: 1001 }))).not.toBe(second)
    const last = frames(facts({ bytes: 1001 }))
    await project.close()
    await project.open(file('other'))
    expect(frames(facts({ bytes: 1001 }))).not.toBe(last)
  })
})

describe('undo', () => {
  it('should say where it acts, and go there first', async () => {
    const event = breakdown.events![0]!
    await project.edit({
      label: 'Move plant',
      steps: [],
      diffs: [{ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, earliest: 20, latest: 21 } }],
    })
    const { next } = project.shown()
    expect(editPlaceWords(next.undo!.place, breakdown)).toBe('on the Bench, entry, frame 20')
    goTo({ room: 'Release', clip: null, frame: null })
    await project.undo('undo')
    expect(placeNow()).toMatchObject({ room: 'Bench', clip: 'c1', frame: 20 })
    expect(project.shown().breakdown?.events?.[0]?.earliest).toBe(12)
    const clip = breakdown.clips[0]!
    await project.edit({
      label: 'Change entry',
      steps: [],
      diffs: [{ table: 'clips', key: 'c1', change: 'updated', from: clip, to: { ...clip, name: 'the entry' } }],
    })
    expect(editPlaceWords(project.shown().next.undo!.place, breakdown)).toBe('in Footage')
  })

  const span = (state: ProjectState, parts: { readonly earliest?: number; readonly latest?: number }, label: string): EditChange => {
    const event = state.tables.events.get('e1')!
    return { label, steps: [], diffs: [{ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, ...parts } }] }
  }

  it('should come in its turn: what is done right after it is done on what it leaves', async () => {
    await project.edit((state) => span(state, { earliest: 10 }, 'Earlier'))
    const undone = project.undo('undo')
    const done = project.edit((state) => span(state, { latest: 15 }, 'Later'))
    await Promise.all([undone, done])
    expect(project.shown().refusal).toBeNull()
    expect(project.shown().breakdown?.events?.[0]).toMatchObject({ earliest: 12, latest: 15 })
    expect(project.shown().next.undo?.label).toBe('Later')
    await project.undo('undo')
  })

  it('should never offer again what news that comes late told of', async () => {
    let release = (): void => undefined
    const released = new Promise<void>((done) => (release = done))
    const stubbed = globalThis.fetch
    const late: Promise<unknown>[] = []
    vi.stubGlobal('fetch', async (address: string, init: RequestInit) => {
      const answer = await stubbed(address, init)
      if (!address.startsWith('events') || !(await answer.clone().text()).includes('"First"')) return answer
      late.push(released)
      await released
      return answer
    })
    // The question that waits already was asked before: the next one is held.
    await project.edit((state) => span(state, { earliest: 11 }, 'Before'))
    await expect
      .poll(async () => {
        await project.edit((state) => span(state, { earliest: state.tables.events.get('e1')!.earliest === 11 ? 10 : 11 }, 'First'))
        return late.length
      })
      .toBeGreaterThan(0)
    await project.edit((state) => span(state, { latest: 16 }, 'Second'))
    const offered: string[] = []
    const leave = project.subscribe(() => offered.push(project.shown().next.undo?.label ?? ''))
    release()
    await project.edit((state) => span(state, { latest: 17 }, 'Third'))
    await expect.poll(() => offered.includes('Third')).toBe(true)
    await new Promise((done) => setTimeout(done, 300))
    leave()
    vi.stubGlobal('fetch', stubbed)
    expect(offered).not.toContain('First')
  })
})
