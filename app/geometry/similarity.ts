import type { Point } from '../project/fields'

/// A turn, a scale and a shift of the picture: what a pan, a zoom and a roll of a distant camera
/// do to its background, to first order. X = a·x − b·y + e, Y = b·x + a·y + f.
export interface Similarity {
  readonly a: number
  readonly b: number
  readonly e: number
  readonly f: number
}

export const applySimilarity = ({ a, b, e, f }: Similarity, [x, y]: Point): Point => [a * x - b * y + e, b * x + a * y + f]

/// The least-squares similarity that takes `from` to `to` (Umeyama 1991, in the plane). Null for
/// fewer than two points, or where they all coincide.
export function similarityOf(from: readonly Point[], to: readonly Point[]): Similarity | null {
  const n = from.length
  if (n < 2 || n !== to.length) return null
  const mean = (points: readonly Point[]): Point => [points.reduce((s, p) => s + p[0], 0) / n, points.reduce((s, p) => s + p[1], 0) / n]
  const [m, o] = [mean(from), mean(to)]
  let [along, across, spread] = [0, 0, 0]
  from.forEach(([x, y], i) => {
    const [dx, dy] = [x - m[0], y - m[1]]
    const [X, Y] = [to[i]![0] - o[0], to[i]![1] - o[1]]
    along += dx * X + dy * Y
    across += dx * Y - dy * X
    spread += dx * dx + dy * dy
  })
  if (!(spread > 1e-12)) return null
  const [a, b] = [along / spread, across / spread]
  return { a, b, e: o[0] - a * m[0] + b * m[1], f: o[1] - b * m[0] - a * m[1] }
}
