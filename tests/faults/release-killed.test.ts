import { spawn } from 'node:child_process'
import { copyFile, mkdir, mkdtemp, readdir, readFile, realpath, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { build } from 'vite'
import type { Breakdown } from '../../app/project/breakdown'
import { openEngine } from '../../main/engine'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { createProject } from '../../main/store/create-project'
import { dumpProject } from '../../main/store/dump-project'
import { DIM, makePatternFilm } from '../film-patterns'

/// A version that goes out when its process is killed between the names of its folders and its record: at the next
/// opening it is there whole and recorded once, or not at all.

let folder: string
let writer: string

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Plant',
  output: { width: 128, height: 72, rate: '5/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 30, capture: { factor: '1', u: 0 } }],
  script: [
    {
      id: 'p1',
      text: ['The finish, once at full speed.'],
      shots: [
        { card: 'caution', seconds: '4' },
        { run: 'c1', from: 0, to: 30, speed: '1' },
        { card: 'end', seconds: '4' },
      ],
    },
  ],
}

beforeAll(async () => {
  folder = await realpath(await mkdtemp(join(tmpdir(), 'release-killed-')))
  await build({
    configFile: false,
    logLevel: 'error',
    build: { ssr: resolve('tests/faults/release-writer.ts'), outDir: join(folder, 'writer'), emptyOutDir: true },
  })
  writer = join(resolve('out'), `release-writer-${process.pid}.js`)
  await copyFile(join(folder, 'writer', 'release-writer.js'), writer)
  await makePatternFilm(await findFfmpeg(), join(folder, 'bout.mp4'), { frames: 30, rate: '30', bright: DIM })
})
afterAll(async () => {
  await rm(writer, { force: true })
  await rm(folder, { recursive: true, force: true })
})

/// Publishes once and is killed at the moment; the project's folder.
async function killedAt(moment: string): Promise<string> {
  const place = join(folder, moment)
  await mkdir(place)
  await copyFile(join(folder, 'bout.mp4'), join(place, 'bout.mp4'))
  const made = createProject(join(place, 'a.claimframe'), breakdown)
  if (!made.ok) throw made.error
  const child = spawn(process.execPath, [writer, join(place, 'a.claimframe'), join(place, 'out'), moment], {
    stdio: ['ignore', 'ignore', 'inherit'],
  })
  expect(await new Promise((done) => child.on('close', (_, signal) => done(signal)))).toBe('SIGKILL')
  return place
}

/// Opens the project as a window does, and closes it.
async function reopen(place: string): Promise<{ kept: unknown; dumped: Breakdown }> {
  const engine = openEngine({ version: '0.0.0-test', page: place, stateFolder: join(place, 'state'), log: () => undefined, checked: true })
  const ask = async (name: string, input: object): Promise<unknown> =>
    (
      (await (
        await engine.answer(
          new Request(`http://localhost/call/${name}`, {
            method: 'POST',
            headers: { 'content-type': 'application/json' },
            body: JSON.stringify(input),
          }),
        )
      ).json()) as { value: unknown }
    ).value
  await ask('project.open', { file: join(place, 'a.claimframe'), readOnly: false })
  const kept = await ask('release.kept', {})
  await engine.end()
  const dumped = dumpProject(join(place, 'a.claimframe'))
  if (!dumped.ok) throw dumped.error
  return { kept, dumped: dumped.value }
}
const names = async (place: string): Promise<string[]> =>
  (await readdir(place)).filter((name) => name.startsWith('out')).map((name) => name.replace(/\d+/, 'N'))
const whole = async (place: string, release: unknown): Promise<void> => {
  const manifest = JSON.parse(await readFile(join(place, 'out', 'manifest.json'), 'utf8')) as { version: string }
  expect(manifest.version).toBe('1')
  expect(release).toMatchObject([{ id: 'release-1', version: '1', project: 0 }])
  expect((await readdir(join(place, 'releases', 'release-1'))).sort()).toEqual(['checks.json', 'evidence.html', 'evidence.json'])
  expect(await readdir(join(place, 'releases'))).toEqual(['release-1'])
}

it.each(['kept', 'named'])('should be brought to its end and said at the next opening when killed once it is %s', async (moment) => {
  const place = await killedAt(moment)
  expect(await names(place)).toEqual([moment === 'kept' ? 'out.N.part' : 'out'])
  const { kept, dumped } = await reopen(place)
  expect(kept).toEqual({ mended: [{ release: 'release-1', version: '1', folder: join(place, 'out'), there: true }], missing: [] })
  expect(await names(place)).toEqual(['out'])
  await whole(place, dumped.releases)
  // Once.
  expect((await reopen(place)).kept).toEqual({ mended: [], missing: [] })
})

it('should not be recorded twice when killed once it is recorded', async () => {
  const place = await killedAt('recorded')
  const { kept, dumped } = await reopen(place)
  expect(kept).toEqual({ mended: [], missing: [] })
  await whole(place, dumped.releases)
  // A version whose evidence was taken away is said to have none.
  await rm(join(place, 'releases'), { recursive: true })
  expect((await reopen(place)).kept).toEqual({ mended: [], missing: ['release-1'] })
})

it('should not be there at all when killed before anything has its name, and go out at the next try', async () => {
  const place = await killedAt('made')
  expect(await names(place)).toEqual(['out.N.part'])
  const { kept, dumped } = await reopen(place)
  expect(kept).toEqual({ mended: [], missing: [] })
  expect(dumped.releases).toBeUndefined()
  expect(await readdir(join(place, 'releases'))).toEqual([])
  const child = spawn(process.execPath, [writer, join(place, 'a.claimframe'), join(place, 'out'), 'none'], {
    stdio: ['ignore', 'ignore', 'inherit'],
  })
  expect(await new Promise((done) => child.on('close', done))).toBe(0)
  expect(await names(place)).toEqual(['out'])
  await whole(place, (await reopen(place)).dumped.releases)
})
