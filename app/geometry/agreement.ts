import type { Point } from '../project/fields'
import { applySimilarity, similarityOf, type Similarity } from './similarity'

/// The similarity that most of a set of pairs agree on, whatever the others do.
export interface Agreement {
  readonly map: Similarity
  /// Indices of the pairs that agree.
  readonly agreeing: readonly number[]
  /// 1 σ per axis of an agreeing pair about the map, px.
  readonly sigma: number
}

/// What lies within this always agrees, px: below it only the finding's own noise tells pairs apart.
const FINE_PX = 0.3

/// By the least median of squared distances (Rousseeuw 1984, J Am Stat Assoc 79:871–880): of the similarities through two
/// pairs each, all tried, the one with the smallest median; its robust scale 1.4826·(1 + 5/(n − 2))·√median and the
/// cut at 2.5 of it are Rousseeuw & Leroy 1987, ch. 5 (from memory). Those that agree are fitted once more by least squares.
/// Up to nearly half of the pairs may be anything. Null for fewer than `least` agreeing pairs, or fewer than half.
export function agreementOf(from: readonly Point[], to: readonly Point[], least: number): Agreement | null {
  const n = from.length
  if (n < least || n !== to.length) return null
  const spread = Math.max(...from.map((p) => distance(p, from[0]!)))
  let best: { readonly map: Similarity; readonly median: number } | null = null
  const squares = new Float64Array(n)
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++) {
      if (distance(from[i]!, from[j]!) < spread / 6) continue
      const map = similarityOf([from[i]!, from[j]!], [to[i]!, to[j]!])
      if (!map) continue
      for (let k = 0; k < n; k++) squares[k] = distance(applySimilarity(map, from[k]!), to[k]!) ** 2
      const median = squares.slice().sort()[Math.floor(n / 2)]!
      if (!best || median < best.median) best = { map, median }
    }
  if (!best) return null
  const scale = 1.4826 * (1 + 5 / Math.max(1, n - 2)) * Math.sqrt(best.median)
  let map = best.map
  let agreeing: number[] = []
  for (let turn = 0; turn < 2; turn++) {
    agreeing = from.flatMap((p, k) => (distance(applySimilarity(map, p), to[k]!) <= Math.max(FINE_PX, 2.5 * scale) ? [k] : []))
    if (agreeing.length < Math.max(least, n / 2)) return null
    map =
      similarityOf(
        agreeing.map((k) => from[k]!),
        agreeing.map((k) => to[k]!),
      ) ?? map
  }
  const sum = agreeing.reduce((total, k) => total + distance(applySimilarity(map, from[k]!), to[k]!) ** 2, 0)
  return { map, agreeing, sigma: Math.sqrt(sum / Math.max(1, 2 * agreeing.length - 4)) }
}

const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])
