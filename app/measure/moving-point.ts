import { smootherOf, type Smoother } from '../motion/smoother'
import type { Point } from '../project/fields'
import type { Clip } from '../project/film'
import type { Camera } from '../project/question'
import { ok, refused, type Result } from '../result'
import { steadiedPoint } from './displacement'
import { cameraMotion } from './camera-motion'
import type { MeasureContext } from './context'
import { effectsOf, merged, type Effect } from './effect'
import { locate } from './located'
import type { ReasonCode } from './reason'
import { cutoffFor, reachOf, runAround, type RunOfFrames } from './run-of-frames'
import type { PlaceOnPicture } from './way-across'

/// A point followed over a run of frames, steadied to the run's reference frame.

export interface MovingPoint {
  readonly run: RunOfFrames
  readonly places: readonly PlaceOnPicture[]
  readonly cutoff_hz: number
  readonly smoothers: readonly [Smoother, Smoother, Smoother]
  readonly warnings: readonly ReasonCode[]
}

export interface Followed {
  readonly clip: string
  readonly subject: string
  readonly point: string
  readonly camera: Camera | undefined
  readonly cutoff: number | undefined
}

export function movingPoint(
  context: MeasureContext,
  clip: Clip,
  followed: Followed,
  fromFrame: number,
  toFrame: number,
): Result<MovingPoint, readonly ReasonCode[]> {
  const reasons: ReasonCode[] = []
  const isPlaced = (frame: number): boolean => {
    const point = locate(context, clip, followed.subject, followed.point, frame)
    if (!point.ok && frame >= fromFrame && frame <= toFrame) reasons.push(point.error)
    return point.ok
  }
  const near = runAround(context, clip, fromFrame, toFrame, 2, isPlaced)
  if (!near.ok) return refused([...reasons, ...near.error])
  const reach = reachOf(near.value.rate_hz, cutoffFor(near.value, followed.cutoff))
  const run = runAround(context, clip, fromFrame, toFrame, Number.isFinite(reach) ? reach : 2, isPlaced)
  if (!run.ok) return refused(run.error)
  const cutoff_hz = cutoffFor(run.value, followed.cutoff)
  const [at, below, above] = [cutoff_hz, 0.7 * cutoff_hz, Math.min(1.3 * cutoff_hz, 0.45 * run.value.rate_hz)].map((c) =>
    smootherOf(run.value.times, run.value.even, c),
  )
  if (!at || !below || !above) return refused(['too-few-samples'])
  const places: PlaceOnPicture[] = []
  const warnings = new Set<ReasonCode>(run.value.factor.warnings)
  for (const frame of run.value.frames) {
    const point = locate(context, clip, followed.subject, followed.point, frame)
    const motion = cameraMotion(context, clip, followed.subject, followed.camera, frame, fromFrame)
    if (!point.ok) return refused([point.error])
    if (!motion.ok) return refused(motion.error)
    for (const code of [...point.value.warnings, ...motion.value.warnings]) warnings.add(code)
    places.push(steadiedPoint(point.value, motion.value.steady(point.value.at)))
  }
  return ok({ run: run.value, places, cutoff_hz, smoothers: [at, below, above], warnings: [...warnings] })
}

export const weighedPlace = (weights: readonly number[], places: readonly PlaceOnPicture[]): Point => [
  weights.reduce((s, w, i) => s + w * places[i]!.at[0], 0),
  weights.reduce((s, w, i) => s + w * places[i]!.at[1], 0),
]

/// What every placing does to Σ slopes_i · place_i.
export function placeEffects(places: readonly PlaceOnPicture[], slopes: readonly Point[]): readonly Effect[] {
  return merged(
    places.flatMap((place, i) => {
      const [gx, gy] = slopes[i]!
      return gx === 0 && gy === 0
        ? []
        : place.errors.flatMap(({ error, slope }) =>
            effectsOf([error], [gx * slope[0][0] + gy * slope[1][0], gx * slope[0][1] + gy * slope[1][1]]),
          )
    }),
  )
}
