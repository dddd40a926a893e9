import { placeOf, sideOf, storedName, withSide } from '../body/landmark-name'
import type { MeasureContext } from '../measure/context'
import type { Point } from '../project/fields'

/// Free marks carry no value, so they may follow a landmark over the few frames on which it has no sample
/// of its own: straight between samples at most this many frames apart.
const BRIDGED_FRAMES = 5

/// A place of a frame, in the picture of another; null where it is not known there.
export type Steady = (frame: number, at: Point) => Point | null

/// Where a landmark is for a free mark, in pixels of the upright, unmirrored source; null where it is not known.
/// "hip.mid" is the middle of left and right, lead and rear follow the view card.
export function followedPoint(measures: MeasureContext, clip: string, subject: string, point: string, frame: number): Point | null {
  const stored = storedName(point, measures.lead(clip, subject, frame))
  if (stored === null) return null
  if (sideOf(stored) === 'mid' && !measures.isPlaced(clip, subject, stored)) {
    const [left, right] = (['left', 'right'] as const).map((side) =>
      followedPoint(measures, clip, subject, withSide(placeOf(stored), side), frame),
    )
    return left && right ? mean([left, right]) : null
  }
  const own = meanSample(measures, clip, subject, stored, frame)
  if (own) return own
  let [before, after] = [frame - 1, frame + 1]
  while (frame - before < BRIDGED_FRAMES && measures.samples(clip, subject, stored, before).length === 0) before--
  while (after - before < BRIDGED_FRAMES && measures.samples(clip, subject, stored, after).length === 0) after++
  const [from, to] = [meanSample(measures, clip, subject, stored, before), meanSample(measures, clip, subject, stored, after)]
  if (!from || !to || after - before > BRIDGED_FRAMES) return null
  const k = (frame - before) / (after - before)
  return [from[0] + k * (to[0] - from[0]), from[1] + k * (to[1] - from[1])]
}

/// The way of a landmark from frame `from` (absent: the clip's first) up to `frame`, broken where samples lie further apart
/// than may be bridged. `steady`: carries a place of another frame into the picture of this one; what it cannot carry is left out.
export function followedWay(
  measures: MeasureContext,
  clip: string,
  subject: string,
  point: string,
  frame: number,
  from?: number,
  steady: Steady = (_, at) => at,
): Point[][] {
  const stored = storedName(point, measures.lead(clip, subject, frame))
  const span = measures.clip(clip)
  if (stored === null || !span) return []
  const frames = framesOf(measures, clip, subject, stored)
  const pieces: Point[][] = []
  let last = -Infinity
  for (const at of frames) {
    if (at > frame || at >= span.to) break
    if (at < (from ?? span.from)) continue
    const seen = followedPoint(measures, clip, subject, stored, at)
    const p = seen && steady(at, seen)
    if (!p) continue
    if (at - last > BRIDGED_FRAMES) pieces.push([])
    pieces.at(-1)?.push(p)
    last = at
  }
  return pieces
}

function framesOf(measures: MeasureContext, clip: string, subject: string, stored: string): number[] {
  const sides =
    sideOf(stored) === 'mid' && !measures.isPlaced(clip, subject, stored)
      ? [withSide(placeOf(stored), 'left'), withSide(placeOf(stored), 'right')]
      : [stored]
  return [...new Set(sides.flatMap((name) => [...measures.track(clip, subject, name).keys()]))].sort((a, b) => a - b)
}

function meanSample(measures: MeasureContext, clip: string, subject: string, stored: string, frame: number): Point | null {
  const samples = measures.samples(clip, subject, stored, frame)
  return samples.length > 0 ? mean(samples.map((s) => s.at)) : null
}

const mean = (points: readonly Point[]): Point => [
  points.reduce((sum, p) => sum + p[0], 0) / points.length,
  points.reduce((sum, p) => sum + p[1], 0) / points.length,
]
