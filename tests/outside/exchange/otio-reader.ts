import { z } from 'zod'

/// Reads timelines by the rules of OpenTimelineIO's schema (opentimelineio documentation: "Timeline structure", "Time ranges",
/// "Schema"; schema classes Clip, Track, Stack, Gap, Transition, TimeEffect): the children of a track follow one another,
/// an item lasts as long as its source_range, else as its media's available_range; transitions take no time of their own;
/// the children of a stack lie over one another; a time effect scales how the media runs beneath an item and does not change
/// its length; FreezeFrame "holds the first frame of the clip".

const Time = z.object({ value: z.number(), rate: z.number() })
const Range = z.object({ start_time: Time, duration: Time })
type Range = z.infer<typeof Range>
const seconds = ({ value, rate }: z.infer<typeof Time>): number => value / rate

interface Item {
  readonly OTIO_SCHEMA: string
  readonly name?: string | null
  readonly [key: string]: unknown
}

/// A stretch of a track: media time at its start, and seconds of media to a second of timeline.
export interface ReadPiece {
  readonly name: string
  readonly media: string | null
  readonly start: number
  readonly duration: number
  readonly mediaStart: number
  readonly mediaRate: number
  readonly scalar: number
}

export interface ReadTimeline {
  readonly name: string
  readonly tracks: readonly {
    readonly kind: string
    readonly name: string
    readonly pieces: readonly ReadPiece[]
    readonly duration: number
  }[]
  readonly markers: readonly { readonly name: string; readonly start: number }[]
  readonly schemas: ReadonlySet<string>
}

const list = (value: unknown): Item[] => z.array(z.looseObject({ OTIO_SCHEMA: z.string() })).parse(value ?? [])
const rangeOf = (value: unknown): Range | null => (value ? Range.parse(value) : null)

export function readOtio(text: string): ReadTimeline {
  const file = JSON.parse(text) as Item
  if (!file.OTIO_SCHEMA.startsWith('Timeline.')) throw new Error(`${file.OTIO_SCHEMA} is no timeline`)
  const stack = file['tracks'] as Item
  const schemas = new Set<string>()
  JSON.stringify(file, (key, value: unknown) => {
    if (key === 'OTIO_SCHEMA') schemas.add(String(value))
    return value
  })
  return {
    name: String(file.name ?? ''),
    tracks: list(stack['children']).map((child) => {
      const pieces = piecesOf(child)
      return { kind: String(child['kind'] ?? ''), name: String(child.name ?? ''), pieces, duration: durationOf(child) }
    }),
    markers: list(stack['markers']).map((marker) => ({
      name: String(marker.name ?? ''),
      start: seconds(Range.parse(marker['marked_range']).start_time),
    })),
    schemas,
  }
}

const media = (item: Item): Item | null => {
  const references = item['media_references'] as Record<string, Item> | undefined
  if (references) return references[String(item['active_media_reference_key'])] ?? null
  return (item['media_reference'] as Item | undefined) ?? null
}

function durationOf(item: Item): number {
  const own = rangeOf(item['source_range'])
  if (own) return seconds(own.duration)
  const kind = item.OTIO_SCHEMA.split('.')[0]
  if (kind === 'Clip') {
    const available = rangeOf(media(item)?.['available_range'])
    return available ? seconds(available.duration) : 0
  }
  if (kind === 'Transition') return 0
  const children = list(item['children'])
  return kind === 'Stack' ? Math.max(0, ...children.map(durationOf)) : children.reduce((sum, child) => sum + durationOf(child), 0)
}

/// The clips of a track, or of one clip or stack that stands in a track's place, flat and in order. Gaps leave room.
function piecesOf(item: Item, at = 0, scalar = 1): ReadPiece[] {
  const kind = item.OTIO_SCHEMA.split('.')[0]
  const effects = list(item['effects'])
  const own = effects.reduce(
    (product, effect) => (/^(LinearTimeWarp|FreezeFrame)\./.test(effect.OTIO_SCHEMA) ? product * Number(effect['time_scalar']) : product),
    scalar,
  )
  if (kind === 'Clip') {
    const reference = media(item)
    const range = rangeOf(item['source_range']) ?? rangeOf(reference?.['available_range'])
    const url = reference?.['target_url']
    const start = range ? range.start_time : { value: 0, rate: 1 }
    return [
      {
        name: String(item.name ?? ''),
        media: typeof url === 'string' ? url : null,
        start: at,
        duration: durationOf(item),
        mediaStart: seconds(start),
        mediaRate: start.rate,
        scalar: own,
      },
    ]
  }
  if (kind !== 'Track' && kind !== 'Stack' && kind !== 'Sequence') return []
  const pieces: ReadPiece[] = []
  let from = at
  for (const child of list(item['children'])) {
    pieces.push(...piecesOf(child, from, own))
    if (kind !== 'Stack') from += durationOf(child)
  }
  return pieces
}

/// Media frame at timeline frame `n`: counted in the media's own units from its zero.
export function mediaFrame(piece: ReadPiece, n: number, rate: number): number {
  const inside = n / rate - piece.start
  return Math.floor((piece.mediaStart + inside * piece.scalar) * piece.mediaRate + 1e-6)
}
