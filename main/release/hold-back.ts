import type { Reading } from '../../app/measure/reading'
import type { Programme } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import { noticeFindings } from '../../app/release/notices'
import { holdsBack } from '../../app/script/claims/finding'
import { findingsOf } from '../../app/script/claims/findings'

/// What keeps a final film from going out, in words: open findings on what is claimed, and notices that are missing.
export function holdingBack(breakdown: Breakdown, readings: ReadonlyMap<string, Reading>, programme: Programme): { readonly problem: string; readonly wayOut: string }[] {
  return [...findingsOf(breakdown, readings).filter(holdsBack), ...noticeFindings(programme, breakdown)].map(({ problem, wayOut }) => ({ problem, wayOut }))
}
