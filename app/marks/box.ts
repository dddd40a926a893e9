import type { Point, Rectangle } from '../project/fields'

/// Boxes on the canvas and what must stay clear, in canvas pixels.
export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/// Something that no label may lie over. `radius` is the half width of a segment's line.
export type Obstacle =
  | { readonly kind: 'disc'; readonly at: Point; readonly radius: number }
  | { readonly kind: 'segment'; readonly from: Point; readonly to: Point; readonly radius: number }
  | { readonly kind: 'box'; readonly box: Box }

export const boxOf = ([x, y, width, height]: Rectangle): Box => ({ x, y, width, height })

export const inset = (box: Box, by: number): Box => ({
  x: box.x + by,
  y: box.y + by,
  width: box.width - 2 * by,
  height: box.height - 2 * by,
})

/// The part that two boxes share; null when there is none.
export function intersection(a: Box, b: Box): Box | null {
  const x = Math.max(a.x, b.x)
  const y = Math.max(a.y, b.y)
  const width = Math.min(a.x + a.width, b.x + b.width) - x
  const height = Math.min(a.y + a.height, b.y + b.height) - y
  return width > 0 && height > 0 ? { x, y, width, height } : null
}

/// The point of a box nearest to `p`; p itself when it lies inside.
export const nearestIn = (box: Box, [x, y]: Point): Point => [
  Math.min(Math.max(x, box.x), box.x + box.width),
  Math.min(Math.max(y, box.y), box.y + box.height),
]

export function distanceToBox(box: Box, p: Point): number {
  const near = nearestIn(box, p)
  return Math.hypot(p[0] - near[0], p[1] - near[1])
}

export function distanceToSegment(p: Point, from: Point, to: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const squared = dx * dx + dy * dy
  const k = squared === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - from[0]) * dx + (p[1] - from[1]) * dy) / squared))
  return Math.hypot(p[0] - from[0] - k * dx, p[1] - from[1] - k * dy)
}

/// The part of a segment that lies in a box, as its ends; null when none does.
export function segmentInBox(from: Point, to: Point, box: Box): readonly [Point, Point] | null {
  let enter = 0
  let leave = 1
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  for (const [p, q] of [
    [-dx, from[0] - box.x],
    [dx, box.x + box.width - from[0]],
    [-dy, from[1] - box.y],
    [dy, box.y + box.height - from[1]],
  ] as const) {
    if (p === 0) {
      if (q < 0) return null
    } else if (p < 0) enter = Math.max(enter, q / p)
    else leave = Math.min(leave, q / p)
  }
  if (enter > leave) return null
  return [
    [from[0] + enter * dx, from[1] + enter * dy],
    [from[0] + leave * dx, from[1] + leave * dy],
  ]
}

/// Free space between a box and an obstacle; 0 when they touch, less when they overlap: how far the
/// box reaches into it.
export function clearance(box: Box, obstacle: Obstacle): number {
  if (obstacle.kind === 'disc') return distanceToBox(box, obstacle.at) - obstacle.radius
  if (obstacle.kind === 'box') {
    const apart = (a: number, la: number, b: number, lb: number): number => Math.max(a - b - lb, b - a - la)
    const x = apart(box.x, box.width, obstacle.box.x, obstacle.box.width)
    const y = apart(box.y, box.height, obstacle.box.y, obstacle.box.height)
    return x > 0 && y > 0 ? Math.hypot(x, y) : Math.max(x, y)
  }
  if (segmentInBox(obstacle.from, obstacle.to, box)) {
    const within = segmentInBox(obstacle.from, obstacle.to, box) as readonly [Point, Point]
    return -obstacle.radius - Math.hypot(within[1][0] - within[0][0], within[1][1] - within[0][1])
  }
  const corners: readonly Point[] = [
    [box.x, box.y],
    [box.x + box.width, box.y],
    [box.x, box.y + box.height],
    [box.x + box.width, box.y + box.height],
  ]
  const apart = Math.min(
    distanceToBox(box, obstacle.from),
    distanceToBox(box, obstacle.to),
    ...corners.map((c) => distanceToSegment(c, obstacle.from, obstacle.to)),
  )
  return apart - obstacle.radius
}
