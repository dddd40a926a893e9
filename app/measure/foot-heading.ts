import { sideWord } from '../body/landmark-name'
import { angleOfLines } from '../geometry/angle'
import { dot, length, minus, plus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import { noAnswer, type Answer, type Words } from './answer'
import { uncertaintyOf } from './effect'
import { floorEffects, onFloor, type PlaceOnFloor } from './floor-plane'
import { POINT_LIMITS, type Kind } from './kind'
import { clipAt } from './on-frame'

/// Angle of a planted foot, heel to toe, to a floor line; 0–180.
///
/// Not followed over frames, as `stepOffLineKind`: the foot is stated as planted on the measure's own frame alone.
export const footHeadingKind: Kind<'foot-heading'> = {
  kind: 'foot-heading',
  inputs: "heel and toe of a planted foot; four or more floor marks on the frame and on the line's frame; two stands that make the line",
  formula: "φ = atan2(|u×v|, u·v) on the floor, u = toe − heel, v = B − A; u_φ: every point and mark through the map's slopes",
  source: 'geometry through the homography of the floor marks',
  budget: ['click', 'placing', 'anatomical', 'blur', 'floor marks'],
  limits: [
    ...POINT_LIMITS,
    'not-planted',
    'floor-missing',
    'floor-crossed',
    'floor-too-flat',
    'floor-marks-apart',
    'uncertainty-over-20',
    'too-uncertain',
  ],
  wording: 'lead foot to the line, on the floor: 35° ± 14°',
  answer(measure, context): Answer {
    const short = `${sideWord(measure.points[1]!, context.lead(measure.clip, measure.subject, measure.frame))} foot to the line`.trim()
    const words: Words = { short, what: `${short}, on the floor`, range: 'estimate, one camera' }
    const clip = clipAt(context, measure)
    if (!clip.ok) return noAnswer('°', 'ground', words, clip.error)
    const found = onFloor(context, clip.value, measure)
    if (!found.ok) return noAnswer('°', 'ground', words, found.error)
    const places = [...found.value.points, ...found.value.line]
    if (isLost(places[0]!, places[1]!) || isLost(places[2]!, places[3]!))
      return noAnswer('°', 'ground', words, ['floor-too-flat', ...found.value.warnings])
    const angle = angleOfLines(places[0]!.at, places[1]!.at, places[2]!.at, places[3]!.at)
    if (!angle) return noAnswer('°', 'ground', words, ['points-coincide'])
    return {
      value: angle.deg,
      effects: floorEffects(
        places,
        angle.slopes.map((slope, i) => scaled(slope, i < 2 ? underrated(places[0]!, places[1]!) : underrated(places[2]!, places[3]!))),
      ),
      unit: '°',
      plane: 'ground',
      reasons: found.value.warnings,
      bounds: [0, 180],
      words,
    }
  },
}

/// A line on the floor whose own error in its worst direction is more than this share of it has no
/// direction left [J].
const LOST_SHARE = 0.3

interface Spread {
  readonly xx: number
  readonly yy: number
  readonly xy: number
}

/// Covariance of to − from.
function spreadOf(from: PlaceOnFloor, to: PlaceOnFloor): Spread {
  const along = (x: Point): number => uncertaintyOf(floorEffects([from, to], [scaled(x, -1), x])) ** 2
  const [xx, yy, both] = [along([1, 0]), along([0, 1]), along([Math.SQRT1_2, Math.SQRT1_2])]
  return { xx, yy, xy: both - (xx + yy) / 2 }
}

/// σ along the two axes of the error ellipse, and the first axis.
function axesOf({ xx, yy, xy }: Spread): { readonly long: number; readonly short: number; readonly axis: Point } {
  const [mean, half] = [(xx + yy) / 2, Math.hypot((xx - yy) / 2, xy)]
  const turn = Math.atan2(2 * xy, xx - yy) / 2
  return { long: Math.sqrt(mean + half), short: Math.sqrt(Math.max(0, mean - half)), axis: [Math.cos(turn), Math.sin(turn)] }
}

const isLost = (from: PlaceOnFloor, to: PlaceOnFloor): boolean =>
  axesOf(spreadOf(from, to)).long > LOST_SHARE * length(minus(to.at, from.at))

/// By how much the drawn line's own slopes underrate its error. Depth is read far worse than
/// width, and depth noise makes a line look as if it pointed that way, where its heading seems
/// well known: so the error is taken at the worst of the places where the line may as well lie,
/// within the half of its error ellipse that is nearest.
function underrated(from: PlaceOnFloor, to: PlaceOnFloor): number {
  const drawn = minus(to.at, from.at)
  const { long, short, axis } = axesOf(spreadOf(from, to))
  const across: Point = [-axis[1], axis[0]]
  const variance = (v: Point): number => {
    const L = length(v)
    const normal: Point = [-v[1] / L, v[0] / L]
    return ((long * dot(normal, axis)) ** 2 + (short * dot(normal, across)) ** 2) / (L * L)
  }
  let worst = 0
  for (const a of WITHIN)
    for (const b of WITHIN) worst = Math.max(worst, variance(plus(drawn, plus(scaled(axis, a * long), scaled(across, b * short)))))
  return Math.sqrt(Math.max(1, worst / variance(drawn)))
}
/// The ellipse that holds half of all cases reaches √(2 ln 2) = 1.18 σ.
const HALF = Math.sqrt(2 * Math.LN2)
const WITHIN = [-HALF, -HALF / 2, 0, HALF / 2, HALF] as const
