import { bones } from '../../app/body/body-points'
import { lineEnds, sideOf, type Side } from '../../app/body/landmark-name'
import { LINE_WAYS } from '../../app/geometry/line-camera'
import { paintCanvas } from '../../app/marks/canvas'
import type { DrawContext } from '../../app/marks/draw-context'
import { ink, lineStyle, type LineStyle } from '../../app/marks/ink'
import { palette } from '../../app/marks/palette'
import type { Colour } from '../../app/marks/shape'
import { MOST_LINES } from '../../app/measure/line-view'
import { applyAffine, type Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { Sample } from '../../app/project/film'

/// The points of a person on the stage and the lines between them: what side each is of, how it is seen, where it comes from.

export interface ShownPoint {
  readonly name: string
  readonly at: Point
  readonly seen: Sample['seen']
  readonly origin: Sample['origin']
  readonly inHand: boolean
  /// A model's own, 0 to 1, where it is not accepted yet.
  readonly confidence?: number
}

/// One pixel of a canvas whose shorter side is 1080.
const UNIT = 0.85

/// The look of one side, colour and shape both: the lead side in its own colour, hollow; the rear side light, filled. Where the
/// lead side is not stated, left stands as lead and right as rear does. Null: of no side.
export function sideLook(point: string, lead: Side | null): { readonly colour: Colour; readonly hollow: boolean } | null {
  const side = sideOf(point)
  if (side !== 'left' && side !== 'right') return null
  return side === (lead ?? 'left') ? { colour: palette.lead, hollow: true } : { colour: palette.other, hollow: false }
}

/// The lines between points: hips and shoulders as they are drawn on film, limbs in their side's look.
export function boneLook(part: 'limb' | 'hips' | 'shoulders', from: string, lead: Side | null): LineStyle {
  if (part !== 'limb') return lineStyle(part, UNIT)
  const side = sideLook(from, lead)
  return side?.hollow ? { ...lineStyle('lead', UNIT), colour: side.colour } : lineStyle('rear', UNIT)
}

export function paintBones(
  surface: CanvasRenderingContext2D,
  points: readonly ShownPoint[],
  toStage: Affine,
  lead: Side | null,
  typeface: DrawContext['typeface'],
): void {
  const pen = ink(UNIT)
  const at = new Map(points.map((point) => [point.name, applyAffine(toStage, point.at)]))
  for (const { from, to, part } of bones) {
    const [a, b] = [at.get(from), at.get(to)]
    if (a && b) pen.line([a, b], boneLook(part, from, lead))
  }
  paintCanvas(surface, pen.shapes(), typeface)
}

/// Lines of the hall between their two ends, where both are placed: level ones along a side solid, those square to it dashed, upright
/// ones dotted, all thin.
export function paintHallLines(surface: CanvasRenderingContext2D, points: readonly ShownPoint[], toStage: Affine): void {
  const at = new Map(points.map((point) => [point.name, applyAffine(toStage, point.at)]))
  surface.lineCap = 'butt'
  for (const way of LINE_WAYS) {
    for (let index = 0; index < MOST_LINES; index++) {
      const [a, b] = lineEnds(way, index).map((point) => at.get(point))
      if (!a || !b) continue
      surface.beginPath()
      surface.moveTo(...a)
      surface.lineTo(...b)
      surface.setLineDash([])
      surface.lineWidth = 4
      surface.strokeStyle = palette.casing
      surface.stroke()
      surface.setLineDash(way === 'along' ? [] : way === 'across' ? [10, 6] : [2, 4])
      surface.lineWidth = 1.5
      surface.strokeStyle = palette.text
      surface.stroke()
      surface.setLineDash([])
    }
  }
}

/// Rear points are filled discs, lead points rings of their own colour; the middle ones and those of no side squares. A hidden
/// one is dashed, a blurred one has a second ring.
export function paintPoint(surface: CanvasRenderingContext2D, [x, y]: Point, point: ShownPoint, lead: Side | null): void {
  const side = sideLook(point.name, lead)
  const colour = point.inHand ? palette.limb : (side?.colour ?? palette.text)
  const radius = point.inHand ? 8 : 6
  const shape = (r: number): void => {
    surface.beginPath()
    if (side) surface.arc(x, y, r, 0, 2 * Math.PI)
    else surface.rect(x - r, y - r, 2 * r, 2 * r)
  }
  surface.setLineDash(point.seen === 'occluded' ? [3, 3] : [])
  surface.lineWidth = 4
  surface.strokeStyle = palette.casing
  shape(radius)
  surface.stroke()
  surface.lineWidth = 2
  surface.strokeStyle = colour
  surface.stroke()
  if (!side?.hollow) {
    surface.fillStyle = colour
    shape(2.5)
    surface.fill()
  }
  if (point.seen === 'blurred') {
    shape(radius + 4)
    surface.stroke()
  }
  surface.setLineDash([])
  paintOrigin(surface, x, y, radius + 5, point.origin)
  if (point.confidence !== undefined) paintConfidence(surface, x + radius + 9, y, point.confidence)
}

/// How sure a model says it is, beside its point.
function paintConfidence(surface: CanvasRenderingContext2D, x: number, y: number, confidence: number): void {
  const words = `${Math.round(100 * confidence)} %`
  surface.font = '12px Atkinson Hyperlegible, sans-serif'
  surface.textBaseline = 'middle'
  surface.lineWidth = 3
  surface.strokeStyle = palette.casing
  surface.strokeText(words, x, y)
  surface.fillStyle = palette.text
  surface.fillText(words, x, y)
}

/// Where a place comes from, about it: a followed one stands in a diamond, a corrected one in a triangle, a suggested one in a
/// dashed diamond; a placed one in nothing.
function paintOrigin(surface: CanvasRenderingContext2D, x: number, y: number, r: number, origin: Sample['origin']): void {
  if (origin === undefined || origin === 'placed') return
  surface.beginPath()
  const corners =
    origin === 'corrected'
      ? [
          [0, -r - 2],
          [r, r - 2],
          [-r, r - 2],
        ]
      : [
          [0, -r],
          [r, 0],
          [0, r],
          [-r, 0],
        ]
  for (const [dx = 0, dy = 0] of corners) surface.lineTo(x + dx, y + dy)
  surface.closePath()
  surface.setLineDash(origin === 'suggested' ? [3, 3] : [])
  surface.lineWidth = 3
  surface.strokeStyle = palette.casing
  surface.stroke()
  surface.lineWidth = 1.5
  surface.strokeStyle = palette.text
  surface.stroke()
  surface.setLineDash([])
}
