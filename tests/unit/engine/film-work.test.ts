import { existsSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { CallInput, CallName, CallOutput } from '../../../app/contract/calls'
import type { EngineEvent } from '../../../app/contract/events'
import type { Breakdown } from '../../../app/project/breakdown'
import { readFilm } from '../../../main/media/frame-scan'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { createProject } from '../../../main/store/create-project'
import { makePatternFilm } from '../../film-patterns'
import { openTestDoor, openWindow, type OpenedDoor, type TestWindow } from '../../open-door'

/// Work on a whole film, asked for through the contract as a window does.

let opened: OpenedDoor
let window: TestWindow
const heard: EngineEvent[] = []
let following: Promise<void>
let stopped = false

const knee = (x: number) => [
  { clip: 'c1', subject: 's1', point: 'hip.left', samples: [{ frame: 12, at: [100, 40] as [number, number], sigma: 2 }] },
  { clip: 'c1', subject: 's1', point: 'knee.left', samples: [{ frame: 12, at: [x, 90] as [number, number], sigma: 2 }] },
  { clip: 'c1', subject: 's1', point: 'ankle.left', samples: [{ frame: 12, at: [100, 150] as [number, number], sigma: 2 }] },
]

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'One knee',
  output: { width: 320, height: 180, rate: '25/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 50, capture: { factor: '1', u: 0 } }],
  events: [{ id: 'e1', clip: 'c1', name: 'contact', earliest: 12, latest: 12 }],
  landmarks: knee(130),
  measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 12, points: ['hip.left', 'knee.left', 'ankle.left'] }],
  script: [
    {
      id: 'p1',
      text: ['The knee is at ', { value: 'm1' }, ' and not at 90 degrees.'],
      shots: [
        { run: 'c1', from: 0, to: 12, speed: '1' },
        { hold: 'c1', at: 12, seconds: '1', marks: ['m1'] },
      ],
    },
  ],
}

async function value<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>> {
  const reply = await window.client.call(name, input)
  if (!reply.ok) throw new Error(`${name}: ${reply.error.message}`)
  return reply.value
}

