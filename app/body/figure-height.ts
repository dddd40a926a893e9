import type { Point } from '../project/fields'
import { length, minus } from '../geometry/vector'

/// How tall a figure would stand, in pixels, judged from the lengths of its drawn limbs.
///
/// Every segment is a known share of standing height, and a projection only ever shortens it
/// (up to perspective), so each segment gives a lower estimate L / share and the largest of them is nearest
/// the truth. A crouching or kicking figure is judged by its limbs, not by the box around it.

/// Share of standing height: Winter's proportions (thigh .245, shank .246, upper arm .186,
/// forearm .146) and, for the line from mid-hip to mid-shoulder, .288, as DOMAIN §2.2's table has
/// them. Shoulder and hip widths are left out, for they are seen end-on too often; arms are asked
/// only where neither legs nor trunk are placed, for the shortest lines carry the most click noise.
export const SEGMENT_SHARES = {
  long: [
    { from: 'hip', to: 'knee', share: 0.245 },
    { from: 'knee', to: 'ankle', share: 0.246 },
    { from: 'hip', to: 'shoulder', share: 0.288 },
  ],
  short: [
    { from: 'shoulder', to: 'elbow', share: 0.186 },
    { from: 'elbow', to: 'wrist', share: 0.146 },
  ],
} as const

/// One pose's estimate in pixels from the points that are placed; null when no segment is whole.
export function figureHeightOf(placed: (name: string) => Point | null): number | null {
  return tallest(SEGMENT_SHARES.long, placed) ?? tallest(SEGMENT_SHARES.short, placed)
}

function tallest(segments: readonly { readonly from: string; readonly to: string; readonly share: number }[], placed: (name: string) => Point | null): number | null {
  let height: number | null = null
  for (const { from, to, share } of segments)
    for (const side of ['left', 'right', 'mid']) {
      const a = placed(`${from}.${side}`)
      const b = placed(`${to}.${side}`)
      if (a && b) height = Math.max(height ?? 0, length(minus(a, b)) / share)
    }
  return height !== null && height > 0 ? height : null
}
