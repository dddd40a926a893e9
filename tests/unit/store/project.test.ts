import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Edit, PackGone, RecordDiff, SentEdit } from '../../../app/edit/edit'
import type { Reading } from '../../../app/measure/reading'
import type { Breakdown } from '../../../app/project/breakdown'
import { createProject } from '../../../main/store/create-project'
import { openProject } from '../../../main/store/open-project'
import type { Project } from '../../../main/store/project'
import { validDocument } from '../../valid-document'

let folder = ''
let path = ''
let project: Project
const start = (breakdown: Breakdown): void => {
  path = join(folder, `${Math.random()}.claimframe`)
  const made = createProject(path, breakdown)
  if (!made.ok) throw made.error
  project = reopen()
}
const reopen = (): Project => {
  const opened = openProject(path)
  if (!opened.ok) throw opened.error
  return opened.value
}
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
})
afterEach(() => {
  project.close()
  rmSync(folder, { recursive: true, force: true })
})

const valid = (): Breakdown => validDocument() as unknown as Breakdown
let made = 0
const apply = (parts: Partial<Edit>): void => {
  const result = project.apply({
    id: `edit-${made++}`,
    label: 'A change',
    group: null,
    steps: [],
    diffs: [],
    selection: null,
    base: project.version,
    ...parts,
  })
  if (!result.ok) throw result.error
}

const POINTS = ['hip', 'knee', 'ankle', 'wrist', 'elbow', 'shoulder'].flatMap((name) => [`${name}.left`, `${name}.right`])
/// A clip of `frames` frames with every point on every frame.
function tracked(frames: number, points = POINTS): Breakdown {
  const breakdown = valid()
  return {
    ...breakdown,
    clips: [{ ...breakdown.clips[0]!, from: 0, to: frames }, breakdown.clips[1]!],
    landmarks: points.map((point) => ({
      clip: 'c1',
      subject: 's1',
      point,
      samples: Array.from({ length: frames }, (_, frame) => ({
        frame,
        at: [frame / 7, 300.25] as [number, number],
        sigma: 3,
        origin: 'tracked' as const,
      })),
    })),
  }
}

describe('samples', () => {
  it('should be read for the frames that are asked for, from included and to excluded', () => {
    start(tracked(1000, ['knee.left']))
    const frames = (from: number, to: number): number[] => project.samples('c1', 's1', 'knee.left', from, to).map((s) => s.frame)
    expect(frames(250, 262)).toEqual([250, 251, 252, 253, 254, 255, 256, 257, 258, 259, 260, 261])
    expect(frames(998, 5000)).toEqual([998, 999])
    expect(frames(10, 10)).toEqual([])
    expect(project.samples('c1', 's1', 'none', 0, 10)).toEqual([])
    expect(project.state.tables.packs.list().every((pack) => pack.samples === null)).toBe(true)
  })

  it('should take a tracking run of 300 frames as one edit, and back as one', () => {
    start(tracked(1000, ['knee.left']))
    const before = project.breakdown()
    const head = { clip: 'c1', subject: 's1', point: 'knee.left' }
    const diffs = [0, 1].map((pack): RecordDiff => {
      const samples = project.samples('c1', 's1', 'knee.left', pack * 256, (pack + 1) * 256)
      const moved = samples.map((s) => (s.frame < 300 ? { ...s, at: [s.at[0] + 1, s.at[1]] as [number, number] } : s))
      return {
        table: 'packs',
        key: `c1/s1/knee.left/${pack}`,
        change: 'updated',
        from: { ...head, pack, samples },
        to: { ...head, pack, samples: moved },
      }
    })
    apply({ label: 'Track knee.left', diffs })
    expect(project.samples('c1', 's1', 'knee.left', 299, 301).map((s) => s.at[0])).toEqual([299 / 7 + 1, 300 / 7])
    expect(project.next().undo).toMatchObject({ label: 'Track knee.left', place: { room: 'bench', clip: 'c1', frame: null } })
    project.close()
    project = reopen()
    project.undo()
    expect(project.breakdown()).toEqual(before)
  })

  it('should refuse samples on packs that somebody changed meanwhile, though their extent is the same', () => {
    start(tracked(300, ['knee.left']))
    const head = { clip: 'c1', subject: 's1', point: 'knee.left', pack: 1 }
    const samples = project.samples('c1', 's1', 'knee.left', 256, 512)
    const stale = samples.map((s) => ({ ...s, sigma: 9 }))
    const result = project.apply({
      id: 'stale',
      label: 'Move',
      group: null,
      steps: [],
      selection: null,
      base: 0,
      diffs: [{ table: 'packs', key: 'c1/s1/knee.left/1', change: 'updated', from: { ...head, samples: stale }, to: { ...head, samples } }],
    })
    expect(result.ok ? '' : result.error.code).toBe('edit-conflict')
  })

  it('should go by their extents alone, be kept in the log whole, and come back', () => {
    start(tracked(1000, ['knee.left']))
    const before = project.breakdown()
    const gone = [0, 1, 2, 3].map((pack): PackGone => ({
      table: 'packs',
      key: `c1/s1/knee.left/${pack}`,
      change: 'gone',
      first: pack * 256,
      last: Math.min(1000, (pack + 1) * 256) - 1,
    }))
    const sent = { id: 'gone', label: 'Remove knee.left', group: null, steps: [], selection: null, base: 0 }
    const head = { clip: 'c1', subject: 's1', point: 'knee.left' }
    const refusals = [[{ ...gone[0]!, last: 254 }], [{ ...gone[0]!, key: 'c1/s1/knee.left/4' }], [gone[0]!, gone[0]!]].map((diffs) =>
      project.apply({ ...sent, diffs }),
    )
    expect(refusals.map((result) => (result.ok ? '' : result.error.code))).toEqual(['edit-conflict', 'edit-conflict', 'edit-conflict'])
    const whole: SentEdit = {
      ...sent,
      diffs: [...gone, { table: 'landmarks', key: 'c1/s1/knee.left', change: 'removed', record: head, after: null }],
    }
    const done = project.apply(whole)
    if (!done.ok) throw done.error
    expect(
      done.value.edit.diffs.flatMap((diff) => (diff.table === 'packs' && diff.change === 'removed' ? [diff.record.samples.length] : [])),
    ).toEqual([256, 256, 256, 232])
    expect(project.breakdown().landmarks).toEqual([])
    // Sent again after a lost answer, when they are gone already.
    expect(project.apply(whole)).toMatchObject({ ok: true, value: { sequence: 1 } })
    project.close()
    project = reopen()
    project.undo()
    expect(project.breakdown()).toEqual(before)
    project.redo()
    expect(project.breakdown().landmarks).toEqual([])
  })

  it('should not go by their extents where somebody changed them meanwhile', () => {
    start(tracked(1000, ['knee.left']))
    const head = { clip: 'c1', subject: 's1', point: 'knee.left', pack: 1 }
    const samples = project.samples('c1', 's1', 'knee.left', 256, 512)
    apply({
      diffs: [
        {
          table: 'packs',
          key: 'c1/s1/knee.left/1',
          change: 'updated',
          from: { ...head, samples },
          to: { ...head, samples: samples.map((s) => ({ ...s, sigma: 9 })) },
        },
      ],
    })
    const result = project.apply({
      id: 'stale',
      label: 'Remove',
      group: null,
      steps: [],
      selection: null,
      base: 0,
      diffs: [{ table: 'packs', key: 'c1/s1/knee.left/1', change: 'gone', first: 256, last: 511 }],
    })
    expect(result.ok ? '' : result.error.code).toBe('edit-conflict')
  })

  it('should keep a clip from being cut shorter than what was placed on it', () => {
    start(tracked(300, ['knee.left']))
    const clip = project.state.tables.clips.get('c1')!
    const result = project.apply({
      id: 'cut',
      label: 'Trim c1',
      group: null,
      steps: [],
      selection: null,
      base: 0,
      diffs: [{ table: 'clips', key: 'c1', change: 'updated', from: clip, to: { ...clip, to: 290 } }],
    })
    expect(result.ok ? '' : result.error.message).toContain('299 is outside clip c1 (0–290)')
  })
})

