import type { Point } from '../project/fields'
import type { Box } from './box'
import type { Shape } from './shape'
import type { Ring } from './stroke'

/// The part of a ring inside a box (Sutherland and Hodgman 1974, Comm. ACM 17:32); empty when none is.
/// Its winding is kept.
export function clipRing(ring: Ring, box: Box): Ring {
  const within = ring.every(([x, y]) => x >= box.x && y >= box.y && x <= box.x + box.width && y <= box.y + box.height)
  if (within) return ring
  return EDGES.reduce<Ring>((points, edge) => cut(points, (p) => edge(p, box)), ring)
}

/// Signed distance inside each edge of a box.
const EDGES: readonly ((p: Point, box: Box) => number)[] = [
  ([x], box) => x - box.x,
  ([x], box) => box.x + box.width - x,
  ([, y], box) => y - box.y,
  ([, y], box) => box.y + box.height - y,
]

function cut(points: Ring, inside: (p: Point) => number): Ring {
  const kept: Point[] = []
  points.forEach((p, i) => {
    const before = points.at(i - 1) as Point
    const [here, there] = [inside(p), inside(before)]
    if (here >= 0 !== there >= 0) {
      const k = there / (there - here)
      kept.push([before[0] + k * (p[0] - before[0]), before[1] + k * (p[1] - before[1])])
    }
    if (here >= 0) kept.push(p)
  })
  return kept
}

/// Filled shapes cut at a box's edges; those outside it go. Text is placed whole and is left alone.
export function clipShapes(shapes: readonly Shape[], box: Box): Shape[] {
  return shapes.flatMap((shape): Shape[] => {
    if (shape.kind === 'text') return [shape]
    const rings = shape.rings.map((ring) => clipRing(ring, box)).filter((ring) => ring.length > 2)
    return rings.length > 0 ? [{ ...shape, rings }] : []
  })
}
