import type { Edit, RecordDiff } from './edit'
import { sameRecord } from './same-record'

/// One edit that does what `edits` do one after the other, each made on what the one before led
/// to. Changes of one record are drawn together. The first gives id, label, group, base and the
/// caret before; the last the caret after. Throws for an empty list.
export function squashEdits(edits: readonly Edit[]): Edit {
  const [first] = edits
  const last = edits.at(-1)
  if (!first || !last) throw new RangeError('nothing to squash')
  const selection = { before: first.selection?.before ?? null, after: last.selection?.after ?? null }
  return {
    ...first,
    steps: edits.flatMap((edit) => edit.steps),
    diffs: squashDiffs(edits.flatMap((edit) => edit.diffs)),
    selection: selection.before || selection.after ? selection : null,
  }
}

/// Draws together: an update onto the adding or the update before it; a removal that follows an
/// adding, when nothing between stands by that record, leaves neither.
function squashDiffs(diffs: readonly RecordDiff[]): RecordDiff[] {
  const kept: (RecordDiff | null)[] = []
  const last = new Map<string, number>()
  for (const diff of diffs) {
    const name = `${diff.table}:${diff.key}`
    const at = last.get(name)
    const earlier = at === undefined ? undefined : kept[at]
    if (at !== undefined && earlier && diff.change === 'updated' && earlier.change !== 'removed') {
      const drawn = earlier.change === 'added' ? { ...earlier, record: diff.to } : { ...earlier, to: diff.to }
      const idle = drawn.change === 'updated' && sameRecord(drawn.from, drawn.to)
      kept[at] = idle ? null : (drawn as RecordDiff)
      if (idle) last.delete(name)
    } else if (at !== undefined && earlier && diff.change === 'removed' && earlier.change === 'added' && !isLeanedOn(kept, at, earlier)) {
      kept[at] = null
      last.delete(name)
    } else {
      last.set(name, kept.push(removalOf(diff, earlier)) - 1)
      if (earlier?.change === 'updated' && diff.change === 'removed' && at !== undefined) kept[at] = null
    }
  }
  return kept.filter((diff) => diff !== null)
}

/// A removal after an update removes what was there before the update.
function removalOf(diff: RecordDiff, earlier: RecordDiff | null | undefined): RecordDiff {
  return diff.change === 'removed' && earlier?.change === 'updated' ? ({ ...diff, record: earlier.from } as RecordDiff) : diff
}

/// Whether a later change of the table says that it stands after the record added at `at`.
function isLeanedOn(kept: readonly (RecordDiff | null)[], at: number, added: RecordDiff): boolean {
  return kept.slice(at + 1).some((diff) => diff && diff.table === added.table && diff.change !== 'updated' && diff.after === added.key)
}
