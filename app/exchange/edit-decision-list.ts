import { allowsDropFrame, formatTimecode, nominalRate } from '../time/timecode'
import { toNumber } from '../time/rational'
import { stretchesOf, SOUND_CLOCK, type FilmPiece, type FilmTimeline, type TimelinePiece } from './film-timeline'

/// A film's timeline as an edit decision list in the CMX 3600 layout (SMPTE 258M-2004 describes it). It has one picture
/// track, whole frames and speeds of one decimal, and no rate of its own:
/// - a second picture of a pair is told in a comment
/// - source times count *footage frames* at the list's rate, whatever the footage's own: frame 460 of a 240 fps film in a list
///   at 60 is 00:00:07:40. A comment says so
/// - `M2` gives footage frames to a second of record time at the nominal rate (60 at 59.94); 000.0 is a frozen frame
/// - where no speed of one decimal shows every frame that the film shows, an event is cut where it would not

export interface EdlEvent {
  readonly reel: string
  /// V: the picture; A: a recording.
  readonly track: 'V' | 'A'
  /// First footage frame, and how many frames of it the event's record time spans.
  readonly source: number
  readonly sourceFrames: number
  readonly start: number
  readonly frames: number
  /// Footage frames a second as M2 writes them, in tenths; null: one footage frame to each frame.
  readonly tenths: number | null
  readonly comments: readonly string[]
}

/// Where record time begins: the hour, as is usual (common practice, no source).
const FIRST_HOUR = 60 * 60

/// The file's text. Lines end in CRLF as the readers of the time expected it.
export function writeEdl(timeline: FilmTimeline): string {
  const drop = allowsDropFrame(timeline.rate)
  const hour = FIRST_HOUR * nominalRate(timeline.rate) - (drop ? droppedInAnHour(timeline.rate.n) : 0)
  const code = (frame: number): string => formatTimecode(frame, timeline.rate, drop)
  const lines = [
    `TITLE: ${plain(timeline.title).slice(0, 70)}`,
    `FCM: ${drop ? 'DROP FRAME' : 'NON-DROP FRAME'}`,
    `* RATE: ${timeline.rate.n}/${timeline.rate.d} FRAMES A SECOND. SOURCE TIMES COUNT FOOTAGE FRAMES AT THIS RATE FROM 0.`,
  ]
  const events = edlEvents(timeline)
  const last = events.findLastIndex((event) => event.track === 'V')
  events.forEach((event, i) => {
    const number = String(i + 1).padStart(3, '0')
    const reel = event.reel.padEnd(8)
    lines.push(
      `${number}  ${reel} ${event.track}     C        ${code(event.source)} ${code(event.source + event.sourceFrames)} ${code(hour + event.start)} ${code(hour + event.start + event.frames)}`,
    )
    if (event.tenths !== null) lines.push(`M2   ${reel}       ${speedOf(event.tenths)}                ${code(event.source)}`)
    for (const comment of event.comments) lines.push(`* ${plain(comment)}`)
    if (event.track !== 'V') return
    for (const chapter of timeline.chapters)
      if (chapter.frame >= event.start && (chapter.frame < event.start + event.frames || i === last))
        lines.push(`* LOC: ${code(hour + chapter.frame)} CYAN    ${plain(chapter.title)}`)
  })
  return lines.map((line) => `${line}\r\n`).join('')
}

/// The events, in the order of the film, recordings behind the pictures.
function edlEvents(timeline: FilmTimeline): EdlEvent[] {
  const reels = reelNames(timeline)
  const pictures = (timeline.tracks[0] ?? []).flatMap((piece) =>
    piece.kind === 'film' ? eventsOfFilm(piece, timeline, reels) : [eventOfCard(piece)],
  )
  const rate = toNumber(timeline.rate)
  const frameOf = (sample: number): number => Math.round((sample * rate) / SOUND_CLOCK)
  const sounds = timeline.sounds.map((sound): EdlEvent => {
    const start = frameOf(sound.start)
    const frames = Math.max(1, frameOf(sound.start + sound.samples) - start)
    return {
      reel: reels.get(sound.file) ?? 'AX',
      track: 'A',
      source: frameOf(sound.from),
      sourceFrames: frames,
      start,
      frames,
      tenths: null,
      comments: [`FROM CLIP NAME: ${sound.file}`],
    }
  })
  return [...pictures, ...sounds]
}

