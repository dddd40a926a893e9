import type { Clip, Event } from '../project/film'
import { ok, refused, type Result } from '../result'
import { intervalAt, secondsAt, type FrameTable } from '../time/frame-table'
import type { MeasureContext } from './context'
import type { ReasonCode } from './reason'

/// Where an event's instant lies: uniform within a bracket.

export interface Bracket {
  readonly middle: number
  /// Half of the bracket's width.
  readonly half: number
}

export interface EventPair {
  readonly clip: Clip
  readonly from: Event
  readonly to: Event
  readonly warnings: readonly ReasonCode[]
}

/// The two events of a measure, both on its clip; or every reason why not.
export function eventPair(
  context: MeasureContext,
  measure: { readonly clip: string; readonly from: string; readonly to: string },
): Result<EventPair, readonly ReasonCode[]> {
  const clip = context.clip(measure.clip)
  if (!clip) return refused(['clip-missing'])
  const from = context.event(measure.from)
  const to = context.event(measure.to)
  if (!from || !to) return refused(['event-missing'])
  const codes: ReasonCode[] = []
  const table = context.table(clip)
  for (const event of [from, to]) {
    if (event.clip !== clip.id) codes.push('across-clips')
    else if (event.earliest > event.latest) codes.push('event-reversed')
    else if (event.earliest < clip.from || event.latest >= clip.to) codes.push('outside-clip')
    else if (table && event.latest >= table.pts.length) codes.push('outside-film')
  }
  if (codes.length > 0) return refused(codes)
  const warnings: ReasonCode[] = [from, to].some((e) => e.latest - e.earliest > 1) ? ['bracket-wide'] : []
  if (
    [from, to].some(
      ({ earliest, latest, markings }) => markings && (markings.second.latest < earliest || markings.second.earliest > latest),
    )
  )
    warnings.push('markings-apart')
  return ok({ clip, from, to, warnings })
}

/// In frames: between the earliest and the latest; equal frames mean ± half a frame.
export const frameBracket = ({ earliest, latest }: Event): Bracket => ({
  middle: (earliest + latest) / 2,
  half: Math.max(latest - earliest, 1) / 2,
})

/// In file seconds: between the presentation times of the earliest and the latest frame; equal
/// frames mean ± half a frame interval, the longer of the two beside it.
export function timeBracket({ earliest, latest }: Event, table: FrameTable): Bracket {
  const at = secondsAt(table, earliest)
  if (earliest === latest) return { middle: at, half: longerIntervalAt(table, earliest) / 2 }
  const end = secondsAt(table, latest)
  return { middle: (at + end) / 2, half: (end - at) / 2 }
}

const longerIntervalAt = (table: FrameTable, frame: number): number =>
  Math.max(frame === table.pts.length - 1 && frame > 0 ? 0 : intervalAt(table, frame), frame > 0 ? intervalAt(table, frame - 1) : 0)

/// u of a uniform bracket: half width / √3 (a frame interval: Δt/√12).
export const bracketU = ({ half }: Bracket): number => half / Math.sqrt(3)
