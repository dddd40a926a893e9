import type { FrameTable } from '../time/frame-table'
import type { FilmHead } from './film-head'

/// A film whose every frame's time has been read, and how to get at one of its frames exactly.

export interface Film {
  readonly path: string
  readonly head: FilmHead
  readonly table: FrameTable
  /// Indices of the frames at which decoding can start, rising.
  readonly keyframes: Int32Array
  readonly seek: SeekKind
}

/// `exact`: the container's index leads to the keyframe at or before any time.
/// `early`: it may lead past it (transport streams), so the way starts several keyframes earlier.
/// `from-start`: times found after a jump are not those of the whole film (no presentation times in
/// the file), so it is read from its first frame.
export type SeekKind = 'exact' | 'early' | 'from-start'

export interface Seek {
  /// For `-ss` before `-i`, seconds.
  readonly seconds: number
  /// The first filter of the chain, where some frames after the jump must still be dropped.
  readonly filter: string | null
}

type Sought = Pick<Film, 'head' | 'table' | 'keyframes' | 'seek'>

const EARLY_KEYFRAMES = 2
const EARLY_SECONDS = 1

/// How to decode from footage frame `index` on: with these, the first frame out of the filter is
/// exactly that frame. The time aimed at is the frame's presentation time minus half the interval
/// before it, counted from the container's start, as `-ss` is. Throws RangeError outside the film.
export function seekTo(film: Sought, index: number): Seek {
  if (!Number.isInteger(index) || index < 0 || index >= film.table.pts.length)
    throw new RangeError(`frame ${index} is outside a film of ${film.table.pts.length} frames`)
  if (film.seek === 'exact') return { seconds: aim(film, index), filter: null }
  if (index === 0) return { seconds: 0, filter: null }
  const start = film.seek === 'early' ? earlier(film, index) : 0
  if (start === 0) return { seconds: 0, filter: `trim=start_frame=${index}` }
  const seconds = aim(film, start)
  return { seconds, filter: `trim=start=${(aim(film, index) - seconds).toFixed(6)}` }
}

/// The seconds alone, for a film in which they suffice (`seek` is `exact`; also frame 0 of any).
/// Throws RangeError where they do not: use `seekTo`, or convert the film first.
export function frameSeek(film: Sought, index: number): number {
  const { seconds, filter } = seekTo(film, index)
  if (filter !== null) throw new RangeError('this film cannot be entered by time alone')
  return seconds
}

/// A keyframe far enough back that landing a keyframe late does no harm; frame 0 where there is none.
function earlier(film: Sought, index: number): number {
  const before = film.keyframes.filter((k) => k <= index)
  const enough = before.slice(0, -EARLY_KEYFRAMES).findLast((k) => aim(film, index) - aim(film, k) >= EARLY_SECONDS)
  return enough ?? 0
}

function aim(film: Sought, index: number): number {
  const { pts, base } = film.table
  const here = pts[index]!
  const half = index > 0 ? (here - pts[index - 1]!) / 2 : pts.length > 1 ? (pts[1]! - here) / 2 : 0
  return Math.max(0, ((here - half) * base.n) / base.d - film.head.containerStart_s)
}
