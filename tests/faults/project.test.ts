import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { build } from 'vite'
import type { Breakdown } from '../../app/project/breakdown'
import { createProject } from '../../main/store/create-project'
import { dumpProject } from '../../main/store/dump-project'
import { openProject } from '../../main/store/open-project'
import type { Project } from '../../main/store/project'
import { runCommand, startCommand } from '../command-line'
import { validDocument } from '../valid-document'

/// A project file when the process that writes it is killed, the disk fills up, or the file is not one of ours.

let folder: string
let document: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'project-'))
  document = join(folder, 'large.json')
  await writeFile(document, JSON.stringify(large()))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

/// A document that takes a while to write: 120,000 samples.
function large(): Breakdown {
  const breakdown = validDocument() as unknown as Breakdown
  return {
    ...breakdown,
    clips: [{ ...breakdown.clips[0]!, from: 0, to: 20_000 }, breakdown.clips[1]!],
    landmarks: ['hip.left', 'knee.left', 'ankle.left', 'wrist.left', 'elbow.left', 'shoulder.left'].map((point) => ({
      clip: 'c1',
      subject: 's1',
      point,
      samples: Array.from({ length: 20_000 }, (_, frame) => ({
        frame,
        at: [frame / 7, 300 + Math.sin(frame) * 50] as [number, number],
        sigma: 3,
      })),
    })),
  }
}
const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms))
const digest = async (path: string): Promise<string> =>
  createHash('sha256')
    .update(await readFile(path))
    .digest('hex')

it('should leave a whole project or none when create is killed at any moment', async () => {
  let started = Date.now()
  expect((await runCommand(['create', 'whole.claimframe', '--from', document], { cwd: folder })).status).toBe(0)
  let whole = Date.now() - started
  const moments = 8
  let killed = 0
  for (let i = 0; i < moments; i++) {
    const place = join(folder, `kill-${i}`)
    await mkdir(place)
    started = Date.now()
    const { child, outcome } = startCommand(['create', 'new.claimframe', '--from', document], { cwd: place })
    const ended = outcome.then(() => Date.now() - started)
    await pause((whole * (i + 2)) / (moments + 2))
    child.kill('SIGKILL')
    if ((await outcome).signal === 'SIGKILL') killed++
    // The machine has become quicker since that was measured.
    else whole = Math.min(whole, await ended)
    const dumped = (await readdir(place)).includes('new.claimframe') ? dumpProject(join(place, 'new.claimframe')) : null
    if (dumped) expect(dumped.ok && dumped.value.landmarks!.length).toBe(6)
    const again = await runCommand(['create', 'again.claimframe', '--from', document], { cwd: place })
    expect(again.status, again.stderr).toBe(0)
    await rm(place, { recursive: true, force: true })
  }
  expect(killed).toBeGreaterThan(moments / 2)
})

it('should say that the disk is full, and leave nothing under the project’s name', async () => {
  const place = join(folder, 'full')
  await mkdir(place)
  const { status, stderr } = await runCommand(['create', 'new.claimframe', '--from', document, '--json'], {
    cwd: place,
    limitBytes: 400_000,
  })
  expect(status, stderr).toBe(3)
  expect(stderr).toContain('"disk-full"')
  expect(await readdir(place)).toEqual([])
})

/// The edit writer as a program of its own; the native module is found from the project's own folder.
async function buildWriter(): Promise<string> {
  await build({
    configFile: false,
    logLevel: 'error',
    build: { ssr: resolve('tests/faults/edit-writer.ts'), outDir: join(folder, 'writer'), emptyOutDir: true },
    ssr: { external: ['better-sqlite3'], noExternal: true },
  })
  const writer = join(resolve('out'), `edit-writer-${process.pid}.js`)
  await copyFile(join(folder, 'writer', 'edit-writer.js'), writer)
  return writer
}

