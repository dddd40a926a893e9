import type { Node } from 'prosemirror-model'
import type { Sample } from '../project/film'
import type { Change, RecordDiff } from './edit'
import { sameRecord } from './same-record'

/// Where an edit acts, so that undoing it can go there and say so.
export interface EditPlace {
  readonly room: 'script' | 'footage' | 'bench' | 'narration' | 'evidence' | 'release'
  readonly paragraph: string | null
  readonly clip: string | null
  readonly frame: number | null
}

/// The place of a change that led from the document `before` to `after`: of its words where it
/// has steps, else of the record that says most of it: a film or clip that came or went, for what hangs on it did too; then
/// points; a subject last.
export function placeOfEdit(change: Change, before: Node, after: Node): EditPlace {
  if (change.steps.length > 0) {
    const at = after.children.findIndex((node, i) => node !== before.children[i])
    const node = after.children[at === -1 ? after.childCount - 1 : at]
    const id: unknown = node?.attrs['id']
    return { room: 'script', paragraph: typeof id === 'string' ? id : null, clip: null, frame: null }
  }
  const { diffs } = change
  const whole = diffs.find(({ table, change }) => (table === 'footage' || table === 'clips') && change !== 'updated')
  const diff = whole ?? diffs.find(({ table }) => table === 'packs') ?? diffs.find(({ table }) => table !== 'subjects') ?? diffs[0]
  return diff ? placeOfDiff(diff) : { room: 'script', paragraph: null, clip: null, frame: null }
}

/// The one frame on which two packs part; null where they part on several (a run that was followed): no one of them is the place.
function changedFrame(was: readonly Sample[], is: readonly Sample[]): number | null {
  const length = Math.min(was.length, is.length)
  let from = 0
  while (from < length && sameRecord(was[from], is[from])) from++
  let back = 0
  while (back < length - from && sameRecord(was[was.length - 1 - back], is[is.length - 1 - back])) back++
  const frames = new Set([...was.slice(from, was.length - back), ...is.slice(from, is.length - back)].map(({ frame }) => frame))
  const [frame] = frames
  return frames.size === 1 && frame !== undefined ? frame : null
}

function placeOfDiff(diff: RecordDiff): EditPlace {
  const nowhere = { paragraph: null, clip: null, frame: null }
  const record: object = diff.change === 'updated' ? diff.to : diff.record
  const clip = 'clip' in record && typeof record.clip === 'string' ? record.clip : null
  switch (diff.table) {
    case 'packs': {
      const [was, is] = diff.change === 'updated' ? [diff.from.samples, diff.to.samples] : [[], diff.record.samples]
      return { ...nowhere, room: 'bench', clip, frame: changedFrame(was, is) }
    }
    case 'events':
      return { ...nowhere, room: 'bench', clip, frame: (diff.change === 'updated' ? diff.to : diff.record).earliest }
    case 'landmarks':
    case 'views':
    case 'measures':
      return { ...nowhere, room: 'bench', clip, frame: 'frame' in record && typeof record.frame === 'number' ? record.frame : null }
    case 'cueTimes':
      return { ...nowhere, room: 'narration', paragraph: (diff.change === 'updated' ? diff.to : diff.record).paragraph }
    case 'paragraphs': {
      const [was, is] = diff.change === 'updated' ? [diff.from, diff.to] : [null, diff.record]
      const spoken = !sameRecord(was?.take, is.take) || !sameRecord(was?.narration, is.narration)
      return { ...nowhere, room: spoken ? 'narration' : 'script', paragraph: diff.key }
    }
    case 'claims':
    case 'overrides': {
      const stated = diff.change === 'updated' ? diff.to : diff.record
      return {
        ...nowhere,
        room: 'evidence',
        paragraph: stated.on?.paragraph ?? ('paragraph' in stated ? stated.paragraph : undefined) ?? null,
      }
    }
    case 'references':
    case 'releases':
    case 'corrections':
      return { ...nowhere, room: 'evidence' }
    case 'clips': {
      // How the camera stood and what is known of its hall is stated on the Bench.
      const stated = diff.change === 'updated' && !(sameRecord(diff.from.roll, diff.to.roll) && sameRecord(diff.from.hall, diff.to.hall))
      return { ...nowhere, room: stated ? 'bench' : 'footage', clip: diff.key }
    }
    case 'footage':
    case 'subjects':
      return { ...nowhere, room: 'footage' }
    case 'settings': {
      const heard = diff.change === 'updated' && !sameRecord(diff.from.sound, diff.to.sound)
      const pictured = diff.change === 'updated' && diff.from.output.thumbnail !== diff.to.output.thumbnail
      return { ...nowhere, room: heard ? 'narration' : pictured ? 'release' : 'script' }
    }
    default:
      return { ...nowhere, room: 'script' }
  }
}
