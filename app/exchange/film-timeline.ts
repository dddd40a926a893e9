import { pausedSeconds, takeStretches } from '../script/pauses'
import type { LaidShot, Panel, Programme } from '../programme/programme'
import { exact } from '../project/fields'
import type { Breakdown } from '../project/breakdown'
import type { FrameTable } from '../time/frame-table'
import { divide, multiply, rational, toNumber, type Rational } from '../time/rational'
import { TICKS_PER_SECOND } from '../time/ticks'

/// The film as other programs' timelines describe it: tracks of pieces, each a stretch of one footage from a place
/// on at one pace, or one frame of it that stands. Nothing of it is rounded: what a piece says of each of its
/// frames is the footage frame that the programme shows there.

/// Places in a footage are counted in units of `rate` a second: frames where its rate is even, else units of the
/// file's own clock, from its first frame.
export interface MediaClock {
  readonly rate: Rational
  /// Where frame i begins; one more place than frames: the last is the end.
  place(frame: number): number
  readonly length: number
}

export interface FilmPiece {
  readonly kind: 'film'
  /// First frame of the film, and number of frames.
  readonly start: number
  readonly frames: number
  readonly footage: string
  readonly clip: string
  /// Place in the footage at the piece's first frame, in units of its clock.
  readonly from: number
  /// Seconds of footage to a second of film; 0: the frame at `from` stands.
  readonly pace: number
  readonly shot: LaidShot
  readonly panel: Panel
}

export interface CardPiece {
  readonly kind: 'card'
  readonly start: number
  readonly frames: number
  readonly shot: LaidShot
}

export type TimelinePiece = FilmPiece | CardPiece

/// A stretch of a recording: samples of a 48 kHz clock.
export interface SoundPiece {
  readonly paragraph: string
  readonly file: string
  /// Samples into the recording.
  readonly from: number
  readonly start: number
  readonly samples: number
}

export interface FilmTimeline {
  readonly title: string
  readonly rate: Rational
  readonly frames: number
  readonly width: number
  readonly height: number
  /// Track i holds the shots' i-th pictures, in order; where a shot has fewer there is none.
  readonly tracks: readonly (readonly TimelinePiece[])[]
  readonly sounds: readonly SoundPiece[]
  readonly chapters: readonly { readonly title: string; readonly frame: number }[]
  readonly films: ReadonlyMap<string, { readonly file: string; readonly clock: MediaClock; readonly table: FrameTable }>
}

export const SOUND_CLOCK = 48_000
const TICKS_PER_SAMPLE = TICKS_PER_SECOND / SOUND_CLOCK

/// The clock of a footage.
function mediaClock(table: FrameTable): MediaClock {
  const frames = table.pts.length
  if (table.rate) return { rate: table.rate, place: (frame) => frame, length: frames }
  const first = table.pts[0] ?? 0
  const unit = divide(rational(1), table.base)
  return { rate: unit, place: (frame) => (frame >= frames ? table.end : (table.pts[frame] as number)) - first, length: table.end - first }
}

