import fc from 'fast-check'
import { Fragment, Slice } from 'prosemirror-model'
import { AddMarkStep, ReplaceStep, Transform } from 'prosemirror-transform'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Edit, RecordDiff } from '../../../app/edit/edit'
import { stateOf, type ProjectState } from '../../../app/edit/project-state'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Paragraph } from '../../../app/project/picture'
import { scriptSchema } from '../../../app/script/schema'
import { createProject } from '../../../main/store/create-project'
import { openProject } from '../../../main/store/open-project'
import type { Project } from '../../../main/store/project'
import { breakdownArbitrary } from '../../breakdown-arbitrary'
import { checkEdit } from '../../check-edit'
import { validDocument } from '../../valid-document'

let folder: string
let path: string
let project: Project
let state: ProjectState
let made = 0

const opened = (): Project => {
  const result = openProject(path)
  if (!result.ok) throw result.error
  return result.value
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'claimframe-'))
  path = join(folder, 'a.claimframe')
  const read = readBreakdown(JSON.stringify(validDocument()), 'a.json')
  if (!read.ok) throw read.error
  const created = createProject(path, read.value)
  if (!created.ok) throw created.error
  state = stateOf(read.value)
  project = opened()
})
afterEach(() => {
  project.close()
  rmSync(folder, { recursive: true, force: true })
})

const edit = (parts: Partial<Edit>): Edit => ({
  id: `edit-${made++}`,
  label: 'A change',
  group: null,
  steps: [],
  diffs: [],
  selection: null,
  base: state.version,
  ...parts,
})
const diff = (d: object): RecordDiff => d as RecordDiff
const steps = (change: (tr: Transform) => void): Edit['steps'] => {
  const transform = new Transform(state.script)
  change(transform)
  return transform.steps.map((step) => step.toJSON() as Edit['steps'][number])
}
/// Position right behind `text` in the script.
const behind = (text: string): number => {
  let found = -1
  state.script.descendants((node, at) => {
    const index = node.isText ? node.text!.indexOf(text) : -1
    if (index >= 0 && found < 0) found = at + index + text.length
  })
  return found
}
const paragraphOf = (breakdown: Breakdown, id: string): Paragraph =>
  breakdown.script.find((entry): entry is Paragraph => 'text' in entry && entry.id === id)!
const done = (parts: Partial<Edit>, after: (breakdown: Breakdown) => void): void => {
  state = checkEdit(state, edit(parts), after, project)
}

