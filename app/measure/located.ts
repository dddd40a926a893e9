import { placeOf, sideOf, storedName, withSide } from '../body/landmark-name'
import { middle } from '../geometry/vector'
import { ok, refused, type Result } from '../result'
import type { Point } from '../project/fields'
import type { Clip, Sample } from '../project/film'
import type { MeasureContext } from './context'
import type { PointError } from './effect'
import type { ReasonCode } from './reason'

/// A body point on a frame, with its errors.

/// Click error of one placing, px, 1 σ per axis [J].
export const CLICK_PX = 2
/// Where a point lies under kit and skin, as a share of the figure's height: about 2 cm [J].
export const ANATOMICAL_SHARE = 0.01
/// Figure height taken where none can be judged, px: a default [J].
export const ASSUMED_HEIGHT_PX = 400
/// Length of a blur that nobody has stated, as a share of the figure's height: with it σ is 8 px on a figure of 400 px, which
/// is what a blurred point is reckoned at there (DOMAIN §2.2's table); on a fighter that is about 10 cm [J].
export const UNSTATED_BLUR_SHARE = Math.sqrt(12 * (8 ** 2 - CLICK_PX ** 2 - (ANATOMICAL_SHARE * 400) ** 2)) / 400
/// A hidden point's errors are doubled; beyond that it is not measured [J].
const OCCLUDED_FACTOR = 2
/// How many placings' worth of trust the stated or default click error has against the spread of
/// repeats: the spread of three clicks alone (t with 2 degrees of freedom) would cover 81 %.
export const PRIOR_FREEDOM = 8
/// Share of the picture at each side where a lens bends lines [J].
const LENS_EDGE = 0.1

export interface Located {
  readonly at: Point
  readonly errors: readonly PointError[]
  readonly warnings: readonly ReasonCode[]
  /// Blur along the limb's normal, px.
  readonly blur: number
}

/// Finds a named point on a frame. "hip.mid" is the middle of left and right where it has no
/// placing of its own; ".lead" and ".rear" follow the view card. A point that was not placed on
/// this very frame is refused: positions between frames are never made up.
export function locate(context: MeasureContext, clip: Clip, subject: string, name: string, frame: number): Result<Located, ReasonCode> {
  const stored = storedName(name, context.lead(clip.id, subject, frame))
  if (stored === null) return refused('lead-side-unknown')
  const all = context.samples(clip.id, subject, stored, frame)
  // What a machine suggests, or was copied from another frame, counts for nothing until a person has accepted it.
  const samples = all.some((s) => s.origin === 'suggested') ? all.filter((s) => s.origin !== 'suggested') : all
  if (samples.length === 0 && all.length > 0) return refused('suggested-point')
  if (samples.length > 0) return placed(context, clip, subject, stored, frame, samples)
  if (sideOf(stored) !== 'mid' || context.isPlaced(clip.id, subject, stored))
    return refused(context.isPlaced(clip.id, subject, stored) ? 'no-sample-on-frame' : 'landmark-missing')
  const left = locate(context, clip, subject, withSide(placeOf(stored), 'left'), frame)
  if (!left.ok) return left
  const right = locate(context, clip, subject, withSide(placeOf(stored), 'right'), frame)
  if (!right.ok) return right
  return ok({
    at: middle(left.value.at, right.value.at),
    errors: [...left.value.errors, ...right.value.errors].map((e) => ({ ...e, sigma: e.sigma / 2 })),
    warnings: [...left.value.warnings, ...right.value.warnings],
    blur: Math.max(left.value.blur, right.value.blur),
  })
}

function placed(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  point: string,
  frame: number,
  samples: readonly Sample[],
): Result<Located, ReasonCode> {
  const n = samples.length
  const at: Point = [samples.reduce((sum, s) => sum + s.at[0], 0) / n, samples.reduce((sum, s) => sum + s.at[1], 0) / n]
  const picture = context.table(clip)?.picture
  if (at[0] < 0 || at[1] < 0 || (picture && (at[0] > picture.width || at[1] > picture.height))) return refused('off-frame')

  const warnings: ReasonCode[] = []
  const hidden = samples.some((s) => s.seen === 'occluded')
  if (hidden) warnings.push('occluded')
  if (n === 1 && samples[0]!.sigma === undefined && samples[0]!.origin !== 'tracked') warnings.push('single-click')
  if (picture && (at[0] < LENS_EDGE * picture.width || at[0] > (1 - LENS_EDGE) * picture.width)) warnings.push('lens-edge')

  const widen = hidden ? OCCLUDED_FACTOR : 1
  const stated = samples.filter((s) => s.sigma !== undefined)
  const place = `${clip.id}:${subject}:${point}`
  const height = context.figureHeight(clip.id, subject)
  const blur = blurOf(samples, height)
  if (stated.length > 0) {
    const prior = Math.sqrt(stated.reduce((sum, s) => sum + s.sigma! ** 2, 0) / stated.length)
    return ok({
      at,
      warnings,
      blur,
      errors: [{ key: `placing:${place}:${frame}`, part: 'placing', sigma: widen * pooled(prior, samples, at) }],
    })
  }
  if (height === null) warnings.push('figure-height-unknown')
  const errors: PointError[] = [
    { key: `click:${place}:${frame}`, part: 'click', sigma: widen * pooled(CLICK_PX, samples, at) },
    { key: `anatomical:${place}`, part: 'anatomical', sigma: widen * ANATOMICAL_SHARE * (height ?? ASSUMED_HEIGHT_PX) },
  ]
  if (blur > 0) errors.push({ key: `blur:${place}:${frame}`, part: 'blur', sigma: (widen * blur) / Math.sqrt(12) })
  return ok({ at, warnings, blur, errors })
}

/// How long a point's blur is along the limb's normal, px: the longest that its placings state; where they are called blurred
/// and state none, a default. A placing that states its σ has everything in it, blur included. 0: not blurred.
export function blurOf(samples: readonly Pick<Sample, 'seen' | 'blur' | 'sigma'>[], figureHeight: number | null): number {
  const stated = samples.flatMap(({ blur }) => (blur === undefined ? [] : [blur]))
  if (stated.length > 0) return Math.max(...stated)
  return samples.some(({ seen, sigma }) => seen === 'blurred' && sigma === undefined)
    ? UNSTATED_BLUR_SHARE * (figureHeight ?? ASSUMED_HEIGHT_PX)
    : 0
}

/// 1 σ per axis of one placing that nobody has stated a σ for, px: click, what lies under kit, and blur; doubled where hidden.
export const placingSigma = (sample: Pick<Sample, 'seen' | 'blur'>, figureHeight: number | null): number =>
  (sample.seen === 'occluded' ? OCCLUDED_FACTOR : 1) *
  Math.hypot(CLICK_PX, ANATOMICAL_SHARE * (figureHeight ?? ASSUMED_HEIGHT_PX), blurOf([sample], figureHeight) / Math.sqrt(12))

/// σ of the mean of n placings: the spread seen among them pooled with the σ that one placing is
/// known to have, over √n.
function pooled(prior: number, samples: readonly Sample[], mean: Point): number {
  const n = samples.length
  if (n === 1) return prior
  const squares = samples.reduce((sum, s) => sum + (s.at[0] - mean[0]) ** 2 + (s.at[1] - mean[1]) ** 2, 0)
  return Math.sqrt((PRIOR_FREEDOM * prior ** 2 + squares) / (PRIOR_FREEDOM + 2 * (n - 1)) / n)
}
