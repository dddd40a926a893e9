import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { CallInput, CallName, CallOutput } from '../../../app/contract/calls'
import { stateOfReplica } from '../../../app/contract/replica'
import {
  mediaAddress,
  proxyAddress,
  stillAddress,
  takeAddress,
  takePieceAddress,
  waveAddress,
  filmUploadAddress,
  faceAddress,
} from '../../../app/contract/addresses'
import { applyEdit } from '../../../app/edit/apply-edit'
import type { Edit } from '../../../app/edit/edit'
import { breakdownOf } from '../../../app/edit/project-state'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { makePatternFilm, readPattern } from '../../film-patterns'
import { openTestDoor, openWindow, type OpenedDoor, type TestWindow } from '../../open-door'

let opened: OpenedDoor
let window: TestWindow

beforeAll(async () => {
  opened = await openTestDoor()
  window = await openWindow(opened.door.newAddress())
})
afterAll(() => opened.close())

async function value<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>> {
  const reply = await window.client.call(name, input)
  if (!reply.ok) throw new Error(`${name}: ${reply.error.message}`)
  return reply.value
}
async function refusal<N extends CallName>(name: N, input: CallInput<N>): Promise<string> {
  const reply = await window.client.call(name, input)
  return reply.ok ? 'not refused' : reply.error.code
}

let count = 0
const edit = (base: number, diffs: Edit['diffs'], label = 'Change'): Edit => ({
  id: `e${++count}`,
  label,
  group: null,
  steps: [],
  diffs,
  selection: null,
  base,
})
const addSubject = (id: string, base: number, after: string | null): Edit =>
  edit(base, [{ table: 'subjects', change: 'added', key: id, record: { id, name: `Person ${id}` }, after }], `Add ${id}`)

