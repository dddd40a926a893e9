import { sayLine } from '../body/body-line'
import { length, minus, scaled } from '../geometry/vector'
import type { Scale } from '../project/hall'
import type { BodyUnit } from '../project/question'
import { ok, refused, type Result } from '../result'
import type { MeasureContext } from './context'
import { COVERAGE, merged, uncertaintyOf, type Effect } from './effect'
import { endVariance, placedPoints, pointEffects } from './on-frame'
import type { ReasonCode } from './reason'

/// How long a pixel is: in a length of the body, or in metres.

export interface LengthScale {
  /// Units per pixel.
  readonly perPixel: number
  readonly unit: string
  /// What moves the scale, as shares of it.
  readonly effects: readonly Effect[]
  readonly warnings: readonly ReasonCode[]
}

/// A unit shorter than this many of its own σ is no unit: known to no better than 20 %, it stretches
/// a value by up to two thirds (Fieller's interval), and by anything soon after. A head height on a
/// figure of 250 px is about seven.
const LEAST_UNIT_SIGMAS = 5

/// By the measure's own scale or unit, else by the clip's scale. Refused where there is none, its points are not placed, or they lie
/// too near each other.
export function lengthScale(
  context: MeasureContext,
  {
    clip,
    subject,
    unit,
    scale,
  }: { readonly clip: string; readonly subject: string; readonly unit?: BodyUnit | undefined; readonly scale?: Scale | undefined },
): Result<LengthScale, readonly ReasonCode[]> {
  const hall = scale || unit ? undefined : context.clip(clip)?.hall?.scale
  const metric = scale ?? hall
  const asked = metric ?? unit
  if (!asked) return refused(['unit-missing'])
  const found = placedPoints(context, { clip, subject: hall?.subject ?? subject, frame: asked.frame }, asked.points)
  if (!found.ok) return found
  const [c, d] = [found.value.points[0]!, found.value.points[1]!]
  const along = minus(d.at, c.at)
  const px = length(along)
  if (!(px > 0)) return refused(['points-coincide'])
  if (px < LEAST_UNIT_SIGMAS * Math.sqrt(endVariance(c, d))) return refused(['unit-too-short'])
  const share = scaled(along, 1 / (px * px))
  const effects = pointEffects([c, d], [share, scaled(share, -1)])
  if (metric) effects.push({ key: `scale:${clip}:${metric.frame}:${metric.points.join(':')}`, part: 'scale', shift: [metric.u] })
  const name = metric ? 'm' : unit!.name || sayLine(unit!.points[0]!, unit!.points[1]!, found.value.lead)
  return ok({ perPixel: (metric?.metres ?? 1) / px, unit: name, effects: merged(effects), warnings: found.value.warnings })
}

/// The scale's share of a value's errors.
export const scaleEffects = ({ effects }: LengthScale, value: number): Effect[] =>
  effects.map((e) => ({ ...e, shift: e.shift.map((s) => value * s) }))

/// 95 % interval of value = px·s: what moves the pixels, and a scale that stands below the line, so
/// that a unit measured too short stretches the value more than one too long shrinks it (Fieller
/// 1954, to first order in the pixels). `halfPx` in the value's unit. Never below 0; `nothing`: the
/// pixels may well be no length at all.
export function scaledInterval(value: number, halfPx: number, scale: LengthScale, nothing: boolean): readonly [number, number] {
  const q = Math.min(0.9, COVERAGE * uncertaintyOf(scale.effects))
  const low = value - Math.hypot(halfPx, value * (1 - 1 / (1 + q)))
  return [nothing ? 0 : Math.max(0, low), value + Math.hypot(halfPx, value * (1 / (1 - q) - 1))]
}
