import { evidenceReport, type EvidenceReport } from '../../app/release/evidence-report'
import { noticeFindings, noticeOverrides } from '../../app/release/notices'
import { findingsOf } from '../../app/script/claims/findings'
import { statedClaims } from '../../app/script/claims/stated-claim'
import type { Release } from '../../app/project/release'
import { secondsAt } from '../../app/time/frame-table'
import { toNumber } from '../../app/time/rational'
import type { DeliveryMatter } from './delivery-texts'
import { classIn } from './evidence-files'

/// The evidence of a film as data.
export function reportOf(matter: DeliveryMatter, release: Release): EvidenceReport {
  const { breakdown, programme } = matter
  const classOf = classIn(breakdown, matter.readings)
  return evidenceReport({
    release,
    breakdown,
    context: matter.context.measures,
    seconds: programme.frames / toNumber(programme.rate),
    sources: matter.sources,
    references: matter.references,
    chapters: matter.chapters,
    notices: matter.notices,
    timeOf: frameTimes(matter),
    findings: findingsOf(breakdown, matter.readings),
    noticesOpen: noticeFindings(programme, breakdown),
    noticeOverrides: noticeOverrides(programme, breakdown),
    stateOf: (said) =>
      classOf({ paragraph: said.on?.paragraph ?? '', words: said.on?.words ?? '', nth: said.on?.nth ?? 0 })?.state ?? 'none',
    claims: statedClaims(breakdown, matter.readings).claims,
  })
}

/// Seconds of the file at which a clip's frame stands; null where its table is not known.
export function frameTimes({ breakdown, films }: DeliveryMatter): (clip: string, frame: number) => number | null {
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  return (clip, frame) => {
    const film = films.get(clips.get(clip)?.footage ?? '')
    return film && frame <= film.table.pts.length ? secondsAt(film.table, frame) : null
  }
}
