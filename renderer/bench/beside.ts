import type { MeasureContext } from '../../app/measure/context'
import { exact } from '../../app/project/fields'
import type { Clip, Event } from '../../app/project/film'
import { secondsAt, type FrameTable } from '../../app/time/frame-table'

/// A second clip beside the one on the Bench, locked on an event that both name alike, at the same real-time rate.

export interface Lock {
  readonly clip: Clip
  readonly on: Event
  readonly there: Event
  readonly tables: readonly [FrameTable, FrameTable]
  /// Real seconds of a file second, in either; null where a capture factor is not known: then frames are counted.
  readonly factors: readonly [number, number] | null
}

/// The clips that can stand beside one: they share an event's name, and their films have been read.
export function locksOf(own: Clip, context: MeasureContext): Lock[] {
  const table = context.table(own)
  if (!table) return []
  return context.breakdown.clips.flatMap((clip) => {
    const other = context.table(clip)
    const on = context.eventsOf(own.id).find(({ name }) => context.eventsOf(clip.id).some((event) => event.name === name))
    const there = context.eventsOf(clip.id).find(({ name }) => name === on?.name)
    if (clip.id === own.id || !other || !on || !there) return []
    const [k, l] = [factorOf(own), factorOf(clip)]
    return [{ clip, on, there, tables: [table, other] as const, factors: k !== null && l !== null ? ([k, l] as const) : null }]
  })
}

/// The frame of the other clip that shows what the own one's `frame` shows, by real time from the event, `offset` frames on;
/// within the clip. The nearest frame: at most half an interval off, nothing is blended.
export function frameBeside({ clip, on, there, tables: [table, other], factors }: Lock, frame: number, offset: number): number {
  const within = (at: number): number => Math.max(clip.from, Math.min(clip.to - 1, at + offset))
  if (!factors) return within(Math.round((there.earliest + there.latest) / 2 + frame - (on.earliest + on.latest) / 2))
  const middle = (t: FrameTable, event: Event): number => (secondsAt(t, event.earliest) + secondsAt(t, event.latest)) / 2
  const wanted = middle(other, there) + ((secondsAt(table, frame) - middle(table, on)) / factors[0]) * factors[1]
  let nearest = clip.from
  for (let at = clip.from; at < clip.to; at++) if (Math.abs(secondsAt(other, at) - wanted) < Math.abs(secondsAt(other, nearest) - wanted)) nearest = at
  return within(nearest)
}

export const lockWords = ({ on, factors }: Lock, offset: number): string =>
  `${factors ? `locked on ${on.name}` : `locked on ${on.name}, speed not matched`}${offset === 0 ? '' : `, ${Math.abs(offset)} ${Math.abs(offset) === 1 ? 'frame' : 'frames'} ${offset > 0 ? 'on' : 'back'}`}`

function factorOf({ capture }: Clip): number | null {
  if (capture === 'unknown') return null
  const { n, d } = exact(capture.factor)
  return n / d
}
