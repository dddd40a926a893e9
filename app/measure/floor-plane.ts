import { fitPlane, type PlaneFit } from '../geometry/plane-fit'
import { length, minus } from '../geometry/vector'
import type { Point } from '../project/fields'
import type { Clip } from '../project/film'
import type { Floor } from '../project/hall'
import type { FloorLine } from '../project/question'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { fDistribution } from './distribution'
import { effectsOf, merged, type Effect, type PointError } from './effect'
import { locate, PRIOR_FREEDOM, type Located } from './located'
import type { ReasonCode } from './reason'
import type { PlaceOnPicture } from './way-across'

/// The floor as the picture shows it: from four or more marks whose places are known. Each place on
/// the floor carries the errors of its own point and of every mark, with their slopes.

export type PlaceOnFloor = PlaceOnPicture

export interface FloorPlane {
  readonly place: (point: Located) => PlaceOnFloor | null
  /// The marks that were found, in the floor's order.
  readonly marks: readonly MarkOnFloor[]
  readonly fit: PlaneFit
  /// σ of the marks as their misfit tells it, over σ as it was stated for their placings. 1 with four marks, which tell nothing.
  readonly spread: number
  /// The mark that lies far from where the others put it, and where it lies by them, less where it is said to lie.
  readonly astray: { readonly mark: MarkOnFloor; readonly off: Point } | null
  /// `floor-marks-apart` where the marks do not fit one floor, whether or not one of them can be named.
  readonly warnings: readonly ReasonCode[]
}

export interface MarkOnFloor {
  readonly point: string
  readonly at: Point
  readonly located: Located
  /// Where the picture puts it on the fitted floor, less where it is said to lie, in the floor's unit.
  readonly off: Point
}

/// How seldom marks of one floor are said not to fit it; and how seldom so large a misfit may be before it is laid to the floor
/// instead of to chance [J].
const CHANCE = 0.01
const RARE = 0.05
/// So many pieces of the misfit must be left without a mark for it to be named: with five marks any four fit exactly.
const LEAST_FREEDOM = 4

/// The floor on one frame: by the marks placed there, or, where the clip's camera stood still, on any frame. Refused with fewer
/// than four, all on a line, or in an order in which no camera sees them.
export function floorPlane(context: MeasureContext, clip: Clip, floor: Floor, frame: number): Result<FloorPlane, ReasonCode> {
  const found: Omit<MarkOnFloor, 'off'>[] = []
  for (const { point, at } of floor.marks) {
    let located = locate(context, clip, floor.subject, point, frame)
    // Before a camera that stood still a mark lies where it lay on any other frame.
    const elsewhere =
      located.ok || clip.hall?.camera !== 'still' ? undefined : context.track(clip.id, floor.subject, point).keys().next().value
    if (elsewhere !== undefined) located = locate(context, clip, floor.subject, point, elsewhere)
    // A mark on the floor has no kit over it: what was clicked is what is meant.
    if (located.ok)
      found.push({ point, at, located: { ...located.value, errors: located.value.errors.filter((e) => e.part !== 'anatomical') } })
  }
  const fit = fitted(found)
  if (fit === 'crossed') return refused('floor-crossed')
  if (fit === 'too-few') return refused('floor-missing')
  const marks = found.map((mark, i): MarkOnFloor => ({ ...mark, off: fit.marks[i]!.off }))
  // What the marks' misfit says of their σ, pooled with what is known of it, as the spread of repeats is.
  const spread = Math.sqrt((PRIOR_FREEDOM + fit.misfit) / (PRIOR_FREEDOM + fit.freedom))
  // More than the placings explain: the floor is not flat, the lens bends it, or a mark lies elsewhere. A place between the marks
  // is then as far off as they are.
  const bent = !isRare(fit.misfit, fit.freedom, RARE)
    ? 0
    : Math.sqrt(Math.max(0, spread ** 2 - 1) * (marks.reduce((s, { located }) => s + sigmaOf(located) ** 2, 0) / marks.length))
  const worst = worstOf(fit)
  const apart = worst !== null || isRare(fit.misfit, fit.freedom, CHANCE)
  return ok({
    marks,
    fit,
    spread,
    astray: worst === null ? null : { mark: marks[worst]!, off: offWithout(found, worst) ?? marks[worst]!.off },
    warnings: apart ? ['floor-marks-apart'] : [],
    place: (point) => {
      const at = fit.onPlane(point.at)
      if (!at) return null
      const slope = fit.slope(point.at)
      const own: readonly PointError[] =
        bent > 0
          ? [...point.errors, { key: `floor fit:${point.errors[0]?.key ?? point.at.join(' ')}`, part: 'floor marks', sigma: bent }]
          : point.errors
      const errors: PlaceOnFloor['errors'][number][] = own.map((error) => ({ error, slope }))
      fit.markSlopes(point.at).forEach((byMark, i) => {
        for (const error of marks[i]!.located.errors)
          errors.push({ error: { ...error, part: 'floor marks', sigma: spread * error.sigma }, slope: byMark })
      })
      return Number.isFinite(at[0]) && Number.isFinite(at[1]) ? { at, errors } : null
    },
  })
}

