import { Matrix, solve } from 'ml-matrix'
import { applyHomography, homographyOf, homographySlope, parameterSlopes } from '../geometry/homography'
import type { Point } from '../project/fields'
import type { Clip } from '../project/film'
import type { Floor } from '../project/hall'
import type { FloorLine } from '../project/question'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { effectsOf, merged, type Effect } from './effect'
import { locate, type Located } from './located'
import type { ReasonCode } from './reason'
import type { PlaceOnPicture } from './way-across'

/// The floor as the picture shows it: from four or more marks whose places are known. Each place on
/// the floor carries the errors of its own point and of every mark, with their slopes.

export type PlaceOnFloor = PlaceOnPicture

export interface FloorPlane {
  readonly place: (point: Located) => PlaceOnFloor | null
}

/// The floor on one frame: by the marks placed there, or, where the clip's camera stood still, on any frame. Refused with fewer
/// than four, or all on a line.
export function floorPlane(context: MeasureContext, clip: Clip, floor: Floor, frame: number): Result<FloorPlane, ReasonCode> {
  const marks: { located: Located; at: Point }[] = []
  for (const { point, at } of floor.marks) {
    let located = locate(context, clip, floor.subject, point, frame)
    // Before a camera that stood still a mark lies where it lay on any other frame.
    const elsewhere = located.ok || clip.hall?.camera !== 'still' ? undefined : context.track(clip.id, floor.subject, point).keys().next().value
    if (elsewhere !== undefined) located = locate(context, clip, floor.subject, point, elsewhere)
    // A mark on the floor has no kit over it: what was clicked is what is meant.
    if (located.ok) marks.push({ at, located: { ...located.value, errors: located.value.errors.filter((e) => e.part !== 'anatomical') } })
  }
  const map = homographyOf(marks.map((m) => m.located.at), marks.map((m) => m.at))
  if (!map) return refused('floor-missing')
  const J = new Matrix(marks.flatMap((m) => parameterSlopes(map, m.located.at)))
  // The map gives way so that moved marks still fall on their places: dh = −(JᵀJ)⁻¹Jᵀ·S·dp.
  const gives = solve(J.transpose().mmul(J), J.transpose())
  const side = ([x, y]: Point): number => Math.sign(map[6] * x + map[7] * y + map[8])
  const floorSide = side(marks[0]!.located.at)
  return ok({
    place: (point) => {
      if (side(point.at) !== floorSide) return null
      const at = applyHomography(map, point.at)
      const byMap = new Matrix(parameterSlopes(map, point.at)).mmul(gives)
      const errors: PlaceOnFloor['errors'][number][] = point.errors.map((error) => ({ error, slope: homographySlope(map, point.at) }))
      marks.forEach((mark, i) => {
        const own = homographySlope(map, mark.located.at)
        const cell = (row: number, axis: 0 | 1): number => -(byMap.get(row, 2 * i) * own[0][axis] + byMap.get(row, 2 * i + 1) * own[1][axis])
        const slope: readonly [Point, Point] = [[cell(0, 0), cell(0, 1)], [cell(1, 0), cell(1, 1)]]
        for (const error of mark.located.errors) errors.push({ error: { ...error, part: 'floor marks' }, slope })
      })
      return Number.isFinite(at[0]) && Number.isFinite(at[1]) ? { at, errors } : null
    },
  })
}

/// The middle of several places.
export function middlePlace(places: readonly PlaceOnFloor[]): PlaceOnFloor {
  const share = 1 / places.length
  return {
    at: [share * places.reduce((s, p) => s + p.at[0], 0), share * places.reduce((s, p) => s + p.at[1], 0)],
    errors: places.flatMap((p) => p.errors.map(({ error, slope }) => ({ error, slope: slope.map(([a, b]): Point => [share * a, share * b]) as [Point, Point] }))),
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
  const warnings: ReasonCode[] = []
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
      return place.errors.flatMap(({ error, slope }) => effectsOf([error], [gx * slope[0][0] + gy * slope[1][0], gx * slope[0][1] + gy * slope[1][1]]))
    }),
  )
