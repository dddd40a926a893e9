import { CodedError } from '../../app/errors/coded-error'
import type { Reading } from '../../app/measure/reading'
import type { Programme } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import { noticeFindings, type NoticeFinding } from '../../app/release/notices'
import { holdsBack, type Finding } from '../../app/script/claims/finding'
import { findingsOf } from '../../app/script/claims/findings'

type Readings = ReadonlyMap<string, Reading>

/// What keeps a final film from being made: open findings on what is claimed.
const openFindings = (breakdown: Breakdown, readings: Readings): Finding[] => findingsOf(breakdown, readings).filter(holdsBack)

/// `words`: the sentence or card that it is on; empty where it is on a picture or on the film.
type Holding = Pick<NoticeFinding, 'problem' | 'wayOut'> & { readonly words: string }

/// What keeps a final film and a delivery back, in words: open findings on what is claimed, and on the notices.
export function holdingBack(breakdown: Breakdown, readings: Readings, programme: Programme): Holding[] {
  return [
    ...openFindings(breakdown, readings).map(({ on, sentence, problem, wayOut }) => ({
      words: sentence || (on?.words ?? ''),
      problem,
      wayOut,
    })),
    ...noticeFindings(programme, breakdown).map(({ problem, wayOut }) => ({ words: '', problem, wayOut })),
  ]
}

/// Lets a final film be made, or throws the CodedError `held-back`. A draft is never asked.
export function holdBackFilm(breakdown: Breakdown, readings: Readings, programme: Programme): void {
  const open = holdingBack(breakdown, readings, programme)
  if (open.length > 0) throw new CodedError('held-back', { findings: open.length })
}