async function until<T>(what: () => Promise<T | null | false>, patience_ms = 30_000): Promise<T> {
  const end = Date.now() + patience_ms
  for (;;) {
    const found = await what()
    if (found) return found
    if (Date.now() > end) throw new Error('waited in vain')
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
}

describe('a project behind the door', () => {
  it('is missed in plain words before one is open', async () => {
    expect(await refusal('project.state', {})).toBe('no-project')
    expect(await refusal('project.open', { file: join(opened.folder, 'nowhere.claimframe') })).toBe('file-missing')
  })

  it('is made, opened and read as a replica that edits can be put on', async () => {
    const file = join(opened.folder, 'work', 'left-hook.claimframe')
    const facts = await value('project.new', { file, title: 'Left hook' })
    expect(facts).toEqual({ file, title: 'Left hook', version: 0, readOnly: false })
    expect(await refusal('project.new', { file, title: 'Again' })).toBe('file-exists')
    const state = await value('project.state', {})
    const replica = stateOfReplica(state.replica)
    expect(breakdownOf(replica, () => [])).toMatchObject({ title: 'Left hook', script: [{ id: 'p1', text: [] }] })
    const { edits } = await value('edit.apply', { edit: addSubject('s1', 0, null) })
    const applied = applyEdit(replica, edits[0]!)
    expect(applied.ok && applied.value.state.tables.subjects.list()).toEqual([{ id: 's1', name: 'Person s1' }])
  })

  it('answers an edit that is sent twice, and applies it once', async () => {
    const again = addSubject('s2', 1, 's1')
    expect((await value('edit.apply', { edit: again })).version).toBe(2)
    expect(await value('edit.apply', { edit: again })).toMatchObject({ version: 2, done: { kind: 'edit', label: 'Add s2' } })
  })

  it('rebases an edit made on an older version, and tells what came between', async () => {
    const { edits, version } = await value('edit.apply', { edit: addSubject('s3', 1, 's1') })
    expect(version).toBe(3)
    expect(edits.map(({ label }) => label)).toEqual(['Add s2', 'Add s3'])
  })

  it('refuses an edit of a record that was changed meanwhile, and leaves everything as it was', async () => {
    const rename = (name: string): Edit =>
      edit(3, [{ table: 'subjects', change: 'updated', key: 's1', from: { id: 's1', name: 'Person s1' }, to: { id: 's1', name } }])
    await value('edit.apply', { edit: rename('Nela Varga') })
    expect(await refusal('edit.apply', { edit: rename('Someone') })).toBe('edit-conflict')
    expect((await value('project.state', {})).replica.subjects.map(({ name }) => name)).toEqual(['Nela Varga', 'Person s3', 'Person s2'])
  })

  it('undoes and does again, saying what and where', async () => {
    const undone = await value('edit.undo', {})
    expect(undone).toMatchObject({
      version: 5,
      done: { kind: 'undo', label: 'Change', place: { room: 'footage' } },
      next: { undo: { label: 'Add s3' }, redo: { label: 'Change' } },
    })
    expect((await value('project.state', {})).replica.subjects[0]).toEqual({ id: 's1', name: 'Person s1' })
    await value('edit.redo', {})
    expect((await value('project.state', {})).replica.subjects[0]).toEqual({ id: 's1', name: 'Nela Varga' })
    const { entries } = await value('edit.history', { limit: 2 })
    expect(entries.map(({ kind }) => kind)).toEqual(['redo', 'undo'])
  })

  it('tells windows of every edit, in order, and of losing some', async () => {
    const { engine, after } = await value('project.state', {})
    const waiting = window.client.events(engine, after)
    await value('edit.apply', { edit: addSubject('s4', 6, 's2') })
    const page = await waiting
    expect(page.ok && page.value.events.map((event) => event.kind)).toEqual(['edits'])
    expect(page.ok && page.value.next).toBe(after + 1)
    for (const [name, number] of [
      ['another engine', 0],
      [engine, 99_999],
    ] as const) {
      const lost = await window.client.events(name, number)
      expect(lost.ok && lost.value.lost).toBe(true)
    }
  })

  it('catches a window up', async () => {
    const since = await value('edit.since', { version: 5 })
    expect(since.edits.map(({ base }) => base)).toEqual([5, 6])
    expect(since.version).toBe(7)
  })

  it('is dumped, copied and remembered', async () => {
    const { text } = await value('project.document', {})
    const read = readBreakdown(text, 'dump')
    expect(read.ok && read.value.subjects).toHaveLength(4)
    const copy = join(opened.folder, 'work', 'copy.claimframe')
    await value('project.copy', { file: copy })
    expect(existsSync(copy)).toBe(true)
    expect(await refusal('project.copy', { file: copy })).toBe('file-exists')
    expect((await value('project.recent', {})).projects).toMatchObject([{ title: 'Left hook', there: true }])
    expect(statSync(join(opened.folder, 'state', 'recent.json')).mode & 0o077).toBe(0)
  })

  it('lists folders for a window without a file dialog', async () => {
    const list = await value('files.list', { folder: join(opened.folder, 'work') })
    expect(list.files.map(({ name, kind }) => [name, kind])).toEqual([
      ['copy.claimframe', 'project'],
      ['left-hook.claimframe', 'project'],
    ])
    expect(await refusal('files.list', { folder: join(opened.folder, 'nowhere') })).toBe('file-missing')
  })

  it('is opened to read only by a second engine, which is told who has it', async () => {
    const other = await openTestDoor()
    try {
      const second = await openWindow(other.door.newAddress())
      const { file } = await value('project.state', {})
      const facts = await second.client.call('project.open', { file })
      expect(facts.ok && facts.value.readOnly).toBe(true)
      const refused = await second.client.call('edit.apply', { edit: addSubject('s9', 7, null) })
      expect(refused.ok ? null : refused.error.code).toBe('read-only')
    } finally {
      await other.close()
    }
  })

  it('says what was asked wrongly, with its place', async () => {
    const unknown = await window.fetch('call/project.explode', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: '{}',
    })
    expect([unknown.status, (await unknown.json()).error.code]).toEqual([404, 'call-unknown'])
    for (const body of ['{', '[]', '"x"', '{"file":7}', '{"file":"a","more":1}', `{"file":${'['.repeat(5000)}`]) {
      const answer = await window.fetch('call/project.open', { method: 'POST', headers: { 'content-type': 'application/json' }, body })
      expect([answer.status, (await answer.json()).error.code]).toEqual([400, 'call-invalid'])
    }
  })

  it('refuses what only a desktop can do', async () => {
    expect(await refusal('desktop.chooseFiles', { what: 'film' })).toBe('desktop-only')
    expect(await value('engine.about', {})).toMatchObject({ version: '0.0.0-test', fileDialog: false })
  })
})

