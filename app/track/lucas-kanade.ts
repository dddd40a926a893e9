import { patchAt, type Level, type Region } from './grey-picture'

/// Where a small patch of one picture has gone in another: Lucas & Kanade 1981 (Proc. IJCAI 674–679), coarse to fine over
/// halved pictures (Bouguet 2000), in the inverse form of Baker & Matthews 2004 (Int J Comput Vis 56:221–255): slopes are
/// those of the patch, so they are taken once. Means are taken out, so that a lamp's flicker moves nothing.

/// Patch radius of the finest picture and of the halved ones.
export const FINE_RADIUS = 12
const COARSE_RADIUS = 8
export const LEVELS = 3
/// Half the side of the regions that a patch is looked for in.
export const REACH = 72
const MOST_STEPS = 15
const CONVERGED = 0.01
const CONVERGED_COARSE = 0.05

const fine = (2 * FINE_RADIUS + 1) ** 2
const ring = (2 * FINE_RADIUS + 3) ** 2
/// The middle of a patch counts most: at its edge lies what does not move with the point.
export const weightsOf = (radius: number): Float32Array => {
  const size = 2 * radius + 1
  const weights = Float32Array.from({ length: size * size }, (_, k) =>
    Math.exp(-(((k % size) - radius) ** 2 + (Math.floor(k / size) - radius) ** 2) / (2 * (0.5 * radius) ** 2)),
  )
  const sum = weights.reduce((total, w) => total + w, 0)
  return weights.map((w) => w / sum)
}
const FINE_WEIGHTS = weightsOf(FINE_RADIUS)
const COARSE_WEIGHTS = weightsOf(COARSE_RADIUS)
const scratch = {
  wide: new Float32Array(ring),
  patch: new Float32Array(fine),
  gx: new Float32Array(fine),
  gy: new Float32Array(fine),
  now: new Float32Array(fine),
}

export interface Flow {
  /// Pixels of the picture.
  readonly x: number
  readonly y: number
}

/// Finds in `next` the patch that lies at (x, y) in `from`, looking first at (guessX, guessY). Null where the patch has no
/// structure across some direction, or is lost beyond its region.
export function flowOf(from: Region, x: number, y: number, next: Region, guessX: number, guessY: number): Flow | null {
  let [dx, dy] = [guessX - x, guessY - y]
  for (let level = LEVELS - 1; level >= 0; level--) {
    const step = 2 ** level
    const radius = level === 0 ? FINE_RADIUS : COARSE_RADIUS
    const here = from.levels[level]!
    const there = next.levels[level]!
    const px = (x - 0.5 - from.left) / step
    const py = (y - 0.5 - from.top) / step
    const slopes = slopesAt(here, px, py, radius)
    if (!slopes) {
      if (level === 0) return null
      continue
    }
    const { hxx, hxy, hyy, count } = slopes
    const determinant = hxx * hyy - hxy * hxy
    let [qx, qy] = [(x + dx - 0.5 - next.left) / step, (y + dy - 0.5 - next.top) / step]
    const [startX, startY] = [qx, qy]
    for (let turn = 0; turn < MOST_STEPS; turn++) {
      patchAt(there, qx, qy, radius, scratch.now)
      // The slopes are weighed and without mean, so a difference in level falls out of the sums by itself.
      let bx = 0
      let by = 0
      for (let k = 0; k < count; k++) {
        const error = scratch.now[k]! - scratch.patch[k]!
        bx += scratch.gx[k]! * error
        by += scratch.gy[k]! * error
      }
      const ux = (hyy * bx - hxy * by) / determinant
      const uy = (hxx * by - hxy * bx) / determinant
      qx -= ux
      qy -= uy
      if (ux * ux + uy * uy < (level === 0 ? CONVERGED : CONVERGED_COARSE) ** 2) break
    }
    if (!(Math.abs(qx - startX) < 2 * radius && Math.abs(qy - startY) < 2 * radius)) return null
    dx = qx * step + next.left + 0.5 - x
    dy = qy * step + next.top + 0.5 - y
    if (level > 0) continue
    const inside = qx > FINE_RADIUS / 2 && qy > FINE_RADIUS / 2 && qx < there.side - FINE_RADIUS / 2 && qy < there.side - FINE_RADIUS / 2
    if (!inside) return null
    return { x: x + dx, y: y + dy }
  }
  return null
}

/// A patch must have this mean square slope across its weakest direction, (grey levels a pixel)², to be followed.
const LEAST_SLOPE = 0.25

/// Patch and weighed slopes (their weighed means taken out), left in the scratch arrays, with the slopes' products.
function slopesAt(level: Level, x: number, y: number, radius: number) {
  const size = 2 * radius + 1
  const wide = size + 2
  const weights = radius === FINE_RADIUS ? FINE_WEIGHTS : COARSE_WEIGHTS
  patchAt(level, x, y, radius + 1, scratch.wide)
  const { wide: w, patch, gx, gy } = scratch
  let [mx, my] = [0, 0]
  for (let j = 0, k = 0; j < size; j++)
    for (let i = 0, at = (j + 1) * wide + 1; i < size; i++, k++, at++) {
      const gi = (w[at + 1]! - w[at - 1]!) / 2
      const gj = (w[at + wide]! - w[at - wide]!) / 2
      const weight = weights[k]!
      patch[k] = w[at]!
      gx[k] = gi
      gy[k] = gj
      mx += weight * gi
      my += weight * gj
    }
  const count = size * size
  let [hxx, hxy, hyy] = [0, 0, 0]
  for (let k = 0; k < count; k++) {
    const a = gx[k]! - mx
    const b = gy[k]! - my
    const weight = weights[k]!
    hxx += weight * a * a
    hxy += weight * a * b
    hyy += weight * b * b
    gx[k] = weight * a
    gy[k] = weight * b
  }
  const least = (hxx + hyy) / 2 - Math.sqrt(((hxx - hyy) / 2) ** 2 + hxy * hxy)
  return least < LEAST_SLOPE ? null : { hxx, hxy, hyy, count }
}
