import { sayPoint } from '../body/landmark-name'
import { cross, dot, length, minus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import { noAnswer, type Answer, type Words } from './answer'
import { COVERAGE, merged, uncertaintyOf } from './effect'
import { floorEffects, middlePlace, onFloor } from './floor-plane'
import { POINT_LIMITS, type Kind } from './kind'
import { clipAt } from './on-frame'

/// A U above this share of the line's own length says nothing [J].
const LARGEST_SHARE = 0.5

/// Distance of a planted foot from a floor line frozen when the step began, in the floor's unit.
///
/// Not followed over frames: that every foot point lies on the floor is stated for the measure's own frame, and a foot in the air
/// beside it would read a place on the floor where it never stood.
export const stepOffLineKind: Kind<'step-off-line'> = {
  kind: 'step-off-line',
  inputs:
    "one or two planted points of the foot; four or more floor marks on the frame and on the line's frame; two stands that make the line",
  formula:
    "d = |(B−A)×(F−A)|/|B−A| on the floor, through the homography of its marks; u: every point and mark through the map's slopes ⊕ d·u_floor",
  source: 'Hartley and Zisserman 2003 §4.4 and §5.2 (covariance of a map)',
  budget: ['click', 'placing', 'anatomical', 'blur', 'floor marks', 'scale'],
  limits: [...POINT_LIMITS, 'not-planted', 'floor-missing', 'floor-crossed', 'floor-too-flat', 'floor-marks-apart'],
  wording: 'rear toe off the line, on the floor: 0.31 m ± 0.15 m',
  answer(measure, context): Answer {
    const lead = context.lead(measure.clip, measure.subject, measure.frame)
    const short = `${sayPoint(measure.points[0]!, lead)} off the line`
    const words: Words = { short, what: `${short}, on the floor` }
    const clip = clipAt(context, measure)
    const floor = measure.floor ?? (clip.ok ? clip.value.hall?.floor : undefined)
    const unit = floor?.unit ?? ''
    if (!clip.ok) return noAnswer(unit, 'ground', words, clip.error)
    const found = onFloor(context, clip.value, measure)
    if (!found.ok) return noAnswer(unit, 'ground', words, found.error)
    const foot = middlePlace(found.value.points)
    const [a, b] = found.value.line
    const way = minus(b.at, a.at)
    const L = length(way)
    if (!(L > 0)) return noAnswer(unit, 'ground', words, ['points-coincide'])
    const from = minus(foot.at, a.at)
    const signed = cross(way, from) / L
    const along = dot(way, from) / L / L
    const normal = scaled([-way[1], way[0]], (signed < 0 ? -1 : 1) / L)
    const slopes: Point[] = [normal, scaled(normal, along - 1), scaled(normal, -along)]
    const value = Math.abs(signed)
    const effects = merged([
      ...floorEffects([foot, a, b], slopes),
      { key: `floor:${floor?.subject ?? ''}:${unit}`, part: 'scale', shift: [value * (floor?.u ?? 0)] },
    ])
    const u = uncertaintyOf(effects)
    if (COVERAGE * u > LARGEST_SHARE * L) return noAnswer(unit, 'ground', words, ['floor-too-flat', ...found.value.warnings])
    return {
      value,
      effects,
      interval: [Math.max(0, value - COVERAGE * u), value + COVERAGE * u],
      unit,
      plane: 'ground',
      reasons: found.value.warnings,
      bounds: [0, Infinity],
      words,
    }
  },
}
