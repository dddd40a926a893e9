import type { Point } from '../project/fields'
import { clearance, distanceToSegment, intersection, nearestIn, segmentInBox, type Box, type Obstacle } from './box'

/// Where a plate may lie and what it must not cover.
export interface Ground {
  /// Where it should lie (the label band of its panel), and where it may where there is no room.
  readonly preferred: Box
  readonly allowed: Box
  readonly obstacles: readonly Obstacle[]
  /// Where it would rather not lie: the bodies.
  readonly bodies: readonly Box[]
  /// Room kept to every obstacle, px.
  readonly margin: number
}

export interface Placed {
  readonly box: Box
  /// Which of the sizes was taken.
  readonly choice: number
  /// Whether it keeps clear of everything.
  readonly clear: boolean
}

/// Finds the place for a plate near `anchor` (null: it has none, and goes to the left), among sizes in
/// order of preference. Deterministic. Where nothing keeps clear, the place that reaches least into
/// anything is given, and says so.
export function placePlate(sizes: readonly { width: number; height: number }[], anchor: Point | null, ground: Ground): Placed {
  let best: (Placed & { cost: number }) | null = null
  for (const area of [ground.preferred, ground.allowed]) {
    sizes.forEach((size, choice) => {
      for (const box of candidates(size, area, anchor)) {
        const reach = reachOf(box, ground, best?.clear === true)
        const clear = reach === 0
        if (best?.clear && !clear) continue
        const cost = (clear ? 0 : 1e6 + 1e3 * reach) + costOf(box, anchor, ground) + 0.25 * choice * ground.margin
        if (!best || cost < best.cost) best = { box, choice, clear, cost }
      }
    })
    if ((best as Placed | null)?.clear) break
  }
  if (!best) {
    const size = sizes[0] as { width: number; height: number }
    return { box: { x: ground.allowed.x, y: ground.allowed.y, ...size }, choice: 0, clear: false }
  }
  const { box, choice, clear } = best as Placed
  return { box, choice, clear }
}

/// How far a box reaches into what it must keep clear of; 0: it keeps clear. `any` stops at the first.
function reachOf(box: Box, { obstacles, margin }: Ground, any: boolean): number {
  let reach = 0
  for (const obstacle of obstacles) {
    reach = Math.max(reach, margin - clearance(box, obstacle))
    if (any && reach > 0) break
  }
  return reach
}

/// Places of a box within an area: a grid, its rows and columns through the anchor's own.
function* candidates(size: { width: number; height: number }, area: Box, anchor: Point | null): Generator<Box> {
  const [freeX, freeY] = [area.width - size.width, area.height - size.height]
  if (freeX < 0 || freeY < 0) return
  const columns = 40
  const rows = 30
  for (let row = 0; row <= rows; row++) {
    for (let column = 0; column <= columns; column++)
      yield { x: Math.round(area.x + (freeX * column) / columns), y: Math.round(area.y + (freeY * row) / rows), ...size }
  }
  if (!anchor) return
  const y = Math.min(Math.max(anchor[1] - size.height / 2, area.y), area.y + freeY)
  for (let column = 0; column <= 2 * columns; column++) yield { x: Math.round(area.x + (freeX * column) / (2 * columns)), y: Math.round(y), ...size }
}

function costOf(box: Box, anchor: Point | null, ground: Ground): number {
  const { margin, bodies, obstacles, preferred } = ground
  let cost = 0
  for (const body of bodies) {
    const shared = intersection(box, body)
    if (shared) cost += (14 * margin * shared.width * shared.height) / (box.width * box.height)
  }
  if (!anchor) return cost + (box.x - preferred.x) * 0.2 + (box.y - preferred.y) * 0.3
  const near = nearestIn(box, anchor)
  const distance = Math.hypot(near[0] - anchor[0], near[1] - anchor[1])
  cost += Math.abs(distance - 7 * margin) * (distance > 7 * margin ? 0.5 : 1)
  /// Beside the joint rather than above or below it.
  cost += 0.25 * Math.abs(box.y + box.height / 2 - anchor[1])
  for (const obstacle of obstacles) if (crosses(near, anchor, obstacle, margin)) cost += 4 * margin
  return cost
}

/// Whether a hairline would run through something on its way, its own joint's surroundings left out.
function crosses(from: Point, to: Point, obstacle: Obstacle, margin: number): boolean {
  if (obstacle.kind === 'box') return segmentInBox(from, to, obstacle.box) !== null
  if (obstacle.kind === 'disc') return Math.hypot(obstacle.at[0] - to[0], obstacle.at[1] - to[1]) > margin && distanceToSegment(obstacle.at, from, to) < obstacle.radius
  return meets(from, to, obstacle.from, obstacle.to)
}

function meets(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point): number => Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0
}
