import type { Point } from '../project/fields'

/// Lines, arcs and rings as closed polygons, in canvas pixels, so that every painter fills the same
/// outline. All solid rings wind the same way (positive signed area, y downwards); holes wind against
/// it. Fill by the non-zero rule.

export type Ring = readonly Point[]
export type Cap = 'butt' | 'square' | 'round'
export interface StrokeStyle {
  readonly width: number
  readonly cap: Cap
  /// Length of a dash and of the gap after it, measured between the dashes' inked ends.
  readonly dash?: readonly [number, number]
}

/// How far a chord may stray from its arc, px.
const FLATNESS = 0.06

/// Even, so that a half circle has a point at its top.
const stepsFor = (radius: number, sweep: number): number =>
  2 * Math.max(1, Math.ceil(Math.abs(sweep) / (4 * Math.acos(Math.max(0, 1 - FLATNESS / Math.max(radius, FLATNESS))))))

/// Points along an arc about `centre` from angle `from` to angle `to` (radians, 0 to the right,
/// growing clockwise on screen), both ends included.
export function arcPoints(centre: Point, radius: number, from: number, to: number): Point[] {
  const steps = stepsFor(radius, to - from)
  return Array.from({ length: steps + 1 }, (_, i) => {
    const angle = from + ((to - from) * i) / steps
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)] as const
  })
}

/// A filled disc.
export const discRing = (centre: Point, radius: number): Ring => arcPoints(centre, radius, 0, 2 * Math.PI).slice(0, -1)

/// A circle's line: the outer edge, and the hole.
export function circleRings(centre: Point, radius: number, width: number): Ring[] {
  const inner = radius - width / 2
  const outer = discRing(centre, radius + width / 2)
  return inner > 0 ? [outer, [...discRing(centre, inner)].reverse()] : [outer]
}

/// A filled square about `centre`, its side along `direction` (radians).
export function squareRing(centre: Point, half: number, direction = 0): Ring {
  const [c, s] = [half * Math.cos(direction), half * Math.sin(direction)]
  const [x, y] = centre
  return [
    [x - c + s, y - s - c],
    [x + c + s, y + s - c],
    [x + c - s, y + s + c],
    [x - c - s, y - s + c],
  ]
}

export const boxRing = (x: number, y: number, width: number, height: number): Ring => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
]

/// A box with rounded corners.
export function roundedBoxRing(x: number, y: number, width: number, height: number, radius: number): Ring {
  const r = Math.min(radius, width / 2, height / 2)
  const quarter = Math.PI / 2
  return [
    ...arcPoints([x + r, y + r], r, 2 * quarter, 3 * quarter),
    ...arcPoints([x + width - r, y + r], r, 3 * quarter, 4 * quarter),
    ...arcPoints([x + width - r, y + height - r], r, 0, quarter),
    ...arcPoints([x + r, y + height - r], r, quarter, 2 * quarter),
  ]
}

/// The outline of a line through `points`: joins are round, repeated points count once, a single point
/// is a dot (nothing with butt ends). Dashes are strokes of their own.
export function strokeRings(points: readonly Point[], style: StrokeStyle): Ring[] {
  const way = withoutRepeats(points)
  if (style.width <= 0 || way.length === 0) return []
  if (!style.dash) return [strokeRing(way, style)].filter((ring) => ring.length > 0)
  const overhang = style.cap === 'butt' ? 0 : style.width
  const [dash, gap] = style.dash
  return dashesOf(way, Math.max(0.01, dash - overhang), gap + overhang).map((part) => strokeRing(part, style))
}

const withoutRepeats = (points: readonly Point[]): Point[] =>
  points.filter((p, i) => {
    const before = points[i - 1]
    return !before || Math.hypot(p[0] - before[0], p[1] - before[1]) > 1e-6
  })

function strokeRing(way: readonly Point[], { width, cap }: StrokeStyle): Ring {
  const half = width / 2
  const first = way[0] as Point
  if (way.length === 1) {
    if (cap === 'butt') return []
    return cap === 'round' ? discRing(first, half) : squareRing(first, half)
  }
  return [...side(way, half, cap), ...side([...way].reverse(), half, cap)]
}

/// One side of a stroke, on the left of travel on screen, and the cap at the far end.
function side(way: readonly Point[], half: number, cap: Cap): Point[] {
  const out: Point[] = []
  const heading = (i: number): number => {
    const [a, b] = [way[i] as Point, way[i + 1] as Point]
    return Math.atan2(b[1] - a[1], b[0] - a[0])
  }
  const offset = (p: Point, angle: number): Point => [p[0] + half * Math.sin(angle), p[1] - half * Math.cos(angle)]
  for (let i = 0; i < way.length - 1; i++) {
    const from = way[i] as Point
    const here = heading(i)
    if (i > 0) {
      const turn = turnOf(heading(i - 1), here)
      if (turn > 0) out.push(...arcPoints(from, half, heading(i - 1) - Math.PI / 2, heading(i - 1) - Math.PI / 2 + turn))
      else if (turn > -0.3) out.push(bisected(from, half, heading(i - 1), turn))
      else out.push(offset(from, heading(i - 1)), from, offset(from, here))
    } else out.push(offset(from, here))
  }
  const end = way.at(-1) as Point
  const last = heading(way.length - 2)
  const [ahead, aside]: Point = [Math.cos(last) * half, Math.sin(last) * half]
  out.push(offset(end, last))
  if (cap === 'round') out.push(...arcPoints(end, half, last - Math.PI / 2, last + Math.PI / 2))
  if (cap === 'square') {
    const [x, y] = offset(end, last)
    out.push([x + ahead, y + aside], [2 * end[0] - x + ahead, 2 * end[1] - y + aside])
  }
  return out
}

/// Change of heading, in (−π, π]; positive turns clockwise on screen, to the right of travel.
function turnOf(before: number, after: number): number {
  const turn = (after - before) % (2 * Math.PI)
  return turn > Math.PI ? turn - 2 * Math.PI : turn <= -Math.PI ? turn + 2 * Math.PI : turn
}

/// Where the two offset lines of a slight bend towards the side meet.
function bisected(at: Point, half: number, before: number, turn: number): Point {
  const middle = before + turn / 2
  const length = half / Math.cos(turn / 2)
  return [at[0] + length * Math.sin(middle), at[1] - length * Math.cos(middle)]
}

/// The way cut into dashes; a dash always begins it.
function dashesOf(way: readonly Point[], dash: number, gap: number): Point[][] {
  const parts: Point[][] = []
  let inked = true
  let left = dash
  let part: Point[] = [way[0] as Point]
  for (let i = 0; i < way.length - 1; i++) {
    let [x, y] = way[i] as Point
    const [toX, toY] = way[i + 1] as Point
    let length = Math.hypot(toX - x, toY - y)
    while (length > left) {
      const k = left / length
      ;[x, y] = [x + (toX - x) * k, y + (toY - y) * k]
      length -= left
      if (inked) parts.push([...part, [x, y]])
      inked = !inked
      part = [[x, y]]
      left = inked ? dash : gap
    }
    left -= length
    if (inked) part.push([toX, toY])
  }
  if (inked && part.length > 1) parts.push(part)
  return parts
}
