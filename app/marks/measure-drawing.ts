import { placeOf, sideOf } from '../body/landmark-name'
import type { Point } from '../project/fields'
import type { Measure } from '../project/question'
import type { Obstacle } from './box'
import { endDots, ink, lineStyle, type Ink, type LineStyle, type PartStyle } from './ink'
import { palette } from './palette'
import type { Shape } from './shape'
import { arcPoints } from './stroke'

/// A measure's lines on one frame.
export interface DrawnMeasure {
  readonly shapes: readonly Shape[]
  /// Where its plate's hairline leads to.
  readonly anchor: Point
  /// Its joints, lines and arcs, which no label may lie over.
  readonly clear: readonly Obstacle[]
}

export interface MeasureScene {
  /// A named point on the canvas; null where it has no sample on this frame.
  readonly at: (point: string) => Point | null
  /// Where it was on the frame that the measure counts from, on the canvas; null where that is not known.
  readonly before: (point: string) => Point | null
  /// Its way from that frame up to this one, on the canvas, in unbroken pieces.
  readonly way: (point: string) => readonly (readonly Point[])[]
  /// Direction of the true vertical on the canvas (camera roll taken out), pointing up, any length.
  readonly up: Point
  /// One pixel of a canvas whose shorter side is 1080.
  readonly unit: number
}

/// The points whose lines show a measure; none for times, counts, orders and what is judged by eye.
export function drawnNames(measure: Measure): readonly string[] {
  if ('points' in measure) return measure.points
  return measure.kind === 'separation' ? ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'] : []
}

/// Draws the lines of a measure, or null when one of its points has no sample on this frame or
/// the kind has no lines.
export function drawMeasure(measure: Measure, scene: MeasureScene): DrawnMeasure | null {
  const names = drawnNames(measure)
  const points = names.map(scene.at)
  if (points.length === 0 || !points.every((p): p is Point => p !== null)) return null
  const drawing: Drawing = { pen: ink(scene.unit), clear: [], unit: scene.unit, names }
  const anchor = draw(measure.kind, points, drawing, scene)
  return { shapes: drawing.pen.shapes(), anchor, clear: drawing.clear }
}

interface Drawing {
  readonly pen: Ink
  readonly clear: Obstacle[]
  readonly unit: number
  readonly names: readonly string[]
}

function draw(kind: Measure['kind'], points: readonly Point[], drawing: Drawing, scene: MeasureScene): Point {
  switch (kind) {
    case 'line-lean':
      return drawLean(points, drawing, scene)
    case 'line-angle':
      return drawLineAngle(points, drawing)
    case 'separation':
      return drawTwoLines(points, drawing)
    case 'distance':
      return drawDistance(points, drawing)
    case 'path':
    case 'displacement':
    case 'head-displacement':
    case 'speed':
      return drawMove(kind === 'path', points, drawing, scene)
    default:
      return points.length === 3 ? drawJoint(points, drawing) : drawPlain(points, drawing)
  }
}

function drawJoint(points: readonly Point[], drawing: Drawing): Point {
  const [a, b, c] = points as [Point, Point, Point]
  line(drawing, [a, b, c], 'limb')
  arc(drawing, b, directionOf(b, a), directionOf(b, c), arcRadius(Math.min(lengthOf(a, b), lengthOf(c, b)), drawing.unit))
  dots(drawing, [a, b, c], 'limb')
  return b
}

/// The line, the true vertical from its lower end, and the arc between.
function drawLean(points: readonly Point[], drawing: Drawing, scene: MeasureScene): Point {
  const [a, b] = points as [Point, Point]
  const part = partOf(drawing.names[0] as string, drawing.names[1] as string)
  const length = lengthOf(a, b)
  const upward = Math.atan2(scene.up[1], scene.up[0])
  reference(drawing, a, upward, length)
  line(drawing, [a, b], part)
  arc(drawing, a, upward, directionOf(a, b), Math.min(0.62 * length, 170 * drawing.unit))
  dots(drawing, [a, b], part)
  return between(a, b)
}

/// Both lines, the second's direction once more from the first's beginning, and the arc between.
function drawLineAngle(points: readonly Point[], drawing: Drawing): Point {
  const [a, b, c, d] = points as [Point, Point, Point, Point]
  const [length, other] = [lengthOf(a, b), lengthOf(c, d)]
  if (lengthOf(a, c) > 1) reference(drawing, a, directionOf(c, d), Math.min(other, length) + 24 * drawing.unit)
  drawTwoLines(points, drawing)
  arc(drawing, a, directionOf(a, b), directionOf(c, d), arcRadius(Math.min(length, other), drawing.unit))
  return a
}

