import { CodedError } from '../errors/coded-error'
import { ok, refused, type Result } from '../result'
import type { Edit, PackGone, RecordDiff, SentEdit } from './edit'
import { packHead } from './project-state'
import type { Pack } from './records'

/// The edit as it is sent: packs that go leave their samples behind. All else that it does is in it.
export function sentOf(edit: Edit): SentEdit {
  return {
    ...edit,
    diffs: edit.diffs.map((diff): RecordDiff | PackGone => {
      if (diff.table !== 'packs' || diff.change !== 'removed') return diff
      const { first, last } = packHead(diff.record)
      return { table: 'packs', key: diff.key, change: 'gone', first, last }
    }),
  }
}

/// The edit with the samples of packs that go, as `packAt` has them by their keys. Refused with 'edit-conflict' where one
/// is not there, or reaches over other frames than whoever sent the edit knew.
export function wholeOf(sent: SentEdit, packAt: (key: string) => Pack | undefined): Result<Edit, CodedError> {
  const diffs: RecordDiff[] = []
  for (const diff of sent.diffs) {
    if (diff.change !== 'gone') {
      diffs.push(diff)
      continue
    }
    const record = packAt(diff.key)
    const head = record && packHead(record)
    if (!record || head?.first !== diff.first || head.last !== diff.last)
      return refused(new CodedError('edit-conflict', { table: 'packs', id: diff.key }))
    diffs.push({ table: 'packs', key: diff.key, change: 'removed', record, after: null })
  }
  return ok({ ...sent, diffs })
}
