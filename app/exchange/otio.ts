import { exact } from '../project/fields'
import { toNumber, type Rational } from '../time/rational'
import { SOUND_CLOCK, type CardPiece, type FilmPiece, type FilmTimeline } from './film-timeline'

/// A film's timeline in OpenTimelineIO's published serialisation (Academy Software Foundation; schemata Timeline.1,
/// Stack.1, Track.1, Clip.2, Gap.1, ExternalReference.1, GeneratorReference.1, LinearTimeWarp.1, FreezeFrame.1,
/// Marker.3, TimeRange.1, RationalTime.1). A time effect does not change an item's duration: a clip's range lasts as long
/// as it does in the film, and the effect says how its media runs beneath.

type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json | undefined }
type Schema = { readonly OTIO_SCHEMA: string } & { readonly [key: string]: Json | undefined }

/// The file's text. What only this film knows (marks, places, badges) stands in `metadata.claimframe`.
export function writeOtio(timeline: FilmTimeline): string {
  const rate = toNumber(timeline.rate)
  const names = timeline.tracks.map((_, i) => (i === 0 ? 'pictures' : `pictures ${i + 1}`))
  const tracks = [
    ...timeline.tracks.map((pieces, i) =>
      track(
        names[i] as string,
        'Video',
        filled(pieces, timeline.frames, (frames) => gap(frames, rate)).map((piece) =>
          isPiece(piece) ? (piece.kind === 'film' ? clipOfFilm(piece, timeline) : clipOfCard(piece, rate)) : piece,
        ),
      ),
    ),
    track('narration', 'Audio', soundTrack(timeline)),
  ]
  const file: Schema = {
    OTIO_SCHEMA: 'Timeline.1',
    name: timeline.title,
    global_start_time: null,
    metadata: { claimframe: { width: timeline.width, height: timeline.height, rate: fraction(timeline.rate), frames: timeline.frames } },
    tracks: {
      OTIO_SCHEMA: 'Stack.1',
      name: 'tracks',
      source_range: null,
      effects: [],
      enabled: true,
      metadata: {},
      markers: timeline.chapters.map((chapter) => ({
        OTIO_SCHEMA: 'Marker.3',
        name: chapter.title,
        color: { OTIO_SCHEMA: 'Color.1', r: 0, g: 1, b: 1, a: 1, name: 'CYAN' },
        comment: '',
        marked_range: range(chapter.frame, rate, 1, rate),
        metadata: { claimframe: { is: 'chapter' } },
      })),
      children: tracks,
    },
  }
  return `${JSON.stringify(file, null, 2)}\n`
}

const fraction = ({ n, d }: Rational): string => `${n}/${d}`
const time = (value: number, rate: number): Schema => ({ OTIO_SCHEMA: 'RationalTime.1', rate, value })
const range = (start: number, startRate: number, duration: number, rate: number): Schema => ({
  OTIO_SCHEMA: 'TimeRange.1',
  start_time: time(start, startRate),
  duration: time(duration, rate),
})
const track = (name: string, kind: 'Video' | 'Audio', children: readonly Schema[]): Schema => ({
  OTIO_SCHEMA: 'Track.1',
  name,
  kind,
  source_range: null,
  effects: [],
  markers: [],
  enabled: true,
  metadata: {},
  children,
})
const gap = (frames: number, rate: number): Schema => ({
  OTIO_SCHEMA: 'Gap.1',
  name: '',
  source_range: range(0, rate, frames, rate),
  effects: [],
  markers: [],
  enabled: true,
  metadata: {},
})

type Piece = FilmPiece | CardPiece
const isPiece = (item: Piece | Schema): item is Piece => !('OTIO_SCHEMA' in item)

/// Pieces with what lies between them as gaps.
function filled(pieces: readonly Piece[], frames: number, between: (frames: number) => Schema): (Piece | Schema)[] {
  const items: (Piece | Schema)[] = []
  let at = 0
  for (const piece of pieces) {
    if (piece.start > at) items.push(between(piece.start - at))
    items.push(piece)
    at = piece.start + piece.frames
  }
  if (at < frames) items.push(between(frames - at))
  return items
}

