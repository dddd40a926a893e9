import { createHash } from 'node:crypto'
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { soundUploadAddress } from '../../../app/contract/addresses'
import { engineClient } from '../../../app/contract/client'
import type { CallName, CallInput, CallOutput } from '../../../app/contract/calls'
import { takeDiffs } from '../../../app/edit/take-change'
import type { Take } from '../../../app/contract/take-calls'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Paragraph } from '../../../app/project/picture'
import { openEngine, type Engine } from '../../../main/engine'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../../main/media/process'
import { createProject } from '../../../main/store/create-project'

/// Narration brought in as files. The sound is the synthesised narration of tests/data/narration, stored in the four
/// formats that people bring; its word times are the synthesiser's own.

const data = join(import.meta.dirname, '../../data/narration')
const texts = [
  'He plants, and the pelvis turns sixty seven milliseconds before the shoulders do. At contact the rear knee is bent to about one hundred and forty degrees.',
  'The scapula protracts as the acromion travels forward.',
  'Nobody ever said these words into it at all.',
  'From the second camera nothing can be said about the spine. That is the part worth slowing down.',
]
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Brought',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [],
  subjects: [],
  clips: [],
  script: texts.map((text, i) => ({ id: `p${i + 1}`, text: [text] })),
}

let folder: string
let engine: Engine
const faults: unknown[] = []
const ask = (address: string, request?: RequestInit): Promise<Response> =>
  engine.answer(new Request(new URL(address, 'http://window/'), request))
const client = engineClient((address, request) => ask(address, request))
async function value<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>> {
  const answer = await client.call(name, input)
  if (!answer.ok) throw new Error(answer.error.message)
  return answer.value
}
const bring = async (
  file: string,
  name: string,
  paragraph: string | null,
): Promise<{ ok: true; value: Take } | { ok: false; error: { code: string; message: string } }> =>
  (
    await ask(soundUploadAddress(name, paragraph), {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: new Uint8Array(await readFile(file)),
    })
  ).json() as never
const inTakes = (): Promise<string[]> => readdir(join(folder, 'work', 'takes')).catch(() => [])

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'brought-'))
  await mkdir(join(folder, 'work'))
  await mkdir(join(folder, 'state'))
  const made = createProject(join(folder, 'work', 'brought.claimframe'), breakdown)
  if (!made.ok) throw made.error
  engine = openEngine({
    version: '0.0.0-test',
    page: folder,
    stateFolder: join(folder, 'state'),
    log: (line) => line.what === 'fault' && faults.push(line),
    checked: true,
  })
  engine.workspace.open(join(folder, 'work', 'brought.claimframe'))
  const tool = await findFfmpeg()
  for (const [ending, codec] of [
    ['wav', 'pcm_s24le'],
    ['flac', 'flac'],
    ['mp3', 'libmp3lame'],
    ['m4a', 'aac'],
  ] as const)
    await runFfmpeg(tool, [
      '-v',
      'error',
      '-y',
      '-i',
      join(data, 'us-160.flac'),
      '-ar',
      '44100',
      '-ac',
      '2',
      '-c:a',
      codec,
      join(folder, `said.${ending}`),
    ])
})
afterAll(async () => {
  await engine?.end()
  await rm(folder, { recursive: true, force: true })
  expect(faults).toEqual([])
})

it('should keep a WAV, FLAC, MP3 or M4A file as a take of its paragraph, the file itself left as it is', async () => {
  for (const ending of ['wav', 'flac', 'mp3', 'm4a']) {
    const file = join(folder, `said.${ending}`)
    const before = createHash('sha256')
      .update(await readFile(file))
      .digest('hex')
    const brought = await bring(file, `said.${ending}`, 'p2')
    expect(brought).toMatchObject({
      ok: true,
      value: { kind: 'paragraph', paragraph: 'p2', source: `said.${ending}`, sampleRate: 48_000, state: 'finished' },
    })
    if (brought.ok) expect(Math.abs(brought.value.samples / 48_000 - 19.9)).toBeLessThan(1)
    expect(
      createHash('sha256')
        .update(await readFile(file))
        .digest('hex'),
    ).toBe(before)
  }
  expect((await inTakes()).filter((name) => name.endsWith('.part'))).toEqual([])
})

it('should name a file that is no sound, and leave nothing of it', async () => {
  const before = await inTakes()
  await writeFile(join(folder, 'notes.wav'), 'these are words, not a sound')
  await writeFile(join(folder, 'empty.mp3'), '')
  await writeFile(join(folder, 'silent.wav'), Buffer.concat([(await readFile(join(folder, 'said.wav'))).subarray(0, 40), Buffer.alloc(4)]))
  for (const name of ['notes.wav', 'empty.mp3', 'silent.wav']) {
    const refused = await bring(join(folder, name), name, null)
    expect(refused).toMatchObject({ ok: false, error: { code: 'file-unreadable' } })
    if (!refused.ok) expect(refused.error.message).toContain(`${name} cannot be read`)
  }
  expect(await bring(join(folder, 'said.mp3'), 'said.mp3', 'nobody')).toMatchObject({ ok: false, error: { code: 'not-there' } })
  expect(await inTakes()).toEqual(before)
})

it('should take one file of the whole script apart, tell what is missing, and put the takes in by one edit', async () => {
  const brought = await bring(join(folder, 'said.mp3'), 'said.mp3', null)
  if (!brought.ok) throw new Error(brought.error.message)
  expect(brought.value).toMatchObject({ id: 'script-1', kind: 'script', paragraph: null })
  const split = await value('takes.split', { take: 'script-1' })
  expect(split).toMatchObject({ missing: ['p3'], other: false })
  expect(split.pieces.map(({ paragraph }) => paragraph)).toEqual(['p1', 'p2', 'p4'])
  const { takes } = await value('takes.cut', {
    take: 'script-1',
    pieces: split.pieces.map(({ paragraph, from, to }) => ({ paragraph, from, to })),
  })
  expect(takes.map(({ paragraph, source }) => [paragraph, source])).toEqual([
    ['p1', 'script-1'],
    ['p2', 'script-1'],
    ['p4', 'script-1'],
  ])
  const whole = (await readFile(join(folder, 'work', 'takes', 'script-1.wav'))).subarray(44)
  for (const [i, take] of takes.entries()) {
    const piece = split.pieces[i]!
    const start = Math.round(piece.from * 48_000)
    expect(
      (await readFile(join(folder, 'work', take.file!))).subarray(44).equals(whole.subarray(2 * start, 2 * Math.round(piece.to * 48_000))),
    ).toBe(true)
    expect(take.words).toEqual(piece.found.words.map(({ word }) => word))
  }
  const { project } = engine.workspace.opened
  const before = project.breakdown()
  const chosen = split.pieces.map(({ paragraph, found }, i) => ({
    paragraph: breakdown.script.find((row) => 'id' in row && row.id === paragraph) as Paragraph,
    file: takes[i]!.file!,
    found,
  }))
  await value('edit.apply', {
    edit: {
      id: 'one',
      label: 'Choose the takes',
      group: null,
      steps: [],
      diffs: takeDiffs(project.state, chosen, new Map()),
      selection: null,
      base: project.version,
    },
  })
  expect(project.breakdown().script.map((row) => 'text' in row && row.take)).toEqual([
    takes[0]!.file,
    takes[1]!.file,
    undefined,
    takes[2]!.file,
  ])
  await value('edit.undo', {})
  expect(project.breakdown()).toEqual(before)
})
