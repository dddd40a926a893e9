import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { createProject } from '../../../../main/store/create-project'
import type { Breakdown } from '../../../../app/project/breakdown'
import { framesOf } from '../../../../renderer/player/films'
import { editPlaceWords, goTo, placeNow } from '../../../../renderer/state/place'
import { Project } from '../../../../renderer/state/project'
import type { FilmFacts, FilmTable } from '../../../../app/contract/footage-calls'
import { openTestDoor, openWindow, type OpenedDoor } from '../../../open-door'

/// The window's replica against a real engine behind a real door.

let opened: OpenedDoor
let project: Project
const real = globalThis.fetch

const breakdown: Breakdown = {
  format: 'claimframe-breakdown', version: 1, title: 'Kept', output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }], subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 50, capture: 'unknown', name: 'entry' }],
  events: [{ id: 'e1', clip: 'c1', name: 'plant', earliest: 12, latest: 13 }],
  script: [{ id: 'p1', text: ['Words.'] }],
}
const file = (name: string): string => join(opened.folder, `${name}.claimframe`)

// One window throughout: where a person is belongs to the window, whatever project is in it.
beforeAll(async () => {
  opened = await openTestDoor()
  for (const name of ['one', 'other']) expect(createProject(file(name), breakdown).ok).toBe(true)
  const window = await openWindow(opened.door.newAddress())
  vi.stubGlobal('fetch', (address: string, init: RequestInit) => real(new URL(address, window.at), { ...init, headers: { ...(init.headers as Record<string, string>), ...window.headers } }))
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

describe('another project in the window', () => {
  it('should begin where every project begins, with nothing of the one before in hand', async () => {
    goTo({ room: 'Bench', clip: 'c1', frame: 20, paragraph: 'p1' })
    await project.close()
    await project.open(file('other'))
    expect(placeNow()).toEqual({ room: 'Script', clip: null, frame: null, paragraph: null })
  })

  const facts = (parts: Partial<FilmFacts> = {}): FilmFacts => ({ id: 'f1', file: 'a.mp4', state: 'ready', refusal: null, job: null, width: 16, height: 16, frames: 2, rate: { n: 30, d: 1 }, variable: false, duration_s: 0.1, codec: 'h264', bytes: 1000, sound: false, coding: null, fields: null, captureRate: null, warnings: [], shared: [], proxy: 'making', ...parts })
  const table: FilmTable = { id: 'f1', base: { n: 1, d: 30 }, pts: [0, 1], end: 2, rate: { n: 30, d: 1 }, picture: { width: 16, height: 16 }, keyframes: [0] }
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
    await project.edit({ label: 'Move plant', steps: [], diffs: [{ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, earliest: 20, latest: 21 } }] })
    const { next } = project.shown()
    expect(editPlaceWords(next.undo!.place, breakdown)).toBe('on the Bench, entry, frame 20')
    goTo({ room: 'Release', clip: null, frame: null })
    await project.undo('undo')
    expect(placeNow()).toMatchObject({ room: 'Bench', clip: 'c1', frame: 20 })
    expect(project.shown().breakdown?.events?.[0]?.earliest).toBe(12)
    const clip = breakdown.clips[0]!
    await project.edit({ label: 'Change entry', steps: [], diffs: [{ table: 'clips', key: 'c1', change: 'updated', from: clip, to: { ...clip, name: 'the entry' } }] })
    expect(editPlaceWords(project.shown().next.undo!.place, breakdown)).toBe('in Footage')
  })
})
