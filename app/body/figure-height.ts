import type { Point } from '../project/fields'
import { length, minus } from '../geometry/vector'

/// How tall a figure would stand, in pixels, judged from the lengths of its drawn limbs.
///
/// A leg is a known share of standing height, and so is a trunk; a projection only ever shortens
/// them (up to perspective), so each gives a lower estimate L / share and the largest of them is
/// nearest the truth. A crouching or kicking figure is judged by its limbs, not by the box around it.

/// Share of standing height: Winter's proportions (thigh .245, shank .246, upper arm .186,
/// forearm .146) and, for the line from mid-hip to mid-shoulder, .288 (our own).
/// Thigh and shank are taken together where both are placed, for people differ most in how
/// a leg is shared out; shoulder and hip widths are left out, for they are seen end-on too
/// often; arms are asked only where neither legs nor trunk are placed.
const CHAINS: readonly (readonly { readonly points: readonly string[]; readonly share: number }[])[] = [
  [
    { points: ['hip', 'knee', 'ankle'], share: 0.491 },
    { points: ['hip', 'shoulder'], share: 0.288 },
  ],
  [
    { points: ['hip', 'knee'], share: 0.245 },
    { points: ['knee', 'ankle'], share: 0.246 },
  ],
  [{ points: ['shoulder', 'elbow', 'wrist'], share: 0.332 }],
  [
    { points: ['shoulder', 'elbow'], share: 0.186 },
    { points: ['elbow', 'wrist'], share: 0.146 },
  ],
]

/// From this elevation on legs and trunk are seen end-on, and arms and shoulders tell more.
const HIGH_DEG = 40
/// The line between the shoulders, as a share of standing height: .14 between joint centres in
/// captured motion, .20 by another count; between the two.
const FROM_ABOVE: (typeof CHAINS)[number] = [...CHAINS.flat(), { points: ['shoulder'], share: 0.17 }]

/// One pose's estimate in pixels from the points that are placed; null when no segment is whole.
/// `elevation_deg`: the camera's, where it is stated.
export function figureHeightOf(placed: (name: string) => Point | null, elevation_deg: number | null): number | null {
  for (const chains of elevation_deg !== null && Math.abs(elevation_deg) > HIGH_DEG ? [FROM_ABOVE] : CHAINS) {
    let height = 0
    for (const { points, share } of chains)
      for (const side of ['left', 'right', 'mid']) {
        const at =
          points.length === 1 ? [placed(`${points[0]}.left`), placed(`${points[0]}.right`)] : points.map((p) => placed(`${p}.${side}`))
        if (at.every((p): p is Point => p !== null))
          height = Math.max(height, at.slice(1).reduce((sum, p, i) => sum + length(minus(p, at[i]!)), 0) / share)
      }
    if (height > 0) return height
  }
  return null
}
