import type { Clip, Event } from '../project/film'
import { ok, refused, type Result } from '../result'
import { secondsAt } from '../time/frame-table'
import { captureFactor, type CaptureFactor } from './capture-factor'
import type { MeasureContext } from './context'
import type { ReasonCode } from './reason'

/// Frames in a row on which something is placed, in real time: what rates are taken from.
/// A frame without a placing ends the run; so does a contact, for no filter may run across it.

export interface RunOfFrames {
  readonly frames: readonly number[]
  /// Real seconds of each frame, the first at its own file time / k.
  readonly times: readonly number[]
  readonly even: boolean
  /// True frames a second (mean over the run).
  readonly rate_hz: number
  readonly factor: CaptureFactor
}

/// Events by these names, and those whose name begins or ends with them, are impacts.
const IMPACT = /^(contact|impact)\b|\b(contact|impact)$/i

/// Last frames before a break that no filter crosses. A frame that an impact falls on belongs to what came before it; where an
/// impact has a bracket, it may lie between any two of the bracket's frames, so each of those inside stands alone.
export const impactBreaks = (events: readonly Event[]): number[] =>
  events
    .filter(({ name }) => IMPACT.test(name.trim()))
    .flatMap(({ earliest, latest }) => Array.from({ length: Math.max(1, latest - earliest) }, (_, i) => earliest + i))

/// [First frame, last frame] around a frame that no filter leaves.
function smoothSpan(context: MeasureContext, clip: Clip, frame: number): readonly [number, number] {
  let [first, last] = [clip.from, clip.to - 1]
  for (const end of impactBreaks(context.eventsOf(clip.id)))
    if (end < frame) first = Math.max(first, end + 1)
    else last = Math.min(last, end)
  return [first, last]
}

/// The unbroken run of frames around `frame` that `isPlaced`, at most `reach` frames either way
/// of [from, to] (both ends meant).
export function runAround(
  context: MeasureContext,
  clip: Clip,
  from: number,
  to: number,
  reach: number,
  isPlaced: (frame: number) => boolean,
): Result<RunOfFrames, readonly ReasonCode[]> {
  const factor = captureFactor(context, clip)
  const table = context.table(clip)
  if (!factor.ok || !table) return refused([...(factor.ok ? [] : [factor.error]), ...(table ? [] : (['film-not-read'] as const))])
  const [first, last] = smoothSpan(context, clip, from)
  const end = Math.min(last, table.pts.length - 1)
  const frames: number[] = []
  for (let f = from; f >= first && f >= from - reach && isPlaced(f); f--) frames.unshift(f)
  if (frames.length === 0) return refused(['no-sample-on-frame'])
  for (let f = from + 1; f <= end && f <= to + reach && isPlaced(f); f++) frames.push(f)
  if (frames[frames.length - 1]! < to) return refused(['no-sample-on-frame'])
  const { k } = factor.value
  const times = frames.map((f) => secondsAt(table, f) / k)
  const rate_hz = frames.length > 1 ? (frames.length - 1) / (times[times.length - 1]! - times[0]!) : 0
  return ok({ frames, times, even: table.rate !== null, rate_hz, factor: factor.value })
}

/// Default cut-off, Hz [M/J]: 6–10 Hz for body segments, a quarter of the true rate at most.
export const DEFAULT_CUTOFF_HZ = 10
export const HIGHEST_SHARE = 0.25

export const cutoffFor = (run: RunOfFrames, stated: number | undefined): number =>
  Math.min(stated ?? DEFAULT_CUTOFF_HZ, HIGHEST_SHARE * run.rate_hz)

/// Frames beyond which a cut-off no longer looks: three of its periods.
export const reachOf = (rate_hz: number, cutoff_hz: number): number => Math.ceil((3 * rate_hz) / cutoff_hz)
