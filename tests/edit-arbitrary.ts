import fc from 'fast-check'
import type { Node } from 'prosemirror-model'
import { Transform } from 'prosemirror-transform'
import { completeEdit } from '../app/edit/complete-edit'
import type { Edit, RecordDiff } from '../app/edit/edit'
import type { ProjectState } from '../app/edit/project-state'
import { landmarkKey, packOf, tables, type Records, type TableName } from '../app/edit/records'
import type { StepJson } from '../app/script/script-json'
import { scriptSchema } from '../app/script/schema'

/// One thing that a person might do, told without a project: `at` and `size` are made to fit
/// whatever project it is done to.
export interface Gesture {
  readonly kind: (typeof kinds)[number]
  readonly at: number
  readonly size: number
}
const kinds = [
  'type',
  'delete',
  'split',
  'merge',
  'value',
  'cue',
  'note',
  'add',
  'change',
  'remove',
  'samples',
  'shots',
  'settings',
] as const

export const gestureArbitrary: fc.Arbitrary<Gesture> = fc.record({
  kind: fc.constantFrom(...kinds),
  at: fc.nat(1_000_000),
  size: fc.nat(50),
})

/// The edit of a gesture on a state, or null where it has nothing to act on. `id` must be new.
export function editOf({ kind, at, size }: Gesture, state: ProjectState, id: string): Edit | null {
  const made = changeOf(kind, at, size, state, id)
  if (!made || (made.steps.length === 0 && made.diffs.length === 0)) return null
  const edit: Edit = { id, label: kind, group: null, selection: null, base: state.version, ...made }
  return completeEdit(state, edit)
}

type Made = Pick<Edit, 'steps' | 'diffs'>

function changeOf(kind: Gesture['kind'], at: number, size: number, state: ProjectState, id: string): Made | null {
  switch (kind) {
    case 'add':
    case 'change':
    case 'remove':
      return { steps: [], diffs: simpleDiffs(kind, at, state, id) }
    case 'samples':
      return { steps: [], diffs: sampleDiffs(at, size, state) }
    case 'shots':
      return { steps: [], diffs: shotDiffs(at, size, state) }
    case 'settings': {
      const from = state.tables.settings.list()[0]
      return from
        ? { steps: [], diffs: [{ table: 'settings', key: 'project', change: 'updated', from, to: { ...from, title: `Title ${at}` } }] }
        : null
    }
    default:
      return { steps: wordSteps(kind, at, size, state.script, id), diffs: [] }
  }
}

function wordSteps(kind: Gesture['kind'], at: number, size: number, script: Node, id: string): StepJson[] {
  const paragraphs: { from: number; to: number }[] = []
  script.forEach((node, offset) => {
    if (node.type.name === 'paragraph') paragraphs.push({ from: offset + 1, to: offset + 1 + node.content.size })
  })
  const paragraph = paragraphs[at % Math.max(1, paragraphs.length)]
  if (!paragraph) return []
  const pos = outsidePair(script, paragraph.from + (at % (paragraph.to - paragraph.from + 1)))
  const end = outsidePair(script, Math.min(paragraph.to, pos + size))
  const tr = new Transform(script)
  if (kind === 'type') tr.insert(pos, scriptSchema.text(`w${size} `))
  else if (kind === 'delete') tr.delete(pos, outsidePair(script, Math.min(script.content.size, pos + size * 3)))
  else if (kind === 'split') tr.split(pos, 1, [{ type: scriptSchema.nodes.paragraph, attrs: { id: `p-${id}` } }])
  else if (kind === 'value') tr.insert(pos, scriptSchema.node('value', { measure: `m${size}`, form: null }))
  else if (kind === 'merge') {
    const i = paragraphs.indexOf(paragraph)
    const before = paragraphs[i - 1]
    if (before && before.to + 2 === paragraph.from) tr.join(paragraph.from - 1)
  } else if (end > pos && isPlain(script, pos, end))
    tr.addMark(pos, end, kind === 'cue' ? scriptSchema.mark('cue', { event: 'e0' }) : scriptSchema.mark('note'))
  return tr.steps.map((step) => step.toJSON() as StepJson)
}

/// The position, or the one before it where it would part the two halves of a character.
function outsidePair(script: Node, pos: number): number {
  const around = script.textBetween(Math.max(0, pos - 1), Math.min(script.content.size, pos + 1), ' ', ' ')
  return /^[\uD800-\uDBFF][\uDC00-\uDFFF]$/.test(around) ? pos - 1 : pos
}

