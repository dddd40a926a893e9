import type { Side } from '../body/landmark-name'
import { dot } from '../geometry/vector'
import type { Point } from '../project/fields'
import type { Clip } from '../project/film'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import type { Effect } from './effect'
import { locate, type Located } from './located'
import type { ReasonCode } from './reason'

/// What the kinds that read body points on one frame have in common.

export interface OnFrame {
  readonly clip: string
  readonly subject: string
  readonly frame: number
}

export interface PlacedPoints {
  readonly clip: Clip
  readonly points: readonly Located[]
  readonly lead: Side | null
  /// Warnings about the points, the figure's size and the camera's view.
  readonly warnings: readonly ReasonCode[]
}

/// A figure below this is not measured; below the next it is measured with a warning [J].
const LEAST_HEIGHT_PX = 150
const SMALL_HEIGHT_PX = 250
/// Blur above this share of the projected line is warned of.
const BLUR_SHARE = 0.3

/// Refuses a frame beyond the clip (a cut) or the film.
export function clipAt(
  context: MeasureContext,
  { clip: id, frame }: { readonly clip: string; readonly frame: number },
): Result<Clip, readonly ReasonCode[]> {
  const clip = context.clip(id)
  if (!clip) return refused(['clip-missing'])
  if (frame < clip.from || frame >= clip.to) return refused(['outside-clip'])
  const table = context.table(clip)
  if (table && frame >= table.pts.length) return refused(['outside-film'])
  return ok(clip)
}

/// The named points on the measure's frame, or every reason why not.
export function placedPoints(
  context: MeasureContext,
  measure: OnFrame,
  names: readonly string[],
): Result<PlacedPoints, readonly ReasonCode[]> {
  const clip = clipAt(context, measure)
  if (!clip.ok) return clip
  const points: Located[] = []
  const codes: ReasonCode[] = []
  const warnings: ReasonCode[] = []
  for (const name of names) {
    const point = locate(context, clip.value, measure.subject, name, measure.frame)
    if (point.ok) {
      points.push(point.value)
      warnings.push(...point.value.warnings)
    } else codes.push(point.error)
  }
  const height = context.figureHeight(measure.clip, measure.subject)
  if (height !== null && height < LEAST_HEIGHT_PX) codes.push('figure-too-small')
  else if (height !== null && height < SMALL_HEIGHT_PX) warnings.push('figure-small')
  if (codes.length > 0) return refused(codes)
  return ok({ clip: clip.value, points, lead: context.lead(measure.clip, measure.subject, measure.frame), warnings })
}

/// Whether the blur at either end of a line is long against it.
export const isBlurred = (length: number, ends: readonly Located[]): boolean => ends.some((e) => e.blur > BLUR_SHARE * length)

/// What the errors of the points do to a value with these slopes.
export function pointEffects(points: readonly Located[], slopes: readonly Point[]): Effect[] {
  const effects: Effect[] = []
  points.forEach(({ errors }, i) => {
    const [x, y] = slopes[i]!
    for (const { key, part, sigma } of errors) effects.push({ key, part, shift: [sigma * x, sigma * y] })
  })
  return effects
}

/// σ² of a line's direction-carrying difference, per axis: both ends' errors, px².
export const endVariance = (...ends: readonly Located[]): number =>
  ends.reduce((sum, e) => sum + e.errors.reduce((s, { sigma }) => s + sigma ** 2, 0), 0)

/// Slopes fall off as 1/L, and click noise makes a short line look longer on average
/// (E[L²] = L² + 2σ²): the length that slopes are taken at is freed of that. Returns the factor
/// by which slopes grow; a line shorter than its own noise is taken at half its drawn length.
export function shorteningOf(drawn: Point, variance: number): number {
  const squared = dot(drawn, drawn)
  return Math.sqrt(squared / Math.max(squared - 2 * variance, squared / 4))
}