describe('readings', () => {
  const reading = (id: string, value: number): Reading => ({
    id,
    kind: 'joint-angle',
    clip: 'c1',
    frame: 460,
    value,
    u: 5,
    U: 10,
    low: value - 10,
    high: value + 10,
    unit: '°',
    plane: 'image',
    verdict: 'good',
    reasons: [],
    parts: [],
    label: '',
    plate: { value: '', what: '' },
    spoken: '',
  })

  it('should be kept beside their measures without being an edit, the last one counting', () => {
    start(valid())
    project.storeReadings([reading('m1', 1), reading('m2', 2)])
    project.storeReadings([reading('m1', 3), reading('gone', 4)])
    expect(project.readings().map((r) => [r.id, r.value])).toEqual([
      ['m1', 3],
      ['m2', 2],
    ])
    expect(project.version).toBe(0)
    const measure = project.state.tables.measures.get('m2')!
    apply({ diffs: [{ table: 'measures', key: 'm2', change: 'removed', record: measure, after: 'm1' }] })
    expect(project.readings().map((r) => r.id)).toEqual(['m1'])
    expect(project.breakdown().script[1]).toEqual(valid().script[1])
  })
})

describe('typing', () => {
  const type = (text: string): void => {
    const at = project.state.script.content.size - 1
    apply({ label: 'Typing', steps: [{ stepType: 'replace', from: at, to: at, slice: { content: [{ type: 'text', text }] } }] })
  }

  it('should append steps and write the document whole every 200 of them, or when idle', () => {
    start(valid())
    const snapshots = (): number[] => {
      project.close()
      const reader = openProject(path, { readOnly: true })
      if (!reader.ok) throw reader.error
      const found = reader.value.snapshots()
      reader.value.close()
      project = reopen()
      return found
    }
    for (let i = 0; i < 199; i++) type('x')
    expect(snapshots()).toEqual([0])
    type('y')
    expect(snapshots()).toEqual([0, 200])
    for (let i = 0; i < 10; i++) type('z')
    project.snapshot()
    expect(snapshots()).toEqual([0, 200, 210])
    for (let i = 0; i < 200; i++) type('w')
    expect(snapshots()).toEqual([0, 210, 410])
    expect(project.state.script.textContent.endsWith('y' + 'z'.repeat(10) + 'w'.repeat(200))).toBe(true)
  })
})

describe('a large project', () => {
  it('should open 240,000 samples without reading them, and an edit not touch them', () => {
    start(tracked(20_000))
    project.close()
    const began = performance.now()
    project = reopen()
    const opened = performance.now() - began
    expect(project.state.tables.packs.size).toBe(12 * 79)
    expect(opened).toBeLessThan(1000)
    const event = project.state.tables.events.get('e1')!
    const from = performance.now()
    apply({ diffs: [{ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, name: 'touch' } }] })
    expect(performance.now() - from).toBeLessThan(250)
  })
})