/// 1 σ per axis of a mark's placing, px.
export const sigmaOf = ({ errors }: Located): number => Math.hypot(...errors.map(({ sigma }) => sigma))

const fitted = (marks: readonly Omit<MarkOnFloor, 'off'>[]): ReturnType<typeof fitPlane> =>
  fitPlane(
    marks.map(({ located }) => located.at),
    marks.map(({ at }) => at),
    marks.map(({ located }) => sigmaOf(located)),
  )

/// Whether marks whose σ is known so well as a placing's would misfit so much no oftener than by this chance.
const isRare = (misfit: number, freedom: number, chance: number): boolean =>
  freedom > 0 && misfit / freedom > fDistribution(1 - chance, freedom, PRIOR_FREEDOM)

/// The mark without which the misfit falls most, where that is more than chance in any of them, and where no other can be left out
/// in its stead; null where none is, or the others are too few to tell.
function worstOf({ marks, misfit, freedom }: PlaneFit): number | null {
  if (freedom < LEAST_FREEDOM) return null
  const [worst, second] = [...marks.keys()].sort((a, b) => marks[b]!.fallsBy - marks[a]!.fallsBy) as [number, number]
  const left = PRIOR_FREEDOM + freedom - 2
  const without = (mark: number): number => Math.max(0, misfit - marks[mark]!.fallsBy)
  const ratio = marks[worst]!.fallsBy / 2 / ((PRIOR_FREEDOM + without(worst)) / left)
  return ratio > fDistribution(1 - CHANCE / marks.length, 2, left) && isRare(without(second), freedom - 2, CHANCE) ? worst : null
}

/// Where a mark lies by the others alone, less where it is said to lie. Null where they make no floor, or it lies beyond their horizon.
function offWithout(marks: readonly Omit<MarkOnFloor, 'off'>[], index: number): Point | null {
  const fit = fitted(marks.filter((_, i) => i !== index))
  const at = typeof fit === 'string' ? null : fit.onPlane(marks[index]!.located.at)
  return at && minus(at, marks[index]!.at)
}

/// How far a mark is off, in the floor's unit.
export const offBy = ({ off }: { readonly off: Point }): number => length(off)

/// The middle of several places.
export function middlePlace(places: readonly PlaceOnFloor[]): PlaceOnFloor {
  const share = 1 / places.length
  return {
    at: [share * places.reduce((s, p) => s + p.at[0], 0), share * places.reduce((s, p) => s + p.at[1], 0)],
    errors: places.flatMap((p) =>
      p.errors.map(({ error, slope }) => ({ error, slope: slope.map(([a, b]): Point => [share * a, share * b]) as [Point, Point] })),
    ),
  }
}

export interface OnFloor {
  readonly points: readonly PlaceOnFloor[]
  readonly line: readonly [PlaceOnFloor, PlaceOnFloor]
  readonly warnings: readonly ReasonCode[]
}

interface Asked {
  readonly clip: string
  readonly subject: string
  readonly frame: number
  readonly points: readonly string[]
  readonly floor?: Floor | undefined
  readonly line: FloorLine
  readonly planted?: true | undefined
}

/// The measure's points and the ends of its line, on its own floor or the clip's.
export function onFloor(context: MeasureContext, clip: Clip, measure: Asked): Result<OnFloor, readonly ReasonCode[]> {
  if (measure.planted !== true) return refused(['not-planted'])
  const floor = measure.floor ?? clip.hall?.floor
  if (!floor) return refused(['floor-missing'])
  const [now, then] = [floorPlane(context, clip, floor, measure.frame), floorPlane(context, clip, floor, measure.line.frame)]
  if (!now.ok) return refused([now.error])
  if (!then.ok) return refused([then.error])
  const warnings: ReasonCode[] = [...now.value.warnings, ...then.value.warnings]
  const reasons: ReasonCode[] = []
  const placeAll = (plane: FloorPlane, subject: string, names: readonly string[], frame: number): PlaceOnFloor[] =>
    names.flatMap((name) => {
      const located = locate(context, clip, subject, name, frame)
      if (!located.ok) {
        reasons.push(located.error)
        return []
      }
      warnings.push(...located.value.warnings)
      const place = plane.place(located.value)
      if (!place) reasons.push('floor-too-flat')
      return place ? [place] : []
    })
  const points = placeAll(now.value, measure.subject, measure.points, measure.frame)
  const ends = measure.line.stands.map((s) => placeAll(then.value, s.subject, s.points, measure.line.frame))
  if (reasons.length > 0) return refused(reasons)
  return ok({ points, line: [middlePlace(ends[0]!), middlePlace(ends[1]!)], warnings })
}

/// What the errors of places do to a value with these slopes by the places.
export const floorEffects = (places: readonly PlaceOnFloor[], slopes: readonly Point[]): readonly Effect[] =>
  merged(
    places.flatMap((place, i) => {
      const [gx, gy] = slopes[i]!
      return place.errors.flatMap(({ error, slope }) =>
        effectsOf([error], [gx * slope[0][0] + gy * slope[1][0], gx * slope[0][1] + gy * slope[1][1]]),
      )
    }),
  )