const clip = (name: string, sourceRange: Schema, reference: Schema, effects: readonly Schema[], metadata: Json): Schema => ({
  OTIO_SCHEMA: 'Clip.2',
  name,
  source_range: sourceRange,
  effects,
  markers: [],
  enabled: true,
  metadata: { claimframe: metadata },
  media_references: { DEFAULT_MEDIA: reference },
  active_media_reference_key: 'DEFAULT_MEDIA',
})

function clipOfFilm(piece: FilmPiece, timeline: FilmTimeline): Schema {
  const film = timeline.films.get(piece.footage)
  if (!film) throw new RangeError(`footage ${piece.footage} is in no film of the timeline`)
  const media = toNumber(film.clock.rate)
  const { panel, shot } = piece
  const paces: Schema[] =
    piece.pace === 0
      ? [{ OTIO_SCHEMA: 'FreezeFrame.1', name: 'frozen', effect_name: 'FreezeFrame', time_scalar: 0, metadata: {} }]
      : piece.pace === 1
        ? []
        : [
            {
              OTIO_SCHEMA: 'LinearTimeWarp.1',
              name: shot.badges.join(', '),
              effect_name: 'LinearTimeWarp',
              time_scalar: piece.pace,
              metadata: {},
            },
          ]
  return clip(
    piece.clip,
    range(piece.from, media, piece.frames, toNumber(timeline.rate)),
    reference(film.file, range(0, media, film.clock.length, media)),
    paces,
    {
      paragraph: shot.paragraph,
      shot: shot.index,
      kind: shot.kind,
      ...('speed' in shot.shot ? { speed: fraction(exact(shot.shot.speed)) } : {}),
      mirrored: panel.mirrored,
      place: [...panel.place],
      shown: panel.shown.map((rectangle) => [...rectangle]),
      opacity: panel.opacity,
      badges: [...shot.badges],
    },
  )
}

function clipOfCard(piece: CardPiece, rate: number): Schema {
  const card = piece.shot.card
  const whole = range(0, rate, piece.frames, rate)
  return clip(
    card ? `${card.card} card` : 'card',
    whole,
    {
      OTIO_SCHEMA: 'GeneratorReference.1',
      name: 'card',
      generator_kind: 'Card',
      available_range: whole,
      available_image_bounds: null,
      parameters: {
        kind: card?.card ?? 'text',
        lines: [...(card?.lines ?? [])],
        ...(card?.card === 'curve'
          ? {
              measure: card.measure,
              ...(card.beside === undefined ? {} : { beside: card.beside }),
              ...(card.on === undefined ? {} : { on: card.on }),
            }
          : {}),
      },
      metadata: {},
    },
    [],
    { paragraph: piece.shot.paragraph, shot: piece.shot.index, kind: 'card' },
  )
}

/// A file beside the breakdown document, as a relative reference (RFC 3986).
const reference = (file: string, available: Schema): Schema => ({
  OTIO_SCHEMA: 'ExternalReference.1',
  name: file,
  target_url: file.split('/').map(encodeURIComponent).join('/'),
  available_range: available,
  available_image_bounds: null,
  metadata: {},
})

function soundTrack(timeline: FilmTimeline): Schema[] {
  const items: Schema[] = []
  const samples = Math.round((timeline.frames * SOUND_CLOCK) / toNumber(timeline.rate))
  let at = 0
  for (const sound of timeline.sounds) {
    if (sound.start > at) items.push(gap(sound.start - at, SOUND_CLOCK))
    const heard = range(sound.from, SOUND_CLOCK, sound.samples, SOUND_CLOCK)
    items.push(
      clip(sound.paragraph, heard, reference(sound.file, range(0, SOUND_CLOCK, sound.from + sound.samples, SOUND_CLOCK)), [], {
        paragraph: sound.paragraph,
      }),
    )
    at = sound.start + sound.samples
  }
  if (at < samples) items.push(gap(samples - at, SOUND_CLOCK))
  return items
}
