import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix'
import type { Point } from '../project/fields'

/// A plane seen in another plane: picture to floor, or one frame's background to another's.
/// Row by row, the last entry 1 where it can be: X = (h0 x + h1 y + h2)/(h6 x + h7 y + h8).
export type Homography = readonly [number, number, number, number, number, number, number, number, number]

export function applyHomography(h: Homography, [x, y]: Point): Point {
  const w = h[6] * x + h[7] * y + h[8]
  return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w]
}

/// d(image of p)/dp: [[dX/dx, dX/dy], [dY/dx, dY/dy]].
export function homographySlope(h: Homography, [x, y]: Point): readonly [Point, Point] {
  const w = h[6] * x + h[7] * y + h[8]
  const [X, Y] = applyHomography(h, [x, y])
  return [
    [(h[0] - h[6] * X) / w, (h[1] - h[7] * X) / w],
    [(h[3] - h[6] * Y) / w, (h[4] - h[7] * Y) / w],
  ]
}

/// The map that takes `from` to `to`: normalised direct linear transformation (Hartley and
/// Zisserman 2003 §4.4), with more than four pairs refined to the least squared distance in `to`
/// (Gauss and Newton, Levenberg's damping). Null for fewer than four pairs or where three of
/// them lie on a line so that no map follows. `weights`, where given, count a pair's distance so much: 1/σ of its point in `to`.
export function homographyOf(from: readonly Point[], to: readonly Point[], weights?: readonly number[]): Homography | null {
  if (from.length < 4 || from.length !== to.length) return null
  const a = normalised(from)
  const b = normalised(to)
  if (!a || !b) return null
  const rows: number[][] = []
  a.points.forEach(([x, y], i) => {
    const [X, Y] = b.points[i]!
    const row = (values: number[]): number[] => (weights ? values.map((v) => v * weights[i]!) : values)
    rows.push(row([-x, -y, -1, 0, 0, 0, X * x, X * y, X]), row([0, 0, 0, -x, -y, -1, Y * x, Y * y, Y]))
  })
  // Nine rows at least, so that the decomposition has a full right basis.
  while (rows.length < 9) rows.push(new Array<number>(9).fill(0))
  const decomposition = new SingularValueDecomposition(new Matrix(rows), { autoTranspose: true })
  const singular = decomposition.diagonal
  const order = [...singular.keys()].sort((i, j) => singular[j]! - singular[i]!)
  if (!(singular[order[7]!]! > 1e-9 * singular[order[0]!]!)) return null
  const v = decomposition.rightSingularVectors.getColumn(order[8]!)
  const linear = new Matrix([v.slice(0, 3), v.slice(3, 6), v.slice(6, 9)])
  const whole = b.back.mmul(linear).mmul(a.forth).to1DArray()
  const last = whole[8]!
  const found = (Math.abs(last) > 1e-12 ? whole.map((w) => w / last) : whole) as unknown as Homography
  if (!found.every(Number.isFinite)) return null
  return from.length > 4 && Math.abs(last) > 1e-12 ? refined(found, from, to, weights) : found
}

/// Moved and scaled so that the centre is 0 and the mean distance √2.
function normalised(points: readonly Point[]): { points: Point[]; forth: Matrix; back: Matrix } | null {
  const n = points.length
  const cx = points.reduce((s, p) => s + p[0], 0) / n
  const cy = points.reduce((s, p) => s + p[1], 0) / n
  const spread = points.reduce((s, p) => s + Math.hypot(p[0] - cx, p[1] - cy), 0) / n
  if (!(spread > 0)) return null
  const k = Math.SQRT2 / spread
  return {
    points: points.map(([x, y]): Point => [k * (x - cx), k * (y - cy)]),
    forth: new Matrix([
      [k, 0, -k * cx],
      [0, k, -k * cy],
      [0, 0, 1],
    ]),
    back: new Matrix([
      [1 / k, 0, cx],
      [0, 1 / k, cy],
      [0, 0, 1],
    ]),
  }
}

/// How the eight numbers of a homography move the image of a point: two rows of eight.
export function parameterSlopes(h: Homography, [x, y]: Point): readonly [number[], number[]] {
  const w = h[6] * x + h[7] * y + h[8]
  const [X, Y] = applyHomography(h, [x, y])
  return [
    [x / w, y / w, 1 / w, 0, 0, 0, (-X * x) / w, (-X * y) / w],
    [0, 0, 0, x / w, y / w, 1 / w, (-Y * x) / w, (-Y * y) / w],
  ]
}

function refined(
  start: Homography,
  from: readonly Point[],
  to: readonly Point[],
  weights: readonly number[] = from.map(() => 1),
): Homography {
  const cost = (h: Homography): number =>
    from.reduce((s, p, i) => {
      const [X, Y] = applyHomography(h, p)
      return s + weights[i]! ** 2 * ((X - to[i]![0]) ** 2 + (Y - to[i]![1]) ** 2)
    }, 0)
  let best = start
  let damping = 1e-3
  for (let round = 0; round < 50; round++) {
    const rows: number[][] = []
    const residuals: number[][] = []
    from.forEach((p, i) => {
      const [X, Y] = applyHomography(best, p)
      const weight = weights[i]!
      rows.push(...parameterSlopes(best, p).map((row) => row.map((v) => weight * v)))
      residuals.push([weight * (to[i]![0] - X)], [weight * (to[i]![1] - Y)])
    })
    const jacobian = new Matrix(rows)
    const normal = jacobian.transpose().mmul(jacobian)
    const right = jacobian.transpose().mmul(new Matrix(residuals))
    const scales = normal.diagonal()
    const damped = normal.clone()
    scales.forEach((s, i) => damped.set(i, i, s * (1 + damping)))
    const step = solve(damped, right).to1DArray()
    const next = [...best.slice(0, 8).map((v, i) => v + step[i]!), 1] as unknown as Homography
    const gained = cost(best) - cost(next)
    if (gained >= 0) {
      best = next
      damping /= 10
      if (gained <= 1e-15 * cost(best)) break
    } else {
      damping *= 10
      if (damping > 1e6) break
    }
  }
  return best
}

/// The inverse map. Null where there is none.
export function inverted(h: Homography): Homography | null {
  const [a, b, c, d, e, f, g, i, j] = h
  const out = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ]
  const det = a * out[0]! + b * out[3]! + c * out[6]!
  if (!(Math.abs(det) > 0)) return null
  const last = out[8]! !== 0 ? out[8]! : 1
  return out.map((v) => v / last) as unknown as Homography
}
