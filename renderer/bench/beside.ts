import type { MeasureContext } from '../../app/measure/context'
import { exact } from '../../app/project/fields'
import type { Clip, Event } from '../../app/project/film'
import { secondsAt, type FrameTable } from '../../app/time/frame-table'

/// A second clip beside the one on the Bench, locked on an event that both name alike, at the same real-time rate.

export interface Lock {
  readonly clip: Clip
  readonly on: Event
  readonly there: Event
  /// The names of all events that both have.
  readonly shared: readonly string[]
  readonly tables: readonly [FrameTable, FrameTable]
  /// Real seconds of a file second, in either; null where a capture factor is not known: then frames are counted.
  readonly factors: readonly [number, number] | null
}

/// The clips that can stand beside one: they share an event's name, and their films have been read. Each is locked on the event
/// that is `asked` for, where they share it; else on contact; else on the first.
export function locksOf(own: Clip, context: MeasureContext, asked: string | null = null): Lock[] {
  const table = context.table(own)
  if (!table) return []
  return context.breakdown.clips.flatMap((clip) => {
    const other = context.table(clip)
    if (clip.id === own.id || !other) return []
    const theirs = context.eventsOf(clip.id)
    const shared = context.eventsOf(own.id).filter(({ name }) => theirs.some((event) => event.name === name))
    const on = shared.find(({ name }) => name === asked) ?? shared.find(({ name }) => /contact/i.test(name)) ?? shared[0]
    const there = theirs.find(({ name }) => name === on?.name)
    if (!on || !there) return []
    const [k, l] = [factorOf(own), factorOf(clip)]
    return [
      {
        clip,
        on,
        there,
        shared: [...new Set(shared.map(({ name }) => name))],
        tables: [table, other] as const,
        factors: k !== null && l !== null ? ([k, l] as const) : null,
      },
    ]
  })
}

/// The frame of the other clip that shows what the own one's `frame` shows, by real time from the event, `offset` frames on;
/// within the clip. The nearest frame: at most half an interval off, nothing is blended.
export const frameBeside = (lock: Lock, frame: number, offset: number): number =>
  Math.max(lock.clip.from, Math.min(lock.clip.to - 1, partnerOf(lock, frame) + offset))

/// The offset with which the other clip shows its frame `there` while the own one shows `frame`: so that the own one is stepped
/// alone.
export const offsetHolding = (lock: Lock, frame: number, there: number): number => there - partnerOf(lock, frame)

function partnerOf({ clip, on, there, tables: [table, other], factors }: Lock, frame: number): number {
  if (!factors) return Math.round((there.earliest + there.latest) / 2 + frame - (on.earliest + on.latest) / 2)
  const middle = (t: FrameTable, event: Event): number => (secondsAt(t, event.earliest) + secondsAt(t, event.latest)) / 2
  const wanted = middle(other, there) + ((secondsAt(table, frame) - middle(table, on)) / factors[0]) * factors[1]
  let nearest = clip.from
  for (let at = clip.from; at < clip.to; at++)
    if (Math.abs(secondsAt(other, at) - wanted) < Math.abs(secondsAt(other, nearest) - wanted)) nearest = at
  return nearest
}

export const lockWords = (lock: Lock, offset: number): string => [`locked on ${lock.on.name}`, ...matchWords(lock, offset)].join(', ')

/// What else is to be known of a lock: that the speeds are not matched, and how far one was stepped alone.
export const matchWords = ({ factors }: Lock, offset: number): string[] => [
  ...(factors ? [] : ['speed not matched']),
  ...(offset === 0 ? [] : [`${Math.abs(offset)} ${Math.abs(offset) === 1 ? 'frame' : 'frames'} ${offset > 0 ? 'on' : 'back'}`]),
]

function factorOf({ capture }: Clip): number | null {
  if (capture === 'unknown') return null
  const { n, d } = exact(capture.factor)
  return n / d
}
