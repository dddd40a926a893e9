import type { Point } from '../project/fields'
import type { FreeMark, Place } from '../project/picture'
import type { Box, Obstacle } from './box'
import { clipShapes } from './clip-shape'
import { endDots, ink, lineStyle, type PartStyle } from './ink'
import type { Lettering } from './lettering'
import { palette } from './palette'
import { shortened, textShape, wrapAtMost, widest } from './set-text'
import type { Shape } from './shape'
import { boxRing, roundedBoxRing, type Ring } from './stroke'
import type { Typeface } from './typeface'

/// A free mark on one frame, clipped to its panel.
export interface DrawnFree {
  readonly shapes: readonly Shape[]
  readonly clear: readonly Obstacle[]
}

export interface FreeScene {
  /// A place on the canvas; null where the landmark that it follows is not known on this frame.
  readonly place: (place: Place) => Point | null
  /// A fixed point of the source on the canvas.
  readonly point: (source: Point) => Point
  /// Which limb a landmark belongs to on this frame; null where that is not known or it has no side.
  readonly side: (subject: string, point: string) => 'lead' | 'rear' | null
  /// The way of a landmark up to this frame, on the canvas, in unbroken pieces.
  readonly trail: (subject: string, point: string) => readonly (readonly Point[])[]
  /// Canvas pixels for one source pixel.
  readonly scale: number
  readonly panel: Box
  readonly typeface: Typeface
  readonly lettering: Lettering
}

/// Draws a free mark. Null where it follows a landmark that is not known on this frame.
export function drawFree(mark: FreeMark, scene: FreeScene): DrawnFree | null {
  const { unit } = scene.lettering
  const pen = ink(unit)
  const part = partStyle(mark, scene)
  const style = lineStyle(part, unit)
  const clear: Obstacle[] = []
  const block = (points: readonly Point[]): void =>
    points.slice(1).forEach((to, i) => clear.push({ kind: 'segment', from: points[i] as Point, to, radius: 9 * unit }))
  const done = (): DrawnFree => ({ shapes: clipShapes(pen.shapes(), scene.panel), clear })

  if ('arrow' in mark) {
    const [from, to] = [scene.place(mark.arrow[0]), scene.place(mark.arrow[1])]
    if (!from || !to) return null
    const length = Math.hypot(to[0] - from[0], to[1] - from[1])
    if (length < 1) return { shapes: [], clear }
    const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
    const head = Math.min(38 * unit, 0.6 * length)
    const half = 0.5 * head
    const back = (d: number, aside: number): Point => [to[0] - ux * d - uy * aside, to[1] - uy * d + ux * aside]
    pen.line([from, back(head * 0.8, 0)], { ...style, width: 8 * unit, cap: 'butt' })
    pen.solid([to, back(head, half), back(head * 0.8, 0), back(head, -half)], style.colour)
    block([from, to])
    return done()
  }
  if ('ring' in mark) {
    const at = scene.place(mark.ring)
    if (!at) return null
    const radius = Math.max(mark.radius * scene.scale, 6 * unit)
    pen.circle(at, radius, { ...style, width: 6 * unit })
    clear.push({ kind: 'disc', at, radius: radius + 8 * unit })
    return done()
  }
  if ('line' in mark) {
    const points = mark.line.map(scene.place)
    if (!points.every((p): p is Point => p !== null)) return null
    pen.line(points, style)
    endDots(pen, points, part, unit)
    block(points)
    return done()
  }
  if ('path' in mark) {
    const points = mark.path.map((p) => scene.point(p))
    pen.line(points, { ...style, width: 5 * unit })
    block(points)
    return done()
  }
  if ('trail' in mark) {
    const pieces = scene.trail(mark.trail.subject, mark.trail.point)
    for (const piece of pieces) {
      pen.line(piece, { ...style, width: 4 * unit })
      block(thinned(piece, 24))
    }
    const last = pieces.at(-1)?.at(-1)
    if (last) pen.dot(last, 8 * unit, style.colour)
    return done()
  }
  if ('word' in mark) {
    const at = scene.place(mark.at)
    return at ? drawWord(mark.word, at, scene) : null
  }
  return { shapes: clipShapes([dimmed(mark.dim, scene)], scene.panel), clear }
}

/// A free mark is white and solid unless it says which part it shows, or is a line along the lead limb: that is hollow.
function partStyle(mark: FreeMark, { side }: FreeScene): PartStyle {
  if (mark.part !== undefined && mark.part !== 'other') return mark.part
  const ends = 'line' in mark ? mark.line.map((end) => ('subject' in end ? side(end.subject, end.point) : null)) : []
  return ends.length > 0 && ends.every((end) => end === 'lead') ? 'lead' : 'rear'
}

const thinned = (points: readonly Point[], most: number): Point[] => {
  const step = Math.max(1, Math.ceil(points.length / most))
  return points.filter((_, i) => i % step === 0 || i === points.length - 1)
}

/// Words on a small plate about a point, moved inside the panel; nothing when the point lies outside it.
function drawWord(word: string, [x, y]: Point, { typeface, lettering, panel }: FreeScene): DrawnFree {
  if (x < panel.x || y < panel.y || x > panel.x + panel.width || y > panel.y + panel.height) return { shapes: [], clear: [] }
  const { small, unit } = lettering
  const [padX, padY] = [0.42 * small, 0.36 * small]
  const room = Math.max(small, Math.min(0.5 * panel.width + 4 * small, panel.width - 2 * padX - 8 * unit))
  const lines = wrapAtMost(typeface, shortened(word, 160), small, 700, room, Math.max(1, Math.floor((0.6 * panel.height) / (1.2 * small))))
  const width = widest(typeface, lines, small, 700) + 2 * padX
  const height = (lines.length - 1) * 1.2 * small + typeface.capHeight * small + 2 * padY
  const within = (at: number, size: number, from: number, whole: number): number =>
    Math.min(Math.max(at - size / 2, from), from + whole - size)
  const left = within(x, width, panel.x, panel.width)
  const top = within(y, height, panel.y, panel.height)
  return {
    shapes: [
      { kind: 'fill', rings: [roundedBoxRing(left, top, width, height, lettering.corner)], colour: palette.plate, opacity: 0.94 },
      ...lines.map((line, i) =>
        textShape(line, [left + width / 2, top + padY + typeface.capHeight * small + i * 1.2 * small], small, 700, palette.text, 'middle'),
      ),
    ],
    clear: [{ kind: 'box', box: { x: left, y: top, width, height } }],
  }
}

/// The panel darkened but for a rectangle of the source: the hole winds against the rest.
function dimmed([x, y, width, height]: readonly [number, number, number, number], { point, panel }: FreeScene): Shape {
  const corners = (
    [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ] as const
  ).map((p) => point(p))
  const hole = signedArea(corners) > 0 ? [...corners].reverse() : corners
  return { kind: 'fill', rings: [boxRing(panel.x, panel.y, panel.width, panel.height), hole], colour: '#000000', opacity: 0.6 }
}

const signedArea = (ring: Ring): number =>
  ring.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length] as Point
    return sum + x * nextY - nextX * y
  }, 0) / 2
