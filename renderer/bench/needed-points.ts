import { sayPoint } from '../../app/body/landmark-name'
import type { MeasureContext } from '../../app/measure/context'
import type { Point } from '../../app/project/fields'
import type { Sample } from '../../app/project/film'
import type { Measure } from '../../app/project/question'
import type { BenchHand } from './bench-hand'
import { storedPoints } from './clip-now'

/// The points that a measure needs, frame by frame.
export interface NeededPoints {
  readonly frame: number
  readonly points: readonly string[]
}

const ENDS = ['hip', 'knee', 'ankle', 'shoulder', 'elbow', 'wrist'].flatMap((place) => [`${place}.left`, `${place}.right`])
const HIPS = ['hip.left', 'hip.right']
const SHOULDERS = ['shoulder.left', 'shoulder.right']

export function neededPoints(measure: Measure): NeededPoints[] {
  const needs = new Map<number, Set<string>>()
  const add = (frame: number, points: readonly string[]): void => void needs.set(frame, new Set([...(needs.get(frame) ?? []), ...points]))
  const own = [
    ...('points' in measure ? measure.points : []),
    ...('against' in measure && measure.against !== undefined ? [measure.against] : []),
  ]
  if (measure.kind === 'centre-of-mass') own.push(...(measure.table === 'hip-midpoint' ? ['hip.mid'] : ENDS))
  if (measure.kind === 'separation') own.push(...HIPS, ...SHOULDERS)
  if (own.length === 0) return []
  if ('frame' in measure) add(measure.frame, own)
  if ('fromFrame' in measure) add(measure.fromFrame, own)
  if ('toFrame' in measure) add(measure.toFrame, own)
  if ('unit' in measure && typeof measure.unit === 'object') add(measure.unit.frame, measure.unit.points)
  if (measure.kind === 'separation' && measure.widths) {
    add(measure.widths.hipsFrame, HIPS)
    add(measure.widths.shouldersFrame, SHOULDERS)
  }
  // The feet of the other person are placed as that person's.
  if ('line' in measure)
    add(
      measure.line.frame,
      measure.line.stands.filter((stand) => stand.subject === measure.subject).flatMap(({ points }) => points),
    )
  return [...needs].map(([frame, points]) => ({ frame, points: [...points] }))
}

export interface MissingPoints {
  /// All that it needs on the frame in hand.
  readonly here: readonly string[]
  /// What is not placed yet, frame by frame: "head top and chin are".
  readonly missing: readonly { readonly frame: number; readonly says: string }[]
}

export function missingPoints(
  measure: Measure,
  hand: Pick<BenchHand, 'clip' | 'subject' | 'frame' | 'lead'>,
  context: MeasureContext,
): MissingPoints {
  const { clip, subject, frame, lead } = hand
  if (!clip || subject === null) return { here: [], missing: [] }
  const isPlaced = (point: string, at: number): boolean =>
    context.samples(clip.id, subject, point, at).some(({ origin }) => origin !== 'suggested')
  const needs = neededPoints(measure).map((need) => {
    const leads = context.lead(clip.id, subject, need.frame)
    // A middle that was placed by itself needs no sides.
    return {
      frame: need.frame,
      leads,
      points: storedPoints(
        need.points.filter((point) => !isPlaced(point, need.frame)),
        leads,
      ),
    }
  })
  const here = neededPoints(measure).find((need) => need.frame === frame)
  return {
    here: here ? storedPoints(here.points, lead) : [],
    missing: needs.flatMap(({ frame: at, leads, points }) => {
      const names = points.filter((point) => !isPlaced(point, at))
      return names.length === 0 ? [] : [{ frame: at, says: listed(names.map((point) => sayPoint(point, leads))) }]
    }),
  }
}

const FEW = 3

function listed(names: readonly string[]): string {
  if (names.length === 1) return `${names[0]} is`
  return names.length > FEW
    ? `${names.slice(0, FEW).join(', ')} and ${names.length - FEW} more are`
    : `${names.slice(0, -1).join(', ')} and ${names.at(-1)} are`
}

/// The frame on which both sides of a place lie furthest apart: there the line most likely faces the camera. Null: placed nowhere.
export function widestFrame(context: MeasureContext, clip: string, subject: string, place: string): number | null {
  const right = context.track(clip, subject, `${place}.right`)
  let widest: { readonly frame: number; readonly width: number } | null = null
  for (const [frame, samples] of context.track(clip, subject, `${place}.left`)) {
    const other = right.get(frame)
    if (!other) continue
    const [a, b] = [middleOf(samples), middleOf(other)]
    const width = Math.hypot(a[0] - b[0], a[1] - b[1])
    if (!widest || width > widest.width) widest = { frame, width }
  }
  return widest?.frame ?? null
}

const middleOf = (samples: readonly Sample[]): Point => [
  samples.reduce((sum, { at }) => sum + at[0], 0) / samples.length,
  samples.reduce((sum, { at }) => sum + at[1], 0) / samples.length,
]
