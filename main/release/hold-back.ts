import { CodedError } from '../../app/errors/coded-error'
import type { Reading } from '../../app/measure/reading'
import type { Programme } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import { noticeFindings } from '../../app/release/notices'
import { holdsBack, type Finding } from '../../app/script/claims/finding'
import { findingsOf } from '../../app/script/claims/findings'

type Readings = ReadonlyMap<string, Reading>

/// What keeps a final film from being made: open findings on what is claimed.
const openFindings = (breakdown: Breakdown, readings: Readings): Finding[] => findingsOf(breakdown, readings).filter(holdsBack)

/// What keeps a delivery from going out, in words: what keeps the film back, and notices that are missing.
export function holdingBack(breakdown: Breakdown, readings: Readings, programme: Programme): { readonly problem: string; readonly wayOut: string }[] {
  return [...openFindings(breakdown, readings), ...noticeFindings(programme, breakdown)].map(({ problem, wayOut }) => ({ problem, wayOut }))
}

/// Lets a final film be made, or throws the CodedError `held-back`. A draft is never asked.
export function holdBackFilm(breakdown: Breakdown, readings: Readings): void {
  const open = openFindings(breakdown, readings)
  if (open.length > 0) throw new CodedError('held-back', { findings: open.length })
}
