import type { Breakdown } from '../project/breakdown'
import type { Reading } from './reading'

/// Who uses a measure's value: what goes stale when the value changes.

export type MeasureUser =
  /// A live value within a paragraph's words.
  | { readonly kind: 'words'; readonly paragraph: string }
  /// A live value within a chapter heading.
  | { readonly kind: 'heading' }
  /// A mark or plate on a paragraph's shot, or a card with its curve, by the shot's index.
  | { readonly kind: 'mark'; readonly paragraph: string; readonly shot: number }
  /// A comparison or an order that builds on it.
  | { readonly kind: 'measure'; readonly measure: string }

/// Every use of a measure, those through measures that build on it included, in document order.
export function usersOf(breakdown: Breakdown, measure: string): MeasureUser[] {
  const ids = new Set([measure])
  const users: MeasureUser[] = []
  for (let grew = true; grew; ) {
    grew = false
    for (const other of breakdown.measures ?? [])
      if ('measures' in other && !ids.has(other.id) && other.measures.some((id) => ids.has(id))) {
        ids.add(other.id)
        users.push({ kind: 'measure', measure: other.id })
        grew = true
      }
  }
  for (const row of breakdown.script) {
    if (!('text' in row)) {
      if (typeof row.chapter !== 'string' && row.chapter.some((piece) => typeof piece === 'object' && ids.has(piece.value))) users.push({ kind: 'heading' })
      continue
    }
    if (row.text.some((piece) => typeof piece === 'object' && 'value' in piece && ids.has(piece.value))) users.push({ kind: 'words', paragraph: row.id })
    row.shots?.forEach((shot, i) => {
      if ('card' in shot && shot.card === 'curve' && (ids.has(shot.measure) || (shot.beside !== undefined && ids.has(shot.beside)))) users.push({ kind: 'mark', paragraph: row.id, shot: i })
      const marks = 'marks' in shot ? (shot.marks ?? []) : []
      if (marks.some((m) => (typeof m === 'string' ? ids.has(m) : 'plate' in m && ids.has(m.plate)))) users.push({ kind: 'mark', paragraph: row.id, shot: i })
    })
  }
  return users
}

/// Ids of the measures whose reading is said or shown otherwise than before: another label, verdict
/// or spoken form. A value that moved below its own rounding changes nothing that anybody sees.
export function changedReadings(before: readonly Reading[], after: readonly Reading[]): string[] {
  const old = new Map(before.map((r) => [r.id, r]))
  return after.filter((r) => {
    const was = old.get(r.id)
    return !was || was.label !== r.label || was.verdict !== r.verdict || was.spoken !== r.spoken
  }).map((r) => r.id)
}