describe('every kind of edit', () => {
  it('should hold for words: typed, deleted, split, merged', () => {
    done({ steps: steps((tr) => tr.insert(behind('knee is'), scriptSchema.text(' now'))) }, (b) =>
      expect(paragraphOf(b, 'p1').text[0]).toBe('The lead knee is now at '),
    )
    done({ steps: steps((tr) => tr.delete(behind('The lead') - 8, behind('The lead') - 5)) }, (b) =>
      expect(paragraphOf(b, 'p1').text[0]).toBe(' lead knee is now at '),
    )
    const at = behind('knee is')
    done({ steps: steps((tr) => tr.split(at, 1, [{ type: scriptSchema.nodes.paragraph, attrs: { id: 'p2' } }])) }, (b) => {
      expect(paragraphOf(b, 'p1').text).toEqual([' lead knee is'])
      expect(paragraphOf(b, 'p2').text.at(-1)).toBe('.')
    })
    done({ steps: steps((tr) => tr.join(behind('knee is') + 1)) }, (b) =>
      expect(b.script.map((entry) => ('text' in entry ? entry.id : entry.chapter))).toEqual(['The load', 'p1']),
    )
  })

  it('should hold for live values and cues', () => {
    const value = scriptSchema.nodes.value.create({ measure: 'm2', form: null })
    done(
      { steps: [new ReplaceStep(behind('knee'), behind('knee'), new Slice(Fragment.from(value), 0, 0)).toJSON() as Edit['steps'][number]] },
      (b) => expect(paragraphOf(b, 'p1').text).toContainEqual({ value: 'm2' }),
    )
    const word = behind('lead')
    done(
      { steps: [new AddMarkStep(word - 4, word, scriptSchema.marks.cue.create({ event: 'e0' })).toJSON() as Edit['steps'][number]] },
      (b) => expect(paragraphOf(b, 'p1').text).toContainEqual({ cue: 'e0', word: 'lead' }),
    )
  })

  it('should hold for a paragraph’s shots, marks, take and title', () => {
    const from = state.tables.paragraphs.get('p1')!
    const slower = {
      ...from,
      shots: [{ ...from.shots![0]!, speed: '1/8' }, ...from.shots!.slice(1).reverse()],
      title: { name: 'Nela Varga' },
    }
    done({ diffs: [diff({ table: 'paragraphs', key: 'p1', change: 'updated', from, to: slower })] }, (b) =>
      expect(paragraphOf(b, 'p1').shots![0]).toMatchObject({ speed: '1/8' }),
    )
  })

  it('should hold for films, subjects, clips, views, events and settings', () => {
    done({ diffs: [diff({ table: 'footage', key: 'f3', change: 'added', record: { id: 'f3', file: 'c.mp4' }, after: 'f1' })] }, (b) =>
      expect(b.footage.map((f) => f.id)).toEqual(['f1', 'f3', 'f2']),
    )
    done(
      { diffs: [diff({ table: 'subjects', key: 's2', change: 'added', record: { id: 's2', name: 'Ruta Selmane' }, after: null })] },
      (b) => expect(b.subjects.map((s) => s.id)).toEqual(['s2', 's1']),
    )
    const clip = state.tables.clips.get('c2')!
    done(
      {
        diffs: [
          diff({
            table: 'clips',
            key: 'c2',
            change: 'updated',
            from: clip,
            to: { ...clip, capture: { factor: '4', u: 0.1 }, mirrored: true },
          }),
        ],
      },
      (b) => expect(b.clips[1]).toMatchObject({ mirrored: true }),
    )
    const view = state.tables.views.list()[0]!
    done(
      { diffs: [diff({ table: 'views', key: state.tables.views.keys[0], change: 'updated', from: view, to: { ...view, lead: 'right' } })] },
      (b) => expect(b.views![0]!.lead).toBe('right'),
    )
    const event = state.tables.events.get('e1')!
    done({ diffs: [diff({ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, earliest: 458 } })] }, (b) =>
      expect(b.events![1]!.earliest).toBe(458),
    )
    const settings = state.tables.settings.get('project')!
    done(
      {
        diffs: [
          diff({ table: 'settings', key: 'project', change: 'updated', from: settings, to: { ...settings, title: 'Another title' } }),
        ],
      },
      (b) => expect(b.title).toBe('Another title'),
    )
  })

  it('should hold for landmarks, their samples in packs, and measures', () => {
    const head = { clip: 'c1', subject: 's1', point: 'ankle.left' }
    const sample = (frame: number): object => ({ frame, at: [frame / 3, 200.25], sigma: 3 })
    done(
      {
        diffs: [
          diff({ table: 'landmarks', key: 'c1/s1/ankle.left', change: 'added', record: head, after: 'c1/s1/knee.left' }),
          diff({
            table: 'packs',
            key: 'c1/s1/ankle.left/1',
            change: 'added',
            record: { ...head, pack: 1, samples: [sample(460), sample(461)] },
            after: null,
          }),
        ],
      },
      (b) => expect(b.landmarks![1]!.samples).toHaveLength(2),
    )
    const pack = { ...head, pack: 1, samples: [sample(460), sample(461)] }
    done(
      {
        diffs: [
          diff({
            table: 'packs',
            key: 'c1/s1/ankle.left/1',
            change: 'updated',
            from: pack,
            to: { ...pack, samples: [sample(460), { ...sample(461), seen: 'occluded' }] },
          }),
        ],
      },
      (b) => expect(b.landmarks![1]!.samples[1]!.seen).toBe('occluded'),
    )
    done(
      {
        diffs: [
          diff({
            table: 'measures',
            key: 'm3',
            change: 'added',
            record: { id: 'm3', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' },
            after: 'm2',
          }),
        ],
      },
      (b) => expect(b.measures).toHaveLength(3),
    )
    const measure = state.tables.measures.get('m3')!
    done({ diffs: [diff({ table: 'measures', key: 'm3', change: 'removed', record: measure, after: 'm2' })] }, (b) =>
      expect(b.measures).toHaveLength(2),
    )
  })

  it('should refuse what would break the project, and change nothing', () => {
    const before = project.breakdown()
    const event = state.tables.events.get('e1')!
    const refusals: [Partial<Edit>, string][] = [
      [
        { diffs: [diff({ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, earliest: 900, latest: 901 } })] },
        'edit-refused',
      ],
      [{ diffs: [diff({ table: 'events', key: 'e1', change: 'updated', from: { ...event, earliest: 1 }, to: event })] }, 'edit-conflict'],
      [
        { diffs: [diff({ table: 'footage', key: 'f1', change: 'added', record: { id: 'f1', file: 'again.mp4' }, after: null })] },
        'edit-conflict',
      ],
      [
        { diffs: [diff({ table: 'clips', key: 'c1', change: 'removed', record: state.tables.clips.get('c1'), after: null })] },
        'edit-refused',
      ],
      [{ steps: [{ stepType: 'replace', from: 100_000, to: 100_001 }] }, 'edit-refused'],
      [{ base: 99 }, 'edit-refused'],
    ]
    for (const [parts, code] of refusals) {
      const applied = project.apply(edit({ id: `refused-${code}-${made++}`, ...parts }))
      expect(applied.ok ? 'ok' : applied.error.code).toBe(code)
    }
    expect(project.breakdown()).toEqual(before)
    expect(project.version).toBe(0)
  })
})

