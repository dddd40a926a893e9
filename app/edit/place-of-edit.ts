import type { Node } from 'prosemirror-model'
import type { Change, RecordDiff } from './edit'

/// Where an edit acts, so that undoing it can go there and say so.
export interface EditPlace {
  readonly room: 'script' | 'bench' | 'narration' | 'evidence'
  readonly paragraph: string | null
  readonly clip: string | null
  readonly frame: number | null
}

/// The place of a change that led from the document `before` to `after`: of its words where it
/// has steps, else of its first record.
export function placeOfEdit(change: Change, before: Node, after: Node): EditPlace {
  if (change.steps.length > 0) {
    const at = after.children.findIndex((node, i) => node !== before.children[i])
    const node = after.children[at === -1 ? after.childCount - 1 : at]
    const id: unknown = node?.attrs['id']
    return { room: 'script', paragraph: typeof id === 'string' ? id : null, clip: null, frame: null }
  }
  const [diff] = change.diffs
  return diff ? placeOfDiff(diff) : { room: 'script', paragraph: null, clip: null, frame: null }
}

function placeOfDiff(diff: RecordDiff): EditPlace {
  const nowhere = { paragraph: null, clip: null, frame: null }
  const record: object = diff.change === 'updated' ? diff.to : diff.record
  const clip = 'clip' in record && typeof record.clip === 'string' ? record.clip : null
  switch (diff.table) {
    case 'packs': {
      const { samples } = diff.change === 'updated' ? diff.to : diff.record
      return { ...nowhere, room: 'bench', clip, frame: samples[0]?.frame ?? null }
    }
    case 'events':
      return { ...nowhere, room: 'bench', clip, frame: (diff.change === 'updated' ? diff.to : diff.record).earliest }
    case 'landmarks':
    case 'views':
    case 'measures':
      return { ...nowhere, room: 'bench', clip, frame: 'frame' in record && typeof record.frame === 'number' ? record.frame : null }
    case 'cueTimes':
      return { ...nowhere, room: 'narration', paragraph: (diff.change === 'updated' ? diff.to : diff.record).paragraph }
    case 'paragraphs':
      return { ...nowhere, room: 'script', paragraph: diff.key }
    case 'claims':
    case 'overrides': {
      const stated = diff.change === 'updated' ? diff.to : diff.record
      return { ...nowhere, room: 'evidence', paragraph: stated.on?.paragraph ?? ('paragraph' in stated ? stated.paragraph : undefined) ?? null }
    }
    case 'references':
    case 'releases':
    case 'corrections':
      return { ...nowhere, room: 'evidence' }
    case 'clips':
      return { ...nowhere, room: 'script', clip: diff.key }
    default:
      return { ...nowhere, room: 'script' }
  }
}
