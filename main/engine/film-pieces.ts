import type { Piece } from '../../app/contract/footage-calls'
import type { FilmFinding } from '../media/film-findings'
import { reportFilm } from '../media/film-report'
import type { LibraryFilm } from '../media/film-library'
import { findCuts, findRepeats, findStills, repeatCycle } from '../media/picture-change'
import type { PictureScan } from '../media/picture-scan'

/// Less movement than this many frames long is no graphic, but a held breath.
const STILL_SECONDS = 0.5

/// A film as the pieces between its likely cuts, each with what it looks like: a standing picture is a
/// graphic; frames that repeat in a cycle are a replay slowed by the broadcaster; all else is live.
/// A guess for a person to confirm. Thresholds: common practice, no source.
export function piecesOf(film: Pick<LibraryFilm, 'table'>, scan: PictureScan): Piece[] {
  const frames = film.table.pts.length
  const rate = film.table.rate ? film.table.rate.n / film.table.rate.d : 30
  const cuts = findCuts(scan.changes)
    .map((cut) => cut.frame)
    .filter((frame) => frame > 0 && frame < frames)
  const ends = [...cuts, frames]
  return ends.map((to, i) => {
    const from = ends[i - 1] ?? 0
    return { from, to, ...looksLike(scan, from, to, rate) }
  })
}

function looksLike(scan: PictureScan, from: number, to: number, rate: number): Pick<Piece, 'looks' | 'because'> {
  const changes = scan.changes.slice(from, Math.max(from, to - 1))
  if (changes.length < 2) return { looks: 'unsure', because: 'too short to tell' }
  const still = findStills(changes, Math.max(5, Math.round(STILL_SECONDS * rate))).reduce((sum, span) => sum + span.to - span.from, 0)
  if (still >= 0.7 * (to - from)) return { looks: 'graphic', because: 'the picture stands still' }
  const cycle = repeatCycle(findRepeats(changes), changes.length)
  if (cycle) return { looks: 'replay', because: `${cycle.repeated} of every ${cycle.of} frames repeat the one before` }
  return { looks: 'live', because: 'every frame is new' }
}

/// What is to be known of a film, once its pictures were looked at as well.
export const filmFindings = (film: LibraryFilm, pictures: PictureScan | null): readonly FilmFinding[] =>
  reportFilm(film, { method: 'packets', hidden: 0 }, pictures).findings