/// One line of text alone: a cue or a note may go on it.
function isPlain(script: Node, from: number, to: number): boolean {
  let plain = true
  script.nodesBetween(from, to, (node) => {
    if (node.type.name === 'value' || node.type.name === 'cite' || /\p{Cc}/u.test(node.text ?? '')) plain = false
  })
  return plain
}

const added = <T extends TableName>(table: T, record: Records[T], after: string | null): RecordDiff =>
  ({ table, key: tables[table].keyOf(record), change: 'added', record, after }) as RecordDiff

function simpleDiffs(kind: 'add' | 'change' | 'remove', at: number, state: ProjectState, id: string): RecordDiff[] {
  const { subjects, footage, events, measures, clips } = state.tables
  const clip = clips.list()[at % clips.size]
  if (!clip) return []
  const after = (keys: readonly string[]): string | null => (at % 3 === 0 ? null : (keys[at % Math.max(1, keys.length)] ?? null))
  if (kind === 'add') {
    const record = [
      () => added('subjects', { id: `s-${id}`, name: `Name ${at}` }, after(subjects.keys)),
      () => added('footage', { id: `f-${id}`, file: `${at}.mp4` }, after(footage.keys)),
      () => added('events', { id: `e-${id}`, clip: clip.id, name: 'plant', earliest: clip.from, latest: clip.to - 1 }, after(events.keys)),
      () =>
        added(
          'measures',
          { id: `m-${id}`, kind: 'joint-angle', clip: clip.id, subject: subjects.keys[0] ?? '', frame: clip.from, points: ['a', 'b', 'c'] },
          after(measures.keys),
        ),
    ][at % 4]
    return record ? [record()] : []
  }
  if (kind === 'change') {
    const event = events.list()[at % Math.max(1, events.size)]
    return event ? [{ table: 'events', key: event.id, change: 'updated', from: event, to: { ...event, name: `event ${at}` } }] : []
  }
  // Only what this suite added itself: nothing else hangs on it.
  const key = measures.keys.find((k) => k.startsWith('m-'))
  const record = key === undefined ? undefined : measures.get(key)
  return key !== undefined && record
    ? [{ table: 'measures', key, change: 'removed', record, after: measures.keys[measures.keys.indexOf(key) - 1] ?? null }]
    : []
}

function sampleDiffs(at: number, size: number, state: ProjectState): RecordDiff[] {
  const head = state.tables.landmarks.list()[at % Math.max(1, state.tables.landmarks.size)]
  const clip = head && state.tables.clips.get(head.clip)
  if (!head || !clip) return []
  const frame = clip.from + (at % (clip.to - clip.from))
  const key = `${landmarkKey(head)}/${packOf(frame)}`
  const now = state.tables.packs.get(key)
  const sample = { frame, at: [(at % 9000) / 7, size / 3] as [number, number], sigma: 4 }
  const plain = { clip: head.clip, subject: head.subject, point: head.point, pack: packOf(frame) }
  if (!now) return [added('packs', { ...plain, samples: [sample] }, null)]
  const from = { ...plain, samples: [...(now.samples ?? [])] }
  if (size % 4 === 0) return [{ table: 'packs', key, change: 'removed', record: from, after: null }]
  return [
    {
      table: 'packs',
      key,
      change: 'updated',
      from,
      to: { ...plain, samples: [...from.samples, sample].sort((a, b) => a.frame - b.frame) },
    },
  ]
}

function shotDiffs(at: number, size: number, state: ProjectState): RecordDiff[] {
  const ids = state.script.children.filter((node) => node.type.name === 'paragraph').map((node) => String(node.attrs['id']))
  const id = ids[at % Math.max(1, ids.length)]
  const clip = state.tables.clips.list()[0]
  if (id === undefined || !clip) return []
  const from = state.tables.paragraphs.get(id)
  const shot = {
    run: clip.id,
    from: clip.from,
    to: clip.to,
    speed: '1/4',
    marks: [{ word: `mark ${size}`, at: [1, 2] as [number, number] }],
  }
  if (!from) return [added('paragraphs', { id, shots: [shot] }, null)]
  if (size % 3 === 0) return [{ table: 'paragraphs', key: id, change: 'removed', record: from, after: null }]
  return [{ table: 'paragraphs', key: id, change: 'updated', from, to: { ...from, shots: [...(from.shots ?? []), shot] } }]
}