describe('the log', () => {
  const type = (text: string, group: string | null = null): void => {
    const result = project.apply({
      id: `typed-${made++}`,
      label: 'Type',
      group,
      base: project.version,
      steps: [
        new ReplaceStep(
          project.state.script.content.size - 1,
          project.state.script.content.size - 1,
          new Slice(Fragment.from(scriptSchema.text(text)), 0, 0),
        ).toJSON() as Edit['steps'][number],
      ],
      diffs: [],
      selection: null,
    })
    if (!result.ok) throw result.error
  }
  const words = (): string => project.state.script.textContent

  it('should undo and redo across restarts, and say what and where', () => {
    const before = words()
    type(' One.')
    type(' Two.')
    project.close()
    project = opened()
    expect(project.next().undo).toMatchObject({ label: 'Type' })
    expect(project.next().undo!.place).toMatchObject({ paragraph: 'p1' })
    for (const wanted of [`${before} One.`, before]) {
      const undone = project.undo()
      expect(undone.ok && undone.value?.kind).toBe('undo')
      expect(words()).toBe(wanted)
      project.close()
      project = opened()
      expect(words()).toBe(wanted)
    }
    project.redo()
    project.redo()
    expect(words()).toBe(`${before} One. Two.`)
    expect(project.redo()).toMatchObject({ ok: true, value: null })
  })

  it('should undo a group as one, and answer an edit that was applied already again', () => {
    const before = words()
    for (const key of 'group') type(key, 'g1')
    project.undo()
    expect(words()).toBe(before)
    const once: Edit = {
      id: 'once',
      label: 'Once',
      group: null,
      base: project.version,
      steps: [],
      diffs: [diff({ table: 'subjects', key: 's9', change: 'added', record: { id: 's9', name: 'Ruta Selmane' }, after: 's1' })],
      selection: null,
    }
    const first = project.apply(once)
    const second = project.apply(once)
    expect(first.ok && second.ok && first.value.sequence === second.value.sequence).toBe(true)
    expect(project.state.tables.subjects.size).toBe(2)
  })

  it('should rebase words typed on an older version, and refuse alone a record that changed meanwhile', () => {
    const base = project.version
    const end = project.state.script.content.size - 1
    const insert = (at: number, text: string): Edit['steps'] => [
      new ReplaceStep(at, at, new Slice(Fragment.from(scriptSchema.text(text)), 0, 0)).toJSON() as Edit['steps'][number],
    ]
    const event = project.state.tables.events.get('e1')!
    expect(
      project.apply({
        id: 'a',
        label: 'A',
        group: null,
        base,
        steps: insert(end, ' AAA'),
        diffs: [diff({ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, name: 'first contact' } })],
        selection: null,
      }).ok,
    ).toBe(true)
    expect(project.apply({ id: 'b', label: 'B', group: null, base, steps: insert(end, ' BBB'), diffs: [], selection: null }).ok).toBe(true)
    expect(words().endsWith(' AAA BBB') || words().endsWith(' BBB AAA')).toBe(true)
    const late = project.apply({
      id: 'c',
      label: 'C',
      group: null,
      base,
      steps: [],
      diffs: [diff({ table: 'events', key: 'e1', change: 'updated', from: event, to: { ...event, name: 'other' } })],
      selection: null,
    })
    expect(late.ok ? 'ok' : late.error.code).toBe('edit-conflict')
    expect(project.state.tables.events.get('e1')!.name).toBe('first contact')
  })

  it('should open quickly after a thousand keys, with the document written whole only now and then', () => {
    for (let i = 0; i < 450; i++) type('x')
    project.close()
    project = opened()
    expect(words().endsWith('x'.repeat(450))).toBe(true)
    expect(project.version).toBe(450)
  })
})