async function until<T>(what: () => T | undefined | false | null, patience_ms = 60_000): Promise<T> {
  const end = Date.now() + patience_ms
  for (;;) {
    const found = what()
    if (found) return found
    if (Date.now() > end) throw new Error('waited in vain')
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

const jobEvents = (id: string) => heard.flatMap((event) => (event.kind === 'job' && event.job.id === id ? [event.job] : []))
const ended = (id: string) => jobEvents(id).find(({ state }) => state === 'done' || state === 'failed' || state === 'cancelled')

beforeAll(async () => {
  opened = await openTestDoor()
  window = await openWindow(opened.door.newAddress())
  const file = join(opened.folder, 'one-knee.claimframe')
  await makePatternFilm(await findFfmpeg(), join(opened.folder, 'bout.mp4'), { frames: 50, rate: '25', width: 320, height: 180 })
  expect(createProject(file, breakdown).ok).toBe(true)
  await value('project.open', { file })
  const { engine, after } = await value('project.state', {})
  following = (async () => {
    let next = after
    while (!stopped) {
      const page = await window.client.events(engine, next)
      if (!page.ok) return
      heard.push(...page.value.events)
      next = page.value.next
    }
  })()
  await until(() => heard.find((event) => event.kind === 'film' && event.film.state === 'ready'))
})
afterAll(async () => {
  stopped = true
  await opened.close()
  await following
})

describe('readings', () => {
  it('are told of when what they hang on changes, and of no other', async () => {
    const before = (await value('readings.list', {})).readings[0]!
    expect(before).toMatchObject({ id: 'm1', unit: '°', plane: 'image' })
    heard.length = 0
    const { packs } = (await value('project.state', {})).replica
    expect(packs).toHaveLength(3)
    const pack = (x: number) => ({ clip: 'c1', subject: 's1', point: 'knee.left', pack: 0, samples: knee(x)[1]!.samples })
    const committed = await value('edit.apply', {
      edit: {
        id: 'move',
        label: 'Move knee.left',
        group: null,
        steps: [],
        diffs: [{ table: 'packs', change: 'updated', key: 'c1/s1/knee.left/0', from: pack(130), to: pack(150) }],
        selection: null,
        base: 0,
      },
    })
    expect(committed.done).toMatchObject({ label: 'Move knee.left', place: { room: 'bench', clip: 'c1', frame: 12 } })
    const told = await until(() => heard.find((event) => event.kind === 'readings' && event.version === 1))
    expect(told.kind === 'readings' && told.changed.map(({ id }) => id)).toEqual(['m1'])
    const after = (await value('readings.list', {})).readings[0]!
    expect(after.value!).toBeLessThan(before.value! - 10)
    heard.length = 0
    await value('edit.apply', {
      edit: {
        id: 'name',
        label: 'Name',
        group: null,
        steps: [],
        diffs: [
          {
            table: 'paragraphs',
            change: 'updated',
            key: 'p1',
            from: { id: 'p1', shots: breakdown.script[0]! && 'shots' in breakdown.script[0] ? breakdown.script[0].shots! : [] },
            to: {
              id: 'p1',
              shots: breakdown.script[0]! && 'shots' in breakdown.script[0] ? breakdown.script[0].shots! : [],
              title: { name: 'Nela Varga' },
            },
          },
        ],
        selection: null,
        base: 1,
      },
    })
    await new Promise((resolve) => setTimeout(resolve, 100))
    expect(heard.filter((event) => event.kind === 'readings' && event.version > 1)).toEqual([])
  })

  it('hang on samples that are read on demand', async () => {
    const { landmarks } = await value('landmarks.samples', { clip: 'c1', point: 'knee.left', from: 10, to: 13 })
    expect(landmarks).toEqual([{ clip: 'c1', subject: 's1', point: 'knee.left', samples: knee(150)[1]!.samples }])
    expect((await value('landmarks.samples', { clip: 'c1', from: 13 })).landmarks.every(({ samples }) => samples.length === 0)).toBe(true)
  })
})

describe('the script', () => {
  it('has its findings and its captions', async () => {
    const { findings } = await value('findings.list', {})
    expect(findings.map(({ code, paragraph }) => [code, paragraph])).toContainEqual(['typed-number', 'p1'])
    const { captions } = await value('captions.list', {})
    expect(captions[0]!.lines.join(' ')).toContain('The knee is at')
    expect(captions.every(({ from_s, to_s }) => from_s < to_s)).toBe(true)
  })
})

describe('a render', () => {
  it('runs as a job that tells how far it is, and leaves a film', async () => {
    const file = join(opened.folder, 'out.mp4')
    const { job } = await value('render.start', { file, quality: 'draft' })
    await until(() => ended(job))
    expect(ended(job)).toMatchObject({ state: 'done', file, progress: 1, refusal: null })
    const states = jobEvents(job).map(({ state }) => state)
    expect(states[0]).toBe('waiting')
    expect(states.at(-1)).toBe('done')
    expect(new Set(states.slice(1, -1))).toEqual(new Set(['running']))
    const film = await readFilm(await findFfmpeg(), file)
    expect([film.head.width, film.head.height, film.head.sound !== null]).toEqual([160, 90, true])
    const again = await window.client.call('render.start', { file, quality: 'draft' })
    expect(again.ok ? null : again.error.code).toBe('file-exists')
  })

  it('keeps the project open, and ends when it is cancelled, with nothing left under the name', async () => {
    const file = join(opened.folder, 'cancelled.mp4')
    const { job } = await value('render.start', { file, quality: 'draft' })
    const close = await window.client.call('project.close', {})
    expect(close.ok ? null : close.error.code).toBe('jobs-running')
    await value('jobs.cancel', { job })
    await until(() => ended(job))
    expect(ended(job)!.state).toBe('cancelled')
    expect(existsSync(file)).toBe(false)
    expect((await value('jobs.list', {})).jobs.find(({ id }) => id === job)?.state).toBe('cancelled')
  })

  it('of the final film is held back by a typed number that a draft may show', async () => {
    const file = join(opened.folder, 'final.mp4')
    const { job } = await value('render.start', { file, quality: 'final' })
    await until(() => ended(job))
    expect(ended(job)).toMatchObject({
      state: 'failed',
      file: null,
      refusal: {
        code: 'held-back',
        message: expect.stringMatching(/held back by .* open findings?\. The Evidence room shows (?:it|them); /),
      },
    })
    expect(existsSync(file)).toBe(false)
  })

  it('that cannot be made says why, in the job', async () => {
    const { job } = await value('render.start', { file: join(opened.folder, 'nowhere', 'out.mp4'), quality: 'draft' })
    await until(() => ended(job))
    expect(ended(job)).toMatchObject({ state: 'failed', file: null, refusal: { code: 'file-missing' } })
    const wrong = await window.client.call('render.start', {
      file: join(opened.folder, 'one-knee.claimframe'),
      quality: 'draft',
      replace: true,
    })
    expect(wrong.ok ? null : wrong.error.code).toBe('wrong-use')
  })
})

describe('a bundle', () => {
  it('holds project and films, and opens', async () => {
    const folder = join(opened.folder, 'bundle')
    const { job } = await value('project.bundle', { folder })
    await until(() => ended(job))
    expect(ended(job)).toMatchObject({ state: 'done', file: folder })
    expect(statSync(join(folder, 'bout.mp4')).size).toBe(statSync(join(opened.folder, 'bout.mp4')).size)
    await value('project.open', { file: join(folder, 'one-knee.claimframe') })
    await expect.poll(async () => (await value('footage.facts', {})).films[0]?.state).toBe('ready')
    expect((await value('readings.list', {})).readings[0]!.value).not.toBeNull()
  })
})
