import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import type { Edit } from '../../../app/edit/edit'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Release } from '../../../app/project/release'
import { createProject } from '../../../main/store/create-project'
import { openProject } from '../../../main/store/open-project'
import type { Project } from '../../../main/store/project'
import { validDocument } from '../../valid-document'

/// Publishing and the one undo: a version that went out is out.

let folder = ''
let project: Project
const open = (): Project => {
  const opened = openProject(join(folder, 'a.claimframe'))
  if (!opened.ok) throw opened.error
  return opened.value
}
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
  const made = createProject(join(folder, 'a.claimframe'), validDocument() as unknown as Breakdown)
  if (!made.ok) throw made.error
  project = open()
})
afterEach(() => {
  project.close()
  rmSync(folder, { recursive: true, force: true })
})

const release = (id: string): Release => ({
  id,
  film: 'Bout',
  version: id,
  date: '2026-11-26',
  project: 1,
  files: [],
  footage: [],
  values: [],
  events: [],
  said: [],
})
const apply = (parts: Pick<Edit, 'label' | 'diffs'>): string => {
  const applied = project.apply({ id: `edit-${project.version}`, group: null, selection: null, steps: [], base: project.version, ...parts })
  return applied.ok ? 'done' : `${applied.error.code} ${applied.error.message}`
}
const rename = (title: string): string => {
  const from = project.state.tables.settings.get('project')!
  return apply({ label: 'Rename', diffs: [{ table: 'settings', key: 'project', change: 'updated', from, to: { ...from, title } }] })
}
const publish = (id: string): string =>
  apply({
    label: `Publish version ${id}`,
    diffs: [{ table: 'releases', key: id, change: 'added', record: release(id), after: project.state.tables.releases.keys.at(-1) ?? null }],
  })
const titles = (): [string, string[]] => [project.breakdown().title, (project.breakdown().releases ?? []).map(({ id }) => id)]
const first = (validDocument() as unknown as Breakdown).title

it('should be passed over by undo and redo, over a restart as well, and end neither', () => {
  expect([rename('One'), rename('Two'), publish('r1')]).toEqual(['done', 'done', 'done'])
  expect(project.next().undo?.label).toBe('Rename')
  project.undo()
  expect(titles()).toEqual(['One', ['r1']])
  expect(publish('r2')).toBe('done')
  // What was taken back can still be done again: publishing changes nothing of it.
  expect(project.next().redo?.label).toBe('Rename')
  project.close()
  project = open()
  project.redo()
  expect(titles()).toEqual(['Two', ['r1', 'r2']])
  project.undo()
  project.undo()
  expect(titles()).toEqual([first, ['r1', 'r2']])
  expect(project.next().undo).toBeNull()
  expect(project.undo()).toEqual({ ok: true, value: null })
  expect(project.history().map(({ label }) => label)).toContain('Publish version r1')
})

it('should stay as it is: neither changed nor taken out, nor published together with anything else', () => {
  publish('r1')
  const version = project.version
  expect(
    apply({
      label: 'Change it',
      diffs: [{ table: 'releases', key: 'r1', change: 'updated', from: release('r1'), to: { ...release('r1'), date: '2026-11-27' } }],
    }),
  ).toContain('a version that went out stays as it is')
  expect(
    apply({ label: 'Take it out', diffs: [{ table: 'releases', key: 'r1', change: 'removed', record: release('r1'), after: null }] }),
  ).toContain('a version that went out stays as it is')
  const from = project.state.tables.settings.get('project')!
  expect(
    apply({
      label: 'Both',
      diffs: [
        { table: 'releases', key: 'r2', change: 'added', record: release('r2'), after: 'r1' },
        { table: 'settings', key: 'project', change: 'updated', from, to: { ...from, title: 'X' } },
      ],
    }),
  ).toContain('published by itself')
  expect(project.version).toBe(version)
})