it('should lose nothing over random edits, undos and restarts, on random projects', () => {
  fc.assert(
    fc.property(
      breakdownArbitrary,
      fc.array(
        fc.record({ what: fc.constantFrom('type', 'title', 'subject', 'event', 'shot', 'undo', 'redo', 'reopen'), n: fc.nat(1000) }),
        { minLength: 10, maxLength: 40 },
      ),
      (breakdown, moves) => {
        project.close()
        rmSync(path)
        const created = createProject(path, breakdown)
        if (!created.ok) throw created.error
        project = opened()
        const past = [project.breakdown()]
        let at = 0
        for (const { what, n } of moves) {
          const t = project.state.tables
          const parts: { steps?: Edit['steps']; diffs?: Edit['diffs'] } = {}
          if (what === 'undo' || what === 'redo') {
            const result = what === 'undo' ? project.undo() : project.redo()
            if (!result.ok) throw result.error
            if (result.value) at += what === 'undo' ? -1 : 1
            expect(project.breakdown()).toEqual(past[at])
            continue
          }
          if (what === 'reopen') {
            project.close()
            project = opened()
            expect(project.breakdown()).toEqual(past[at])
            continue
          }
          if (what === 'type') {
            const size = project.state.script.content.size
            let spot = -1
            project.state.script.forEach((node, offset) => {
              if (node.type.name === 'paragraph' && (spot < 0 || offset < n % (size + 1))) spot = offset + 1
            })
            if (spot < 0) continue
            parts.steps = [
              new ReplaceStep(spot, spot, new Slice(Fragment.from(scriptSchema.text(`w${n} `)), 0, 0)).toJSON() as Edit['steps'][number],
            ]
          } else if (what === 'title') {
            const settings = t.settings.get('project')!
            parts.diffs = [
              diff({ table: 'settings', key: 'project', change: 'updated', from: settings, to: { ...settings, title: `Title ${n}` } }),
            ]
          } else if (what === 'subject') {
            const key = `s${100 + n}`
            if (t.subjects.has(key)) continue
            parts.diffs = [
              diff({
                table: 'subjects',
                key,
                change: 'added',
                record: { id: key, name: `Name ${n}` },
                after: t.subjects.keys[n % t.subjects.size] ?? null,
              }),
            ]
          } else if (what === 'event') {
            const event = t.events.list()[n % t.events.size]!
            parts.diffs = [diff({ table: 'events', key: event.id, change: 'updated', from: event, to: { ...event, name: `event ${n}` } })]
          } else {
            const paragraph = t.paragraphs.list()[n % Math.max(1, t.paragraphs.size)]
            if (!paragraph?.shots) continue
            parts.diffs = [
              diff({
                table: 'paragraphs',
                key: paragraph.id,
                change: 'updated',
                from: paragraph,
                to: { ...paragraph, shots: [...paragraph.shots, { card: 'text', lines: [`line ${n}`] }] },
              }),
            ]
          }
          const result = project.apply({
            id: `random-${made++}`,
            label: what,
            group: null,
            steps: [],
            diffs: [],
            selection: null,
            base: project.version,
            ...parts,
          })
          if (!result.ok) throw result.error
          past.length = at + 1
          past.push(project.breakdown())
          at++
        }
      },
    ),
    { numRuns: 12 },
  )
}, 60_000)
