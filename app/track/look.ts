import { patchAt, type Level, type Region } from './grey-picture'
import { FINE_RADIUS, weightsOf } from './lucas-kanade'

/// How a point looked on one frame, and where and how turned, stretched and slanted that look is found on another: the
/// affine inverse-compositional fit of Baker & Matthews 2004 (Int J Comput Vis 56:221–255). Frame-to-frame steps add up
/// their errors; held against the first look they do not (Matthews, Ishikawa & Baker 2004, IEEE PAMI 26:810–815).

/// [a, b, c, d]: patch offset (u, v) lies at (a·u + b·v, c·u + d·v) from the point.
export type Turned = readonly [number, number, number, number]
export const UNTURNED: Turned = [1, 0, 0, 1]

/// By what share a turned patch is longer or shorter across its most changed direction (its singular values' distance from
/// 1); a mere turn in the picture's plane is none.
export function stretchOf([a, b, c, d]: Turned): number {
  const [q, r] = [Math.hypot(a + d, c - b) / 2, Math.hypot(a - d, c + b) / 2]
  return Math.max(q + r - 1, 1 - Math.abs(q - r))
}

export interface Look {
  /// Grey levels, mean taken out.
  readonly patch: Float32Array
  readonly deviation: number
  /// Six slope pictures: along x, along y, and of a, b, c, d.
  readonly slopes: readonly Float32Array[]
  /// Inverse of the slopes' products with a mild pull towards no further turn.
  readonly inverse: Float64Array
}

export interface Seen {
  readonly x: number
  readonly y: number
  readonly turned: Turned
  readonly likeness: number
}

const SIZE = 2 * FINE_RADIUS + 1
const COUNT = SIZE * SIZE
const MOST_STEPS = 20
const CONVERGED = 0.01
/// A mild pull against any further turn in one step, (grey levels)²: it keeps a flat look from wandering.
const PULL_BACK = 2
const WEIGHTS = weightsOf(FINE_RADIUS)
const now = new Float32Array(COUNT)

/// The look of the patch about (x, y); null where it has no contrast.
export function lookAt(region: Region, x: number, y: number): Look | null {
  const wide = new Float32Array((SIZE + 2) ** 2)
  patchAt(region.levels[0]!, x - 0.5 - region.left, y - 0.5 - region.top, FINE_RADIUS + 1, wide)
  const patch = new Float32Array(COUNT)
  const slopes = Array.from({ length: 6 }, () => new Float32Array(COUNT))
  const width = SIZE + 2
  for (let j = 0, k = 0; j < SIZE; j++)
    for (let i = 0; i < SIZE; i++, k++) {
      const at = (j + 1) * width + i + 1
      const [gx, gy] = [(wide[at + 1]! - wide[at - 1]!) / 2, (wide[at + width]! - wide[at - width]!) / 2]
      const [u, v] = [i - FINE_RADIUS, j - FINE_RADIUS]
      patch[k] = wide[at]!
      ;[gx, gy, gx * u, gx * v, gy * u, gy * v].forEach((value, n) => (slopes[n]![k] = value))
    }
  const deviation = centre(patch)
  if (deviation < 1.5) return null
  for (const slope of slopes) centre(slope)
  const products = new Float64Array(36)
  for (let m = 0; m < 6; m++)
    for (let n = m; n < 6; n++) {
      let sum = 0
      for (let k = 0; k < COUNT; k++) sum += WEIGHTS[k]! * slopes[m]![k]! * slopes[n]![k]!
      products[m * 6 + n] = products[n * 6 + m] = sum + (m === n && m >= 2 ? PULL_BACK : 0)
    }
  for (const slope of slopes) for (let k = 0; k < COUNT; k++) slope[k] = slope[k]! * WEIGHTS[k]!
  const inverse = inverted(products)
  return inverse && { patch, deviation, slopes, inverse }
}

