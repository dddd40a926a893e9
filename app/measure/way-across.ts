import { length, minus, scaled } from '../geometry/vector'
import type { Point } from '../project/fields'
import type { Answer } from './answer'
import { COVERAGE, effectsOf, merged, uncertaintyOf, type Effect, type PointError } from './effect'
import { scaledInterval, scaleEffects, type LengthScale } from './length-scale'

/// How far something moved across the picture, with its interval.

/// A place that is a weighted sum of placed points: how a pixel of each error moves it.
export interface PlaceOnPicture {
  readonly at: Point
  readonly errors: readonly {
    readonly error: PointError /// Along x and y of the picture kept.
    readonly slope: readonly [Point, Point]
  }[]
}

/// Where a two-axis normal error of 1 σ stays within 95 % of the time, in σ: √(−2 ln 0.05).
const NOTHING_MOVED = Math.sqrt(-2 * Math.log(0.05))

export interface WayAcross extends Pick<Answer, 'value' | 'effects' | 'interval' | 'bounds'> {
  readonly value: number
  readonly interval: readonly [number, number]
}

/// Length of b − a. A length is never negative and noise only makes it longer: below 2.45 u the
/// interval goes down to 0. `model`: further sources, in the unit.
export function wayAcross(a: PlaceOnPicture, b: PlaceOnPicture, scale: LengthScale, model: readonly Effect[] = []): WayAcross {
  const way = minus(b.at, a.at)
  const px = length(way)
  const direction: Point = px > 0 ? scaled(way, 1 / px) : [1, 0]
  const effects: Effect[] = [...model]
  for (const [place, sign] of [
    [a, -scale.perPixel],
    [b, scale.perPixel],
  ] as const)
    for (const { error, slope } of place.errors) {
      const along: Point = [
        direction[0] * slope[0][0] + direction[1] * slope[1][0],
        direction[0] * slope[0][1] + direction[1] * slope[1][1],
      ]
      effects.push(...effectsOf([error], scaled(along, sign)))
    }
  const value = px * scale.perPixel
  const ofPlaces = uncertaintyOf(merged(effects))
  const whole = merged([...effects, ...scaleEffects(scale, value)])
  return {
    value,
    effects: whole,
    interval: scaledInterval(value, COVERAGE * ofPlaces, scale, value <= NOTHING_MOVED * ofPlaces),
    bounds: [0, Infinity],
  }
}