function drawTwoLines(points: readonly Point[], drawing: Drawing): Point {
  const [a, b, c, d] = points as [Point, Point, Point, Point]
  const [first, second] = [
    partOf(drawing.names[0] as string, drawing.names[1] as string),
    partOf(drawing.names[2] as string, drawing.names[3] as string),
  ]
  line(drawing, [a, b], first)
  line(drawing, [c, d], second)
  dots(drawing, [a, b], first)
  dots(drawing, [c, d], second)
  return between(c, d)
}

/// A line with a bar across each end.
function drawDistance(points: readonly Point[], drawing: Drawing): Point {
  const [a, b] = points as [Point, Point]
  const across = directionOf(a, b) + Math.PI / 2
  line(drawing, [a, b], 'limb')
  for (const end of [a, b]) line(drawing, [along(end, across, -16 * drawing.unit), along(end, across, 16 * drawing.unit)], 'limb')
  return between(a, b)
}

/// A point and how it came there: its way, or the straight line from where it was.
function drawMove(wholeWay: boolean, points: readonly Point[], drawing: Drawing, scene: MeasureScene): Point {
  const [at] = points as [Point]
  const name = drawing.names[0] as string
  const start = scene.before(name)
  if (wholeWay) for (const piece of scene.way(name)) trace(drawing, piece)
  else if (start && lengthOf(start, at) > drawing.unit) reference(drawing, start, directionOf(start, at), lengthOf(start, at))
  if (start) dots(drawing, [start], 'rear')
  dots(drawing, [at], 'limb')
  return at
}

function drawPlain(points: readonly Point[], drawing: Drawing): Point {
  const part = points.length === 2 ? partOf(drawing.names[0] as string, drawing.names[1] as string) : 'limb'
  if (points.length > 1) line(drawing, points, part)
  dots(drawing, points, part)
  return points[points.length >> 1] as Point
}

/// Hips and shoulders have their own look; any other line is the limb in question.
export function partOf(from: string, to: string): PartStyle {
  const [a, b] = [placeOf(from), placeOf(to)]
  const across = a === b && sideOf(from) !== sideOf(to)
  if (across && a === 'hip') return 'hips'
  if (across && a === 'shoulder') return 'shoulders'
  return 'limb'
}

const lengthOf = (a: Point, b: Point): number => Math.hypot(b[0] - a[0], b[1] - a[1])
const directionOf = (from: Point, to: Point): number => Math.atan2(to[1] - from[1], to[0] - from[0])
const along = (from: Point, angle: number, distance: number): Point => [
  from[0] + distance * Math.cos(angle),
  from[1] + distance * Math.sin(angle),
]
const arcRadius = (shorter: number, unit: number): number =>
  Math.min(0.8 * shorter, Math.max(34 * unit, Math.min(0.42 * shorter, 92 * unit)))

function line({ pen, clear, unit }: Drawing, points: readonly Point[], part: PartStyle): void {
  pen.line(points, lineStyle(part, unit))
  block(clear, points, 8 * unit)
}

/// A thin bright line along a way.
function trace({ pen, clear, unit }: Drawing, points: readonly Point[]): void {
  pen.line(points, { colour: palette.limb, width: 4 * unit, cap: 'round' })
  block(
    clear,
    points.filter((_, i) => i % 4 === 0 || i === points.length - 1),
    7 * unit,
  )
}

const between = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]

function block(clear: Obstacle[], points: readonly Point[], radius: number): void {
  points.slice(1).forEach((to, i) => clear.push({ kind: 'segment', from: points[i] as Point, to, radius }))
}

function dots({ pen, clear, unit }: Drawing, points: readonly Point[], part: PartStyle): void {
  endDots(pen, points, part, unit)
  for (const at of points) clear.push({ kind: 'disc', at, radius: 20 * unit })
}

/// The arc from one direction to the other, the shorter way round.
function arc({ pen, clear, unit }: Drawing, vertex: Point, from: number, to: number, radius: number): void {
  const sweep = Math.atan2(Math.sin(to - from), Math.cos(to - from))
  if (radius < 2 * unit || Math.abs(sweep) < 1e-3) return
  const style: LineStyle = { colour: palette.limb, width: 5 * unit, cap: 'butt' }
  pen.arc(vertex, radius, from, from + sweep, style)
  const points = arcPoints(vertex, radius, from, from + sweep)
  block(
    clear,
    points.filter((_, i) => i % 4 === 0 || i === points.length - 1),
    8 * unit,
  )
}

/// A thin dashed line to hold another against.
function reference({ pen, clear, unit }: Drawing, from: Point, angle: number, length: number): void {
  const points = [from, along(from, angle, length)]
  pen.line(points, { colour: palette.other, width: 3 * unit, cap: 'butt', dash: [12 * unit, 9 * unit] })
  block(clear, points, 6 * unit)
}