function eventsOfFilm(piece: FilmPiece, timeline: FilmTimeline, reels: ReadonlyMap<string, string>): EdlEvent[] {
  const film = timeline.films.get(piece.footage)
  if (!film) throw new RangeError(`footage ${piece.footage} is in no film of the timeline`)
  const nominal = nominalRate(timeline.rate)
  const at = piece.start - piece.shot.start
  const shown = piece.panel.frames.subarray(at, at + piece.frames)
  const reel = reels.get(piece.footage) ?? 'AX'
  const facts = [`FROM CLIP NAME: ${film.file}`, ...piece.shot.badges.map((badge) => badge.toUpperCase())]
  const others = piece.shot.panels
    .slice(1)
    .map(
      (panel, i) =>
        `PICTURE ${i + 2} OF THIS SHOT: ${timeline.films.get(panel.footage)?.file ?? panel.footage}, FRAMES ${panel.frames[at]} TO ${panel.frames[at + piece.frames - 1]}`,
    )
  const event = (from: number, frames: number, source: number, tenths: number): EdlEvent => ({
    reel,
    track: 'V',
    source,
    sourceFrames: tenths === 0 ? 1 : Math.max(1, Math.ceil((frames * tenths) / (10 * nominal) - 1e-9)),
    start: piece.start + from,
    frames,
    tenths: tenths === 10 * nominal ? null : tenths,
    comments: [...facts, ...(tenths === 0 ? ['FREEZE FRAME'] : []), ...others],
  })
  if (piece.pace === 0) return [event(0, piece.frames, shown[0] as number, 0)]
  const mean =
    (piece.pace * meanRate(film.table.pts.length, film.clock.length, toNumber(film.clock.rate)) * nominal) / toNumber(timeline.rate)
  const tenths = Math.max(1, Math.round(10 * mean))
  return wholeStretches(shown, tenths / (10 * nominal)).map((stretch) =>
    event(stretch.at, stretch.frames, stretch.source, stretch.stands ? 0 : tenths),
  )
}

/// Stretches that begin on a whole footage frame: an edit decision list knows no part of one.
function wholeStretches(frames: ArrayLike<number>, step: number): { at: number; frames: number; source: number; stands: boolean }[] {
  const pieces: { at: number; frames: number; source: number; stands: boolean }[] = []
  for (const stretch of stretchesOf(frames, (frame) => frame, step)) {
    for (let at = stretch.at; at < stretch.at + stretch.frames;) {
      const source = frames[at] as number
      let to = at + 1
      if (stretch.stands) to = stretch.at + stretch.frames
      else while (to < stretch.at + stretch.frames && frames[to] === source + Math.floor((to - at) * step + 1e-9)) to++
      pieces.push({ at, frames: to - at, source, stands: stretch.stands })
      at = to
    }
  }
  return pieces
}

const meanRate = (frames: number, length: number, clock: number): number => (length > 0 ? (frames * clock) / length : clock)

function eventOfCard(piece: Exclude<TimelinePiece, FilmPiece>): EdlEvent {
  const { card } = piece.shot
  return {
    reel: 'AX',
    track: 'V',
    source: 0,
    sourceFrames: piece.frames,
    start: piece.start,
    frames: piece.frames,
    tenths: null,
    comments: [`FROM CLIP NAME: ${card?.card ?? 'text'} card`, ...(card?.lines ?? []).slice(0, 4)],
  }
}

/// "015.0"
const speedOf = (tenths: number): string => `${String(Math.floor(tenths / 10)).padStart(3, '0')}.${tenths % 10}`

/// Names of at most eight letters and digits for what the list takes from, no two alike.
function reelNames(timeline: FilmTimeline): Map<string, string> {
  const names = new Map<string, string>()
  const taken = new Set<string>(['AX', 'BL'])
  const give = (key: string, file: string): void => {
    if (names.has(key)) return
    const stem =
      file
        .split('/')
        .at(-1)
        ?.replace(/\.[^.]*$/, '') ?? ''
    const base =
      stem
        .normalize('NFKD')
        .replace(/[^A-Za-z0-9_]/g, '')
        .toUpperCase()
        .slice(0, 8) || 'REEL'
    let name = base
    for (let i = 2; taken.has(name); i++) name = `${base.slice(0, 8 - String(i).length)}${i}`
    taken.add(name)
    names.set(key, name)
  }
  for (const [id, film] of timeline.films) give(id, film.file)
  for (const sound of timeline.sounds) give(sound.file, sound.file)
  return names
}

/// A comment is one line whatever it was.
const plain = (text: string): string => text.replace(/[\p{Cc}\p{Cf}\u2028\u2029]+/gu, ' ').trim()

/// Numbers that drop frame leaves out in an hour: 108 at 30000/1001, in proportion above.
const droppedInAnHour = (numerator: number): number => 2 * (numerator / 30_000) * 54
