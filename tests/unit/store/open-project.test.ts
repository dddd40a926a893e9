import { copyFileSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import type { Breakdown } from '../../../app/project/breakdown'
import { createProject } from '../../../main/store/create-project'
import { dumpProject } from '../../../main/store/dump-project'
import { migrations } from '../../../main/store/migrations'
import { openProject } from '../../../main/store/open-project'
import type { Project } from '../../../main/store/project'
import { validDocument } from '../../valid-document'

let folder = ''
let path = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
  path = join(folder, 'a.claimframe')
  const made = createProject(path, validDocument() as unknown as Breakdown)
  if (!made.ok) throw made.error
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const open = (...args: Parameters<typeof openProject>): Project => {
  const opened = openProject(...args)
  if (!opened.ok) throw opened.error
  return opened.value
}
const codeOf = (...args: Parameters<typeof openProject>): string => {
  const opened = openProject(...args)
  if (!opened.ok) return opened.error.code
  opened.value.close()
  return 'opened'
}
const rename = (project: Project, title: string) => {
  const from = project.state.tables.settings.list()[0]!
  return project.apply({
    id: `title-${title}`,
    label: 'Rename',
    group: null,
    steps: [],
    selection: null,
    base: project.version,
    diffs: [{ table: 'settings', key: 'project', change: 'updated', from, to: { ...from, title } }],
  })
}

describe('an open project', () => {
  it('should be edited from one place, whose name others are told, and read from any', () => {
    const project = open(path, { owner: 'the window' })
    const second = openProject(path)
    expect(second.ok ? '' : second.error.message).toContain('is open in the window')
    expect(rename(project, 'Meanwhile').ok).toBe(true)
    const reader = open(path, { readOnly: true })
    expect(reader.breakdown().title).toBe('Meanwhile')
    const refusal = rename(reader, 'By a reader')
    expect(refusal.ok ? '' : refusal.error.code).toBe('read-only')
    reader.close()
    project.close()
    expect(codeOf(path)).toBe('opened')
    expect(readdirSync(folder).sort()).toEqual(['.a.claimframe.lock', 'a.claimframe'])
  })

  it('should be dumped without a file made or changed beside it', () => {
    const project = open(path)
    rename(project, 'Kept')
    project.close()
    const before = readFileSync(path)
    const files = readdirSync(folder)
    const dumped = dumpProject(path)
    expect(dumped.ok && dumped.value.title).toBe('Kept')
    expect(readFileSync(path).equals(before)).toBe(true)
    expect(readdirSync(folder)).toEqual(files)
    // Bytes 18 and 19: 1 for a file that is read on its own, 2 for one that needs a change log beside it
    // (https://www.sqlite.org/fileformat.html, "File format version numbers").
    expect([before[18], before[19]]).toEqual([1, 1])
  })

  it('should be refused where it is missing, a folder, empty, cut short or garbled, and stay as it is', () => {
    expect(codeOf(join(folder, 'none'))).toBe('file-missing')
    expect(codeOf(folder)).toBe('project-not-ours')
    const whole = readFileSync(path)
    const garbled = Buffer.from(whole)
    garbled.fill(0x5a, 200, garbled.length - 4096)
    for (const [bytes, codes] of [
      [Buffer.alloc(0), ['project-not-ours']],
      [whole.subarray(0, 60), ['project-not-ours']],
      [whole.subarray(0, 5000), ['project-damaged']],
      [garbled, ['project-damaged']],
    ] as const) {
      const bad = join(folder, 'bad.claimframe')
      writeFileSync(bad, bytes)
      for (const readOnly of [true, false]) expect(codes).toContain(codeOf(bad, { readOnly }))
      expect(readFileSync(bad).equals(bytes)).toBe(true)
    }
  })
})

describe('a file of an older format', () => {
  const next = [...migrations, 'ALTER TABLE subject ADD COLUMN club TEXT']

  it('should be copied first and then brought up to date', () => {
    const before = readFileSync(path)
    open(path, {}, next).close()
    expect(readFileSync(`${path}.format${migrations.length}`).equals(before)).toBe(true)
    const newer = openProject(path)
    expect(newer.ok ? '' : newer.error.code).toBe('project-newer')
    expect(codeOf(`${path}.format${migrations.length}`)).toBe('opened')
  })

  it('should be read without a change to it', () => {
    const before = readFileSync(path)
    expect(open(path, { readOnly: true }, next).breakdown()).toEqual(validDocument())
    expect(readFileSync(path).equals(before)).toBe(true)
    expect(readdirSync(folder)).toEqual(['a.claimframe'])
  })

  it('should stay whole when a migration fails', () => {
    expect(() => openProject(path, {}, [...migrations, 'CREATE TABLE x (n INTEGER) STRICT; INSERT INTO nowhere VALUES (1)'])).toThrow()
    expect(open(path).breakdown()).toEqual(validDocument())
  })

  const HISTORY: Readonly<Record<number, readonly string[]>> = {
    1: ['Typing', 'Rename', 'Rename'],
    2: ['Typing', 'Rename', 'Publish version 2'],
    3: ['Typing', 'Rename', 'Take the pause out', 'Publish version 2'],
    4: ['Typing', 'Rename', 'Take the pause out', 'Publish version 2'],
    5: ['Typing', 'Rename', 'Take the pause out', 'Publish version 2'],
    6: ['Typing', 'Rename', 'Take the pause out', 'Publish version 2'],
    7: ['Typing', 'Rename', 'Take the pause out', 'Publish version 2'],
    8: ['Typing', 'Rename', 'Take the pause out', 'Publish version 2'],
    9: ['Typing', 'Rename', 'Take the pause out', 'Publish version 2'],
  }
  const shippedFormats = readdirSync(join(import.meta.dirname, '../../data/projects'))
    .flatMap((name) => /^format-(\d+)\.claimframe$/.exec(name)?.[1] ?? [])
    .map(Number)

  it('should be shipped for every format before the newest', () => {
    expect(shippedFormats).toEqual(expect.arrayContaining(migrations.slice(0, -1).map((_, i) => i + 1)))
  })

  it.each(shippedFormats)('of format %i, as it was shipped, should open with all that is in it, its history included', (format) => {
    const shipped = join(import.meta.dirname, `../../data/projects/format-${format}`)
    const copy = join(folder, 'old.claimframe')
    copyFileSync(`${shipped}.claimframe`, copy)
    expect(readFileSync(copy).readUInt32BE(60)).toBe(format)
    const document = (file: string): Breakdown => {
      const read = readBreakdown(readFileSync(file, 'utf8'), 'shipped')
      if (!read.ok) throw read.error
      return read.value
    }
    const reader = open(copy, { readOnly: true })
    expect(reader.breakdown()).toEqual(document(`${shipped}.json`))
    reader.close()
    const project = open(copy)
    expect(project.breakdown()).toEqual(document(`${shipped}.json`))
    expect(project.history().map((entry) => entry.label)).toEqual(HISTORY[format])
    expect(project.version).toBe(HISTORY[format]?.length)
    while (project.next().undo) expect(project.undo().ok).toBe(true)
    // What was published stays published.
    const { releases, ...back } = project.breakdown()
    const { releases: first, ...was } = format === 1 ? (validDocument() as unknown as Breakdown) : document(`${shipped}-first.json`)
    expect(back).toEqual(was)
    expect(releases?.map(({ id }) => id)).toEqual(format === 1 ? undefined : [...(first ?? []).map(({ id }) => id), 'release-2'])
    while (project.next().redo) expect(project.redo().ok).toBe(true)
    expect(project.breakdown()).toEqual(document(`${shipped}.json`))
    project.close()
    expect(existsSync(`${copy}.format${format}`)).toBe(format < migrations.length)
  })
})
