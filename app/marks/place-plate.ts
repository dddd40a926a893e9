import type { Point } from '../project/fields'
import { clearance, distanceToSegment, intersection, nearestIn, segmentInBox, type Box, type Obstacle } from './box'

/// Where a plate may lie and what it must not cover.
export interface Ground {
  /// Areas in order of preference: the next is taken only where nothing keeps clear in those before it.
  readonly areas: readonly Area[]
  readonly obstacles: readonly Obstacle[]
  /// Where it would rather not lie: the bodies.
  readonly bodies: readonly Box[]
  /// Room kept to every obstacle, px.
  readonly margin: number
}

export interface Area extends Box {
  /// A part of it that is better left free.
  readonly avoid?: Box
}

export interface Placed {
  readonly box: Box
  /// Which of the sizes was taken.
  readonly choice: number
}

export interface Size {
  readonly width: number
  readonly height: number
}

export interface Candidate {
  /// Whether it keeps clear of the ground's obstacles; absent while that has not been asked.
  clear?: boolean
  readonly box: Box
  readonly choice: number
  readonly cost: number
}

/// The places that a plate might take, looked at as they are asked for and remembered, so that plates may be placed in
/// several orders.
export interface Places {
  readonly anchor: Point | null
  readonly ground: Ground
  /// Of one area, the best liked first.
  readonly area: (index: number) => readonly Candidate[]
  readonly isClear: (candidate: Candidate) => boolean
}

/// Of a plate near `anchor` (null: it has none, and goes to the upper left), among sizes in order of preference. Deterministic.
export function placesOf(sizes: readonly Size[], anchor: Point | null, ground: Ground): Places {
  const areas: Candidate[][] = []
  return {
    anchor,
    ground,
    area: (index) => {
      const liked = (areas[index] ??= likedFirst(sizes, anchor, ground, ground.areas[index] as Area))
      return liked.some((c) => c.clear === undefined) ? liked : (areas[index] = liked.filter((c) => c.clear))
    },
    isClear: (candidate) => (candidate.clear ??= reachOf(candidate.box, ground, 0) === 0),
  }
}

/// The best of a plate's places that keeps clear of other plates too; null where none does.
export function choosePlace({ anchor, ground, area, isClear }: Places, others: readonly Box[]): Placed | null {
  const boxes = others.map((box): Obstacle => ({ kind: 'box', box }))
  const around: Ground = { ...ground, obstacles: boxes }
  const crossed: Ground = { ...ground, obstacles: [...boxes, ...ground.obstacles] }
  for (const index of ground.areas.keys()) {
    let best: { candidate: Candidate; cost: number } | null = null
    for (const candidate of area(index)) {
      if (best && candidate.cost >= best.cost) break
      if (!isClear(candidate) || reachOf(candidate.box, around, 0) > 0) continue
      const cost = candidate.cost + (anchor ? crossings(candidate.box, anchor, crossed) * 4 * ground.margin : 0)
      if (!best || cost < best.cost) best = { candidate, cost }
    }
    if (best) return { box: best.candidate.box, choice: best.candidate.choice }
  }
  return null
}

/// The place that reaches least into anything, where nothing keeps clear.
export function placeAnyway(sizes: readonly Size[], anchor: Point | null, ground: Ground): Placed {
  let best: Placed | null = null
  let least = Infinity
  for (const area of ground.areas) {
    for (const { box, choice } of likedFirst(sizes, anchor, ground, area)) {
      const reach = reachOf(box, ground, least)
      if (reach < least) [best, least] = [{ box, choice }, reach]
    }
  }
  const { x, y } = ground.areas[0] ?? { x: 0, y: 0 }
  return best ?? { box: { x, y, ...(sizes[0] ?? { width: 0, height: 0 }) }, choice: 0 }
}

function likedFirst(sizes: readonly Size[], anchor: Point | null, ground: Ground, area: Area): Candidate[] {
  const distinct = (size: Size, choice: number): boolean =>
    sizes.findIndex((s) => s.width === size.width && s.height === size.height) === choice
  return sizes
    .flatMap((size, choice) =>
      !distinct(size, choice)
        ? []
        : [...candidates(size, area, anchor)].map((box) => ({
            box,
            choice,
            cost: costOf(box, anchor, ground, area) + 0.4 * choice * ground.margin,
          })),
    )
    .sort((a, b) => a.cost - b.cost)
}

/// How far a box reaches into what it must keep clear of; 0: it keeps clear. Stops once it is more than `enough`.
function reachOf(box: Box, { obstacles, margin }: Ground, enough: number): number {
  let reach = 0
  for (const obstacle of obstacles) {
    reach = Math.max(reach, margin - clearance(box, obstacle))
    if (reach > enough) break
  }
  return reach
}

const COLUMNS = 40
const ROWS = 30

/// Places of a box within an area: a grid, and a row of its own at the anchor's height.
function* candidates(size: Size, area: Box, anchor: Point | null): Generator<Box> {
  const [freeX, freeY] = [area.width - size.width, area.height - size.height]
  if (freeX < 0 || freeY < 0) return
  const { width, height } = size
  const at = (x: number, y: number): Box => ({ x: Math.round(x), y: Math.round(y), width, height })
  for (let row = 0; row <= ROWS; row++)
    for (let column = 0; column <= COLUMNS; column++) yield at(area.x + (freeX * column) / COLUMNS, area.y + (freeY * row) / ROWS)
  if (!anchor) return
  const y = Math.min(Math.max(anchor[1] - height / 2, area.y), area.y + freeY)
  for (let column = 0; column <= 2 * COLUMNS; column++) yield at(area.x + (freeX * column) / (2 * COLUMNS), y)
}

/// How little a place is liked, in pixels of the way it is off, all but what the hairline crosses.
function costOf(box: Box, anchor: Point | null, { margin, bodies }: Ground, area: Area): number {
  const avoided = area.avoid ? intersection(box, area.avoid) : null
  let cost = avoided ? (12 * margin * avoided.width * avoided.height) / (box.width * box.height) : 0
  for (const body of bodies) {
    const shared = intersection(box, body)
    if (shared) cost += (25 * margin * shared.width * shared.height) / (box.width * box.height)
  }
  if (!anchor) return cost + (box.x - area.x) * 0.2 + (box.y - area.y) * 0.3
  const near = nearestIn(box, anchor)
  const distance = Math.hypot(near[0] - anchor[0], near[1] - anchor[1])
  cost += Math.abs(distance - 6 * margin) * (distance > 6 * margin ? 0.5 : 1)
  /// Beside the joint rather than above or below it.
  return cost + 0.25 * Math.abs(box.y + box.height / 2 - anchor[1])
}

/// How many things a hairline would run through on its way, its own joint's surroundings left out.
function crossings(box: Box, anchor: Point, { obstacles, margin }: Ground): number {
  const from = nearestIn(box, anchor)
  return obstacles.filter((obstacle) => {
    if (obstacle.kind === 'box') return segmentInBox(from, anchor, obstacle.box) !== null
    if (obstacle.kind === 'segment') return meets(from, anchor, obstacle.from, obstacle.to)
    return (
      Math.hypot(obstacle.at[0] - anchor[0], obstacle.at[1] - anchor[1]) > margin &&
      distanceToSegment(obstacle.at, from, anchor) < obstacle.radius
    )
  }).length
}

function meets(a: Point, b: Point, c: Point, d: Point): boolean {
  const side = (p: Point, q: Point, r: Point): number => Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0
}