describe('films behind the door', () => {
  let film: string

  beforeAll(async () => {
    film = join(opened.folder, 'elsewhere', 'bout a.mp4')
    mkdirSync(join(opened.folder, 'elsewhere'))
    await makePatternFilm(await findFfmpeg(), film, { frames: 90, rate: '30000/1001', width: 1280, height: 720, gop: 45 })
  })

  const facts = async (id: string) => (await value('footage.facts', {})).films.find((each) => each.id === id)

  it('are gathered into the project’s folder without touching the original', async () => {
    const before = statSync(film)
    const adding = value('footage.add', {
      files: [film, join(opened.folder, 'missing.mp4'), join(opened.folder, 'work', 'left-hook.claimframe')],
    })
    // The same film once more, before it is gathered or read.
    const [added, again] = await Promise.all([adding, value('footage.add', { files: [film] })])
    expect(again).toMatchObject({ added: [], refused: [], same: [{ file: film, footage: 'f1' }] })
    expect(added.added).toEqual([{ id: 'f1', file: 'footage/bout a.mp4' }])
    expect(added.refused.map(({ refusal: { code } }) => code)).toEqual(['file-missing', 'not-a-video'])
    expect(statSync(film).mtimeMs).toBe(before.mtimeMs)
    const ready = await until(async () => {
      const f = await facts('f1')
      return f?.state === 'ready' && f
    })
    expect(ready).toMatchObject({ frames: 90, rate: { n: 30000, d: 1001 }, width: 1280, height: 720, variable: false, sound: false })
    const table = await value('footage.table', { footage: 'f1' })
    expect(table.pts).toHaveLength(90)
    expect((await value('project.state', {})).replica.footage[0]!.sha256).toMatch(/^[0-9a-f]{64}$/)
  })

  it('are pointed out when they are there already', async () => {
    expect(await value('footage.add', { files: [film] })).toMatchObject({ added: [], same: [{ footage: 'f1' }] })
  })

  it('are served byte for byte, whole and in ranges', async () => {
    const bytes = readFileSync(film)
    const whole = await window.fetch(mediaAddress('f1'))
    expect(whole.headers.get('content-type')).toBe('video/mp4')
    expect(Buffer.from(await whole.arrayBuffer()).equals(bytes)).toBe(true)
    for (const [range, first, last] of [
      ['bytes=0-0', 0, 0],
      ['bytes=100-4099', 100, 4099],
      [`bytes=${bytes.length - 5}-`, bytes.length - 5, bytes.length - 1],
      ['bytes=-7', bytes.length - 7, bytes.length - 1],
    ] as const) {
      const part = await window.fetch(mediaAddress('f1'), { headers: { range } })
      expect([part.status, part.headers.get('content-range')]).toEqual([206, `bytes ${first}-${last}/${bytes.length}`])
      expect(Buffer.from(await part.arrayBuffer()).equals(bytes.subarray(first, last + 1))).toBe(true)
    }
    const beyond = await window.fetch(mediaAddress('f1'), { headers: { range: `bytes=${bytes.length}-` } })
    expect([beyond.status, beyond.headers.get('content-range')]).toEqual([416, `bytes */${bytes.length}`])
    const head = await window.fetch(mediaAddress('f1'), { method: 'HEAD' })
    expect([head.status, head.headers.get('content-length'), (await head.arrayBuffer()).byteLength]).toEqual([200, String(bytes.length), 0])
    const stale = await window.fetch(mediaAddress('f1'), { headers: { range: 'bytes=0-9', 'if-range': '"old"' } })
    expect(stale.status).toBe(200)
    expect((await window.fetch(mediaAddress('f1'), { headers: { 'if-none-match': whole.headers.get('etag')! } })).status).toBe(304)
    expect((await window.fetch(mediaAddress('f9'))).status).toBe(404)
  })

  it('are shown frame by frame, exactly', async () => {
    const still = await window.fetch(stillAddress('f1', 37, 320))
    expect([still.status, still.headers.get('content-type')]).toEqual([200, 'image/png'])
    const file = join(opened.folder, 'still.png')
    writeFileSync(file, Buffer.from(await still.arrayBuffer()))
    expect(await readNumber(file)).toBe(37)
    expect((await window.fetch(stillAddress('f1', 90))).status).toBe(404)
    expect((await window.fetch('still/f1/1?width=9')).status).toBe(400)
  })

  it('get a small stand-in of key frames, frame for frame', async () => {
    expect((await window.fetch(proxyAddress('f1'))).status).toBe(404)
    expect(await value('footage.proxy', { footage: 'f1' })).toMatchObject({ state: 'making' })
    await until(async () => (await facts('f1'))?.proxy === 'ready')
    const proxy = await window.fetch(proxyAddress('f1'))
    const file = join(opened.folder, 'stand-in.mp4')
    writeFileSync(file, Buffer.from(await proxy.arrayBuffer()))
    const { readFilm } = await import('../../../main/media/frame-scan')
    const read = await readFilm(await findFfmpeg(), file)
    expect([read.head.width, read.head.height, read.table.pts.length, read.keyframes.length]).toEqual([960, 540, 90, 90])
    expect(read.table.rate).toEqual({ n: 60, d: 1 })
    const { readFrame } = await import('../../../main/media/exact-frame')
    for (const frame of [0, 1, 44, 45, 89]) {
      const { data, width, height } = await readFrame(await findFfmpeg(), read, frame, { format: 'gray' })
      expect(readPattern(data, width, height)).toBe(frame)
    }
  })

  it('are looked through for cuts, in a job', async () => {
    expect((await value('footage.pieces', { footage: 'f1' })).state).toBe('reading')
    const pieces = await until(async () => {
      const p = await value('footage.pieces', { footage: 'f1' })
      return p.state === 'ready' && p.pieces
    })
    expect(pieces[0]!.from).toBe(0)
    expect(pieces.at(-1)!.to).toBe(90)
  })

  it('are found again by their content, and not taken for another', async () => {
    const own = join(opened.folder, 'work', 'footage', 'bout a.mp4')
    const { renameSync } = await import('node:fs')
    renameSync(own, `${own}.away`)
    const file = (await value('project.state', {})).file
    await value('project.close', {})
    await value('project.open', { file })
    await until(async () => (await facts('f1'))?.state === 'missing')
    const other = join(opened.folder, 'elsewhere', 'other.mp4')
    await makePatternFilm(await findFfmpeg(), other, { frames: 90, rate: '30000/1001', width: 1280, height: 720, gop: 12 })
    expect(await refusal('footage.relink', { footage: 'f1', file: other })).toBe('footage-changed')
    await value('footage.relink', { footage: 'f1', file: film })
    expect(
      await until(async () => {
        const f = await facts('f1')
        return f?.state === 'ready' && f.file
      }),
    ).toBe('footage/bout a.mp4')
  })

  it('arrive as bytes from a window that has no path', async () => {
    const bytes = readFileSync(join(opened.folder, 'elsewhere', 'other.mp4'))
    const answer = await window.fetch(filmUploadAddress('../../other: "one"?.mp4'), {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: bytes,
    })
    expect((await answer.json()).value.added).toEqual([{ id: 'f2', file: 'footage/other_ _one__.mp4' }])
    expect(readFileSync(join(opened.folder, 'work', 'footage', 'other_ _one__.mp4')).equals(bytes)).toBe(true)
  })

  it('lend the film’s face to the window', async () => {
    const face = await window.fetch(faceAddress('atkinson-bold'))
    expect([face.status, face.headers.get('content-type')]).toEqual([200, 'font/ttf'])
    expect((await window.fetch('faces/other.ttf')).status).toBe(404)
  })
})

