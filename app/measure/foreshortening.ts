import { toDegrees, toRadians } from '../geometry/angle'

/// Headings of horizontal lines from how short they look: a line of width W at θ from the picture
/// spans w = W·cos θ. One ratio tells θ only up to its sign (which end is nearer); near 0 and 180
/// it hardly tells it at all, so what is kept is the whole distribution over θ.

const STEP = 2
/// The grid of headings, 0–180.
export const HEADINGS: readonly number[] = Array.from({ length: 180 / STEP + 1 }, (_, i) => i * STEP)

/// Probability of each heading in HEADINGS, all equally likely beforehand. `ratio` is the
/// signed span over the width; `u` its 1 σ apart from the width's; `widthU` 1 σ of the width as a
/// share of it.
export function headingsOf(ratio: number, u: number, widthU: number): number[] {
  const weights = HEADINGS.map((deg, i) => {
    const c = Math.cos(toRadians(deg))
    const sigma = Math.hypot(u, c * widthU)
    // The two ends of the grid stand for half a step each.
    const share = i === 0 || i === HEADINGS.length - 1 ? 0.5 : 1
    return (share * Math.exp(-((ratio - c) ** 2) / (2 * sigma * sigma))) / sigma
  })
  const sum = weights.reduce((s, w) => s + w, 0)
  // So far beyond its width that no heading explains it: as square as can be.
  if (!(sum > 1e-300)) return HEADINGS.map((deg) => (ratio > 0 ? (deg === 0 ? 1 : 0) : deg === 180 ? 1 : 0))
  return weights.map((w) => w / sum)
}

export interface Spread {
  readonly mean: number
  readonly u: number
  readonly low: number
  readonly high: number
}

/// The difference of two headings, each with the sign of its near side: mean, 1 σ and the central
/// 95 %, within ± 180 of the mean.
export function differenceOfHeadings(a: readonly number[], signA: 1 | -1, b: readonly number[], signB: 1 | -1): Spread {
  const bins = new Map<number, number>()
  let [c, s] = [0, 0]
  a.forEach((p, i) => {
    if (p < 1e-9) return
    b.forEach((q, j) => {
      if (q < 1e-9) return
      const deg = signA * HEADINGS[i]! - signB * HEADINGS[j]!
      bins.set(deg, (bins.get(deg) ?? 0) + p * q)
    })
  })
  for (const [deg, p] of bins) {
    c += p * Math.cos(toRadians(deg))
    s += p * Math.sin(toRadians(deg))
  }
  const centre = toDegrees(Math.atan2(s, c))
  const around = [...bins].map(([deg, p]) => ({ deg: deg - 360 * Math.round((deg - centre) / 360), p })).sort((x, y) => x.deg - y.deg)
  const mean = around.reduce((t, x) => t + x.p * x.deg, 0)
  const u = Math.sqrt(around.reduce((t, x) => t + x.p * (x.deg - mean) ** 2, 0))
  const quantile = (share: number): number => {
    let sum = 0
    for (const x of around) {
      if (sum + x.p >= share) return x.deg - STEP / 2 + (STEP * (share - sum)) / x.p
      sum += x.p
    }
    return around[around.length - 1]!.deg
  }
  return { mean, u, low: quantile(0.025), high: quantile(0.975) }
}