/// Fits a look near (x, y) of another frame, from the turn that it had there last. Null where the fit runs away.
export function findLook(look: Look, region: Region, x: number, y: number, turned: Turned): Seen | null {
  const level = region.levels[0]!
  let [qx, qy] = [x - 0.5 - region.left, y - 0.5 - region.top]
  let [a, b, c, d] = turned
  const [startX, startY] = [qx, qy]
  const sums = new Float64Array(6)
  const by = new Float64Array(6)
  let likeness = 0
  for (let turn = 0; turn <= MOST_STEPS; turn++) {
    likeness = turnedPatch(level, qx, qy, a, b, c, d, look)
    if (turn === MOST_STEPS) break
    sums.fill(0)
    for (let n = 0; n < 6; n++) {
      const slope = look.slopes[n]!
      let sum = 0
      for (let k = 0; k < COUNT; k++) sum += slope[k]! * (now[k]! - look.patch[k]!)
      sums[n] = sum
    }
    for (let m = 0; m < 6; m++) {
      let sum = 0
      for (let n = 0; n < 6; n++) sum += look.inverse[m * 6 + n]! * sums[n]!
      by[m] = sum
    }
    const [p, q, r, s] = [1 + by[2]!, by[3]!, by[4]!, 1 + by[5]!]
    const determinant = p * s - q * r
    if (!(determinant > 0.2)) return null
    const [ip, iq, ir, is] = [s / determinant, -q / determinant, -r / determinant, p / determinant]
    ;[a, b, c, d] = [a * ip + b * ir, a * iq + b * is, c * ip + d * ir, c * iq + d * is]
    qx -= a * by[0]! + b * by[1]!
    qy -= c * by[0]! + d * by[1]!
    if (!(Math.hypot(qx - startX, qy - startY) < FINE_RADIUS)) return null
    if (
      by[0]! * by[0]! + by[1]! * by[1]! < CONVERGED ** 2 &&
      Math.abs(by[2]!) + Math.abs(by[3]!) + Math.abs(by[4]!) + Math.abs(by[5]!) < 0.004
    ) {
      likeness = turnedPatch(level, qx, qy, a, b, c, d, look)
      break
    }
  }
  return { x: qx + region.left + 0.5, y: qy + region.top + 0.5, turned: [a, b, c, d], likeness }
}

/// Grey levels under the turned patch into `now`, brought to the look's mean and contrast; answers how alike both are.
function turnedPatch({ side, data }: Level, qx: number, qy: number, a: number, b: number, c: number, d: number, look: Look): number {
  const top = side - 1.001
  for (let j = 0, k = 0; j < SIZE; j++)
    for (let i = 0; i < SIZE; i++, k++) {
      const [u, v] = [i - FINE_RADIUS, j - FINE_RADIUS]
      const x = Math.min(top, Math.max(0, qx + a * u + b * v))
      const y = Math.min(top, Math.max(0, qy + c * u + d * v))
      const x0 = x | 0
      const y0 = y | 0
      const fx = x - x0
      const fy = y - y0
      const at = y0 * side + x0
      const above = data[at]! + fx * (data[at + 1]! - data[at]!)
      const below = data[at + side]! + fx * (data[at + side + 1]! - data[at + side]!)
      now[k] = above + fy * (below - above)
    }
  const deviation = centre(now)
  if (deviation < 1e-6) return 0
  const gain = look.deviation / deviation
  let both = 0
  for (let k = 0; k < COUNT; k++) {
    now[k] = now[k]! * gain
    both += WEIGHTS[k]! * now[k]! * look.patch[k]!
  }
  return both / look.deviation ** 2
}

/// Takes the weighed mean out and answers the weighed standard deviation.
function centre(values: Float32Array): number {
  let mean = 0
  for (let k = 0; k < COUNT; k++) mean += WEIGHTS[k]! * values[k]!
  let squares = 0
  for (let k = 0; k < COUNT; k++) {
    const value = values[k]! - mean
    values[k] = value
    squares += WEIGHTS[k]! * value * value
  }
  return Math.sqrt(squares)
}

/// Inverse of a symmetric positive 6 × 6 by Gauss–Jordan; null where it has none.
function inverted(matrix: Float64Array): Float64Array | null {
  const n = 6
  const m = Float64Array.from(matrix)
  const out = new Float64Array(36)
  for (let i = 0; i < n; i++) out[i * n + i] = 1
  for (let i = 0; i < n; i++) {
    const pivot = m[i * n + i]!
    if (!(Math.abs(pivot) > 1e-9)) return null
    for (let k = 0; k < n; k++) {
      m[i * n + k] = m[i * n + k]! / pivot
      out[i * n + k] = out[i * n + k]! / pivot
    }
    for (let j = 0; j < n; j++) {
      if (j === i) continue
      const factor = m[j * n + i]!
      for (let k = 0; k < n; k++) {
        m[j * n + k] = m[j * n + k]! - factor * m[i * n + k]!
        out[j * n + k] = out[j * n + k]! - factor * out[i * n + k]!
      }
    }
  }
  return out
}