describe('recordings', () => {
  const append = (id: string, offset: number, bytes: Uint8Array) =>
    window.fetch(takePieceAddress(id, offset), {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: bytes as Uint8Array<ArrayBuffer>,
    })

  it('are appended in order, safe before they are acknowledged, and closed as a WAV file', async () => {
    const take = await value('takes.begin', { paragraph: 'p1', sampleRate: 48_000 })
    const samples = Int16Array.from({ length: 48_000 }, (_, i) => Math.round(12_000 * Math.sin(i / 20)))
    const bytes = new Uint8Array(samples.buffer)
    expect((await (await append(take.id, 0, bytes.subarray(0, 40_000))).json()).value).toEqual({ bytes: 40_000 })
    expect(statSync(join(opened.folder, 'work', 'takes', `${take.id}.part`)).size).toBe(44 + 40_000)
    for (const wrong of [0, 39_999, 40_001]) {
      const refused = await append(take.id, wrong, bytes.subarray(0, 10))
      expect(refused.status).toBe(409)
      expect((await refused.json()).error).toMatchObject({ code: 'take-offset', parameters: { expected: 40_000 } })
    }
    await append(take.id, 40_000, bytes.subarray(40_000))
    const finished = await value('takes.finish', { take: take.id })
    expect(finished).toMatchObject({ file: `takes/${take.id}.wav`, samples: 48_000, sampleRate: 48_000, state: 'finished' })
    const wav = Buffer.from(await (await window.fetch(takeAddress(take.id))).arrayBuffer())
    expect(wav.subarray(0, 4).toString() + wav.subarray(8, 12).toString()).toBe('RIFFWAVE')
    expect(wav.subarray(44).equals(Buffer.from(bytes))).toBe(true)
    const { readSound } = await import('../../../main/media/sound-file')
    expect(await readSound(await findFfmpeg(), join(opened.folder, 'work', finished.file!))).toEqual({ samples: 48_000, rate: 48_000 })
    const wave = Buffer.from(await (await window.fetch(waveAddress(take.id))).arrayBuffer())
    expect(wave.length).toBe(100 * 4)
    expect(Math.abs(wave.readInt16LE(202) - 12_000)).toBeLessThan(600)
  })

  it('that hold nothing are not kept', async () => {
    const take = await value('takes.begin', { paragraph: null, sampleRate: 48_000 })
    expect(take).toMatchObject({ id: 'room-tone-1', kind: 'room', paragraph: null })
    expect(await value('takes.finish', { take: take.id })).toMatchObject({ samples: 0, state: 'finished' })
    expect((await value('takes.list', {})).takes.map(({ id }) => id)).not.toContain(take.id)
  })

  it('that were broken off are still there', async () => {
    const take = await value('takes.begin', { paragraph: 'p1', sampleRate: 44_100 })
    await append(take.id, 0, new Uint8Array(1000))
    expect((await value('takes.list', {})).takes.find(({ id }) => id === take.id)).toMatchObject({
      state: 'recording',
      bytes: 1000,
      file: null,
    })
    expect(await refusal('takes.begin', { paragraph: 'p77', sampleRate: 48_000 })).toBe('not-there')
    expect((await append('../../left-hook', 0, new Uint8Array(2))).status).toBe(400)
    expect((await append('nobody-1', 0, new Uint8Array(2))).status).toBe(404)
  })
})

async function readNumber(png: string): Promise<number | null> {
  const { runProgram } = await import('../../../main/media/process')
  const tool = await findFfmpeg()
  const { stdout } = await runProgram(tool.ffmpeg, ['-v', 'error', '-i', png, '-f', 'rawvideo', '-pix_fmt', 'gray', 'pipe:1'])
  return readPattern(stdout, 320, 180)
}
