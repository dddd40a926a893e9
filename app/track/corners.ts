import type { Point } from '../project/fields'
import type { GreyPicture } from './grey-picture'

/// Places of a picture that can be followed in both directions: where the weaker of a patch's two slopes is largest (Shi &
/// Tomasi 1994, Proc. CVPR 593–600). A rope or the edge of a wall has only one.

/// [x, y, width, height] in pixels of the picture.
export type Area = readonly [number, number, number, number]

/// Cells across and down; each gives its best place, so that places lie all over the picture.
const ACROSS = 8
const DOWN = 6
const RADIUS = 5
const STRIDE = 4
/// From the picture's edge, px: nearer, the patch is not whole.
const EDGE = 14
/// Mean square slope of the weaker direction, (grey levels a pixel)²: four times what a step needs at least.
const LEAST = 1
/// Of the best place's: what is far weaker is noise beside it (Shi and Tomasi's own rule; the share is common practice).
const SHARE = 0.01

/// Whether a place lies so near the picture's edge that what is followed there is not whole.
export const atEdge = ([x, y]: Point, { width, height }: GreyPicture): boolean =>
  x < EDGE || y < EDGE || x > width - EDGE || y > height - EDGE

/// The best place of every cell in which none of `taken` lies, outside of `avoid`, strongest first.
export function cornersOf(picture: GreyPicture, avoid: readonly Area[], taken: readonly Point[]): Point[] {
  const { width, height } = picture
  const [cell, row] = [width / ACROSS, height / DOWN]
  const cellOf = (x: number, y: number): number =>
    Math.min(DOWN - 1, Math.floor(y / row)) * ACROSS + Math.min(ACROSS - 1, Math.floor(x / cell))
  const full = new Set(taken.map(([x, y]) => cellOf(x, y)))
  const best = new Map<number, { readonly at: Point; readonly strength: number }>()
  for (let y = EDGE; y < height - EDGE; y += STRIDE)
    for (let x = EDGE; x < width - EDGE; x += STRIDE) {
      const key = cellOf(x, y)
      if (full.has(key) || avoid.some(([left, top, wide, high]) => x >= left && x <= left + wide && y >= top && y <= top + high)) continue
      const strength = weakerSlope(picture, x, y)
      if (strength >= LEAST && strength > (best.get(key)?.strength ?? 0)) best.set(key, { at: [x + 0.5, y + 0.5], strength })
    }
  const found = [...best.values()].sort((a, b) => b.strength - a.strength)
  const least = SHARE * (found[0]?.strength ?? 0)
  return found.filter(({ strength }) => strength >= least).map(({ at }) => at)
}

function weakerSlope({ width, data }: GreyPicture, x: number, y: number): number {
  let [xx, xy, yy] = [0, 0, 0]
  for (let j = y - RADIUS; j <= y + RADIUS; j++) {
    const from = j * width
    for (let i = x - RADIUS; i <= x + RADIUS; i++) {
      const at = from + i
      const [gx, gy] = [(data[at + 1]! - data[at - 1]!) / 2, (data[at + width]! - data[at - width]!) / 2]
      xx += gx * gx
      xy += gx * gy
      yy += gy * gy
    }
  }
  const count = (2 * RADIUS + 1) ** 2
  return ((xx + yy) / 2 - Math.hypot((xx - yy) / 2, xy)) / count
}