/// Lays a programme out as tracks. `tableOf` gives the frame table of a footage that the programme shows.
export function timelineOf(programme: Programme, breakdown: Breakdown, tableOf: (footage: string) => FrameTable): FilmTimeline {
  const films = new Map<string, { file: string; clock: MediaClock; table: FrameTable }>()
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const film = (id: string): { file: string; clock: MediaClock; table: FrameTable } => {
    const known = films.get(id)
    if (known) return known
    const table = tableOf(id)
    const made = { file: breakdown.footage.find((f) => f.id === id)?.file ?? id, clock: mediaClock(table), table }
    films.set(id, made)
    return made
  }
  const most = Math.max(1, ...programme.shots.map((shot) => shot.panels.length))
  const tracks = Array.from({ length: most }, (_, track) =>
    programme.shots.flatMap((shot): TimelinePiece[] => {
      const panel = shot.panels[track]
      if (!panel) return track === 0 ? [{ kind: 'card', start: shot.start, frames: shot.frames, shot }] : []
      const { clock } = film(panel.footage)
      const capture = clips.get(panel.clip)?.capture
      const factor = capture === undefined || capture === 'unknown' ? rational(1) : exact(capture.factor)
      const pace = shot.kind === 'hold' || !('speed' in shot.shot) ? 0 : toNumber(multiply(exact(shot.shot.speed), factor))
      const step = (pace * toNumber(clock.rate)) / toNumber(programme.rate)
      return stretchesOf(panel.frames, (frame) => clock.place(frame), step).map((stretch) => ({
        kind: 'film',
        start: shot.start + stretch.at,
        frames: stretch.frames,
        footage: panel.footage,
        clip: panel.clip,
        from: stretch.from,
        pace: stretch.stands ? 0 : pace,
        shot,
        panel,
      }))
    }),
  )
  const sounds = programme.paragraphs.flatMap((paragraph): SoundPiece[] => {
    const [start, end] = [paragraph.words.from, paragraph.words.to].map((ticks) => Math.round(ticks / TICKS_PER_SAMPLE)) as [number, number]
    const { take, pauses, trim } = paragraph
    if (take === null || end <= start) return []
    const length = (end - start) / SOUND_CLOCK - pausedSeconds(pauses, trim) + (trim?.from ?? 0)
    return takeStretches(length, pauses, trim).map(({ from, to, at }) => ({
      paragraph: paragraph.id,
      file: take,
      from: Math.round(from * SOUND_CLOCK),
      start: start + Math.round(at * SOUND_CLOCK),
      samples: Math.round(to * SOUND_CLOCK) - Math.round(from * SOUND_CLOCK),
    }))
  })
  return {
    title: breakdown.title,
    rate: programme.rate,
    frames: programme.frames,
    width: programme.width,
    height: programme.height,
    tracks,
    sounds,
    chapters: programme.chapters,
    films,
  }
}

interface Stretch {
  readonly at: number
  readonly frames: number
  readonly from: number
  readonly stands: boolean
}

/// Rounding of sums of fractions, in places of a clock.
const EXACT = 5e-7

/// Cuts the frames that a shot shows into stretches that one place and one step tell: at output frame n stands the
/// frame that began at or before from + n · step. Each is as long as can be; one that only stands is told apart.
export function stretchesOf(frames: ArrayLike<number>, place: (frame: number) => number, step: number): Stretch[] {
  const stretches: Stretch[] = []
  for (let at = 0; at < frames.length;) {
    const stands = standing(frames, at)
    const walks = step > 0 ? walking(frames, at, place, step) : { length: 0, from: 0 }
    const moves = step > 0 && walks.length >= stands
    stretches.push({ at, frames: moves ? walks.length : stands, from: moves ? walks.from : place(frames[at] as number), stands: !moves })
    at += moves ? walks.length : stands
  }
  return stretches
}

function standing(frames: ArrayLike<number>, at: number): number {
  let to = at + 1
  while (to < frames.length && frames[to] === frames[at]) to++
  return to - at
}

/// How far one place holds: what each frame leaves of it is cut out of what those before it left.
function walking(frames: ArrayLike<number>, at: number, place: (frame: number) => number, step: number): { length: number; from: number } {
  let [low, high] = [-Infinity, Infinity]
  let length = 0
  while (at + length < frames.length) {
    const frame = frames[at + length] as number
    const nextLow = Math.max(low, place(frame) - length * step)
    const nextHigh = Math.min(high, place(frame + 1) - length * step)
    if (nextLow > nextHigh - 2 * EXACT) break
    ;[low, high] = [nextLow, nextHigh]
    length++
  }
  const begins = place(frames[at] as number)
  return { length, from: begins >= low - EXACT ? begins : low }
}