/// Every edit up to the version is there: a subject and a sign in the script each.
function expectWhole(project: Project): void {
  expect(project.state.tables.subjects.size).toBe(1 + project.version)
  expect(project.state.script.textContent.split('§').length - 1).toBe(project.version)
  expect(project.breakdown().subjects.at(-1)!.name).toContain(String(project.version))
}

it('should keep every edit that was acknowledged when the writer is killed', async () => {
  const path = join(folder, 'edits.claimframe')
  const made = createProject(path, validDocument() as unknown as Breakdown)
  if (!made.ok) throw made.error
  const writer = await buildWriter()
  try {
    let acknowledged = 0
    for (let round = 0; round < 8; round++) {
      const child = spawn(process.execPath, [writer, path], { stdio: ['ignore', 'pipe', 'inherit'] })
      let said = ''
      child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()))
      // From its first acknowledgements on: a busy machine takes its time.
      for (let waited = 0; said.split('\n').length <= 4 && waited < 1200; waited++) await pause(50)
      await pause(60 + round * 70)
      child.kill('SIGKILL')
      await new Promise((done) => child.on('close', done))
      const last = said.split('\n').slice(0, -1).at(-1)
      if (last !== undefined) acknowledged = Number(last)
      const opened = openProject(path)
      if (!opened.ok) throw opened.error
      const project = opened.value
      try {
        expect(project.version).toBeGreaterThanOrEqual(acknowledged)
        expectWhole(project)
        acknowledged = project.version
      } finally {
        project.close()
      }
    }
    expect(acknowledged).toBeGreaterThan(20)
  } finally {
    await rm(writer, { force: true })
  }
})

it('should refuse an edit when the disk is full, keep every one before it, and go on when there is room again', async () => {
  const path = join(folder, 'filling.claimframe')
  const made = createProject(path, validDocument() as unknown as Breakdown)
  if (!made.ok) throw made.error
  const writer = await buildWriter()
  try {
    const child = spawn('/bin/sh', ['-c', 'trap "" XFSZ; ulimit -f 1600; exec "$@"', 'sh', process.execPath, writer, path], {
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    let said = ''
    let complained = ''
    child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()))
    child.stderr.on('data', (chunk: Buffer) => (complained += chunk.toString()))
    const status = await new Promise((done) => child.on('close', done))
    expect(status).not.toBe(0)
    expect(complained).toContain('disk-full')
    const acknowledged = Number(said.trim().split('\n').at(-1))
    expect(acknowledged).toBeGreaterThan(5)
    const opened = openProject(path)
    if (!opened.ok) throw opened.error
    const project = opened.value
    try {
      expect(project.version).toBe(acknowledged)
      expectWhole(project)
      expect(project.undo()).toMatchObject({ ok: true, value: { kind: 'undo' } })
    } finally {
      project.close()
    }
  } finally {
    await rm(writer, { force: true })
  }
})

it('should refuse a newer file and one that is not ours, and leave both as they are', async () => {
  const newer = join(folder, 'newer.claimframe')
  const made = createProject(newer, validDocument() as unknown as Breakdown)
  if (!made.ok) throw made.error
  // The format's number lies at byte 60 of an SQLite file (https://www.sqlite.org/fileformat.html, "user version").
  const bytes = await readFile(newer)
  bytes.writeUInt32BE(9999, 60)
  await writeFile(newer, bytes)
  const foreign = join(folder, 'foreign.claimframe')
  bytes.writeUInt32BE(1, 60)
  bytes.writeUInt32BE(0x12345678, 68)
  await writeFile(foreign, bytes)
  for (const [path, code] of [
    [newer, 'project-newer'],
    [foreign, 'project-not-ours'],
    [document, 'project-not-ours'],
  ] as const) {
    const before = await digest(path)
    for (const readOnly of [true, false]) {
      const opened = openProject(path, { readOnly })
      expect(opened.ok ? 'opened' : opened.error.code).toBe(code)
    }
    expect(await digest(path)).toBe(before)
    const { status } = await runCommand(['dump', path])
    expect(status).toBe(path === document ? 0 : 2)
  }
})
