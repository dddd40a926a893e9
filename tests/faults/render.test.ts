import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { OWN_FILM } from '../../app/render/join'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { runCommand, startCommand } from '../command-line'
import { DIM, makePatternFilm } from '../film-patterns'
import { wordless, writeDocument } from '../render/render-document'

/// What is left behind when a render is killed, cancelled, or runs out of disk.

let tool: FfmpegTool
let films: string
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  films = await mkdtemp(join(tmpdir(), 'faults-'))
  folder = join(films, 'work')
  await makePatternFilm(tool, join(films, 'a.mp4'), { frames: 300, rate: '30', width: 640, height: 360, bright: DIM })
})
afterAll(() => rm(films, { recursive: true, force: true }))
beforeEach(async () => {
  await rm(folder, { recursive: true, force: true })
  await mkdir(folder)
  await copyFile(join(films, 'a.mp4'), join(folder, 'a.mp4'))
  await writeDocument(folder, {
    ...wordless(
      { footage: [{ id: 'f1', file: 'a.mp4' }], clips: [{ id: 'c1', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 } }] },
      [0, 1, 2, 3, 4, 5].map((i) => ({ run: 'c1', from: i * 40, to: i * 40 + 40, speed: '1/2' })),
    ),
    output: { width: 1280, height: 720, rate: '60/1' },
  })
})

const args = ['render', 'breakdown.json', '--out', 'film.mp4', '--cache', 'cache', '--json']
const segments = async (): Promise<string[]> =>
  (await readdir(join(folder, 'cache', 'segments')).catch(() => [])).filter((name) => name.endsWith('.mp4'))
const pause = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms))

/// Waits until at least `count` segments are finished.
async function segmentsReached(count: number): Promise<void> {
  await expect.poll(async () => (await segments()).length, { timeout: 240_000 }).toBeGreaterThanOrEqual(count)
}

it('should leave no half film when it is killed, and go on from the finished segments', async () => {
  const { child, outcome } = startCommand(args, { cwd: folder })
  await segmentsReached(2)
  child.kill('SIGKILL')
  expect((await outcome).signal).toBe('SIGKILL')
  await pause(300)
  const finished = (await segments()).length
  expect(await readdir(folder)).not.toContain('film.mp4')

  const again = await runCommand(args, { cwd: folder })
  expect(again.status, again.stderr).toBe(0)
  const report = JSON.parse(again.stdout) as { frames: number; segments: { made: number; kept: number } }
  expect(report.segments.kept).toBeGreaterThanOrEqual(2)
  expect(report.segments.kept + report.segments.made).toBe(7)
  expect(report.segments.kept).toBe(finished)
  expect((await readdir(folder)).filter((name) => name.includes('part'))).toEqual([])
  expect((await readdir(join(folder, 'cache', 'segments'))).filter((name) => name.startsWith('making-'))).toEqual([])
})

it('should stop at a request, say so, and keep what was finished', async () => {
  const { child, outcome } = startCommand(args, { cwd: folder })
  await segmentsReached(1)
  child.kill('SIGINT')
  const { status, stderr } = await outcome
  expect(status).toBe(3)
  expect(stderr).toContain('"cancelled"')
  expect((await readdir(folder)).filter((name) => name.startsWith('film'))).toEqual([])
  expect((await segments()).length).toBeGreaterThanOrEqual(1)
})

it('should name the file when the disk is full, and leave an earlier film as it was', async () => {
  const earlier = join(folder, 'film.mp4')
  await makePatternFilm(tool, earlier, { frames: 3, rate: '30', width: 64, height: 36, output: ['-metadata', `comment=${OWN_FILM}`] })
  const before = await readFile(earlier)
  const { status, stderr } = await runCommand(args, { cwd: folder, limitBytes: 60_000 })
  expect(status, stderr).toBe(3)
  expect(stderr).toContain('"disk-full"')
  expect((await readFile(earlier)).equals(before)).toBe(true)
  expect((await readdir(folder)).filter((name) => name.endsWith('.part'))).toEqual([])

  const after = await runCommand(args, { cwd: folder })
  expect(after.status, after.stderr).toBe(0)
  expect((await readFile(earlier)).equals(before)).toBe(false)
})

it('should never write the film over what it is made from', async () => {
  const before = (await stat(join(folder, 'a.mp4'))).size
  const { status, stderr } = await runCommand(['render', 'breakdown.json', '--out', 'a.mp4', '--cache', 'cache'], { cwd: folder })
  expect(status).toBe(2)
  expect(stderr).toContain('choose another name')
  expect((await stat(join(folder, 'a.mp4'))).size).toBe(before)
})

it('should never write the film over a film that it did not make, nor over one of its own that stands on the shelf', async () => {
  const another = join(folder, 'another.mp4')
  const onShelf = join(folder, 'shelf.mp4')
  await makePatternFilm(tool, another, { frames: 3, rate: '30', width: 64, height: 36 })
  await makePatternFilm(tool, onShelf, { frames: 3, rate: '30', width: 64, height: 36, output: ['-metadata', `comment=${OWN_FILM}`] })
  await writeFile(join(folder, 'words.mp4'), 'no film at all')
  const document = JSON.parse(await readFile(join(folder, 'breakdown.json'), 'utf8')) as Breakdown
  await writeFile(
    join(folder, 'breakdown.json'),
    JSON.stringify({ ...document, footage: [...document.footage, { id: 'f2', file: 'shelf.mp4' }] }),
  )
  for (const [name, status, words] of [
    ['another.mp4', 2, 'exists already and was left as it is'],
    ['words.mp4', 2, 'exists already and was left as it is'],
    ['shelf.mp4', 2, 'choose another name'],
  ] as const) {
    const before = await readFile(join(folder, name))
    const done = await runCommand(['render', 'breakdown.json', '--out', name, '--cache', 'cache'], { cwd: folder })
    expect([done.status, done.stderr], name).toEqual([status, expect.stringContaining(words)])
    expect((await readFile(join(folder, name))).equals(before), name).toBe(true)
  }
})
