import { bones } from '../../app/body/body-points'
import { sideOf, type Side } from '../../app/body/landmark-name'
import { paintCanvas } from '../../app/marks/canvas'
import type { DrawContext } from '../../app/marks/draw-context'
import { ink, lineStyle, type PartStyle } from '../../app/marks/ink'
import { letteringOf } from '../../app/marks/lettering'
import { palette } from '../../app/marks/palette'
import { measureLines, measureOf } from '../../app/marks/shot-scene'
import { applyAffine, type Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { Sample } from '../../app/project/film'
import type { FilmFrames } from '../player/film-frames'
import type { Size, StageView } from './stage-view'

/// What the Bench paints: picture, skeleton, measures, hair lines and magnifier, in one canvas and one task.

export interface BenchScene {
  readonly film: FilmFrames
  readonly footage: string
  readonly frame: number
  readonly mirrored: boolean
  readonly view: StageView
  readonly toStage: Affine
  readonly stage: Size
  /// Stage pixels to one canvas pixel.
  readonly density: number
  /// Brightness and contrast of the picture alone, 1 as it is.
  readonly brightness: number
  readonly contrast: number
  /// Points as they are shown: where, and how they are seen.
  readonly points: readonly ShownPoint[]
  readonly lead: Side | null
  /// Measures whose lines are drawn as they will be burned in.
  readonly measures: readonly string[]
  readonly context: DrawContext | null
  /// From a reading's edge to its joint, stage pixels.
  readonly ties: readonly (readonly [Point, Point])[]
  /// The point being placed, and 95 % of where it may lie, picture pixels.
  readonly aim: { readonly at: Point; readonly radius: number; readonly label: string } | null
}

export interface ShownPoint {
  readonly name: string
  readonly at: Point
  readonly seen: Sample['seen']
  readonly origin: Sample['origin']
  readonly inHand: boolean
  /// A model's own, 0 to 1, where it is not accepted yet.
  readonly confidence?: number
}

const STAGE_COLOUR = '#101214'
const LOUPE = 184
const LOUPE_SCALE = 6

/// Paints the stage. Answers what stands on it: nothing yet, a small picture, or the whole one, on which points may be
/// placed.
/// `beside`: a second clip on the right half, painted in the same task, so that both always stand on their frames; where one
/// of them is not there yet, neither is painted.
export function paintBench(surface: CanvasRenderingContext2D, scene: BenchScene, beside: BenchScene | null = null): 'missing' | 'small' | 'full' {
  const taken = scene.film.take(scene.frame)
  const other = beside?.film.take(beside.frame) ?? null
  if (!taken || (beside && !other)) return 'missing'
  const { stage, density } = scene
  surface.setTransform(density, 0, 0, density, 0, 0)
  surface.globalAlpha = 1
  surface.fillStyle = STAGE_COLOUR
  surface.fillRect(0, 0, stage.width, stage.height)
  paintFilm(surface, scene, taken.picture, scene.toStage, scene.view.scale)
  surface.setTransform(density, 0, 0, density, 0, 0)
  paintMarks(surface, scene, scene.toStage)
  if (beside && other) {
    surface.save()
    surface.beginPath()
    surface.rect(stage.width / 2, 0, stage.width / 2, stage.height)
    surface.clip()
    surface.fillStyle = STAGE_COLOUR
    surface.fillRect(stage.width / 2, 0, stage.width / 2, stage.height)
    paintFilm(surface, beside, other.picture, beside.toStage, beside.view.scale)
    paintMarks(surface, beside, beside.toStage)
    surface.restore()
  }
  if (scene.aim && taken.detail === 'full') paintLoupe(surface, scene, taken.picture, scene.aim)
  return taken.detail
}

function paintFilm(surface: CanvasRenderingContext2D, scene: BenchScene, picture: ImageBitmap, m: Affine, scale: number): void {
  surface.save()
  surface.transform(m.a, m.b, m.c, m.d, m.e, m.f)
  // From three times its size on, a pixel is shown as the square that it is.
  surface.imageSmoothingEnabled = scale * scene.density < 3
  // Shrunk to less than half, a picture needs more than its four nearest pixels; else that costs a step half its time for nothing.
  surface.imageSmoothingQuality = picture.width > 2 * scene.film.width * scale * scene.density ? 'medium' : 'low'
  if (scene.brightness !== 1 || scene.contrast !== 1) surface.filter = `brightness(${scene.brightness}) contrast(${scene.contrast})`
  surface.drawImage(picture, 0, 0, scene.film.width, scene.film.height)
  surface.restore()
}

function paintMarks(surface: CanvasRenderingContext2D, scene: BenchScene, toStage: Affine): void {
  const { context, stage } = scene
  if (!context) return
  const unit = 0.85
  const pen = ink(unit)
  const at = new Map(scene.points.map((p) => [p.name, applyAffine(toStage, p.at)]))
  for (const { from, to, part } of bones) {
    const [a, b] = [at.get(from), at.get(to)]
    if (a && b) pen.line([a, b], lineStyle(boneStyle(part, from, scene.lead), unit))
  }
  paintCanvas(surface, pen.shapes(), context.typeface)
  const shown = { footage: scene.footage, frame: scene.frame, place: [0, 0, stage.width, stage.height] as const, shown: [0, 0, scene.film.width, scene.film.height] as const, mirrored: scene.mirrored, opacity: 1, toCanvas: toStage }
  const lettering = letteringOf(stage.width, stage.height)
  for (const id of scene.measures) {
    const measure = measureOf(id, context)
    const drawn = measure && measureLines(measure, shown, context, lettering)
    if (drawn) paintCanvas(surface, drawn.shapes, context.typeface)
  }
  for (const point of scene.points) paintPoint(surface, at.get(point.name) as Point, point, scene.lead)
  surface.strokeStyle = palette.hairline
  surface.fillStyle = palette.hairline
  surface.lineWidth = 1
  for (const [from, to] of scene.ties) {
    surface.globalAlpha = 0.75
    surface.beginPath()
    surface.moveTo(...from)
    surface.lineTo(...to)
    surface.stroke()
    surface.globalAlpha = 1
    surface.beginPath()
    surface.arc(to[0], to[1], 3, 0, 2 * Math.PI)
    surface.fill()
  }
}

function boneStyle(part: 'limb' | 'hips' | 'shoulders', from: string, lead: Side | null): PartStyle {
  if (part !== 'limb') return part
  return lead !== null && sideOf(from) === lead ? 'lead' : 'rear'
}

/// Rear points are filled discs, lead points rings; the middle ones and those of no side squares. A hidden one is
/// dashed, a blurred one has a second ring.
function paintPoint(surface: CanvasRenderingContext2D, [x, y]: Point, point: ShownPoint, lead: Side | null): void {
  const side = sideOf(point.name)
  const isLead = side !== null && side === (lead ?? 'left')
  const radius = point.inHand ? 8 : 6
  const shape = (r: number): void => {
    surface.beginPath()
    if (side === 'left' || side === 'right') surface.arc(x, y, r, 0, 2 * Math.PI)
    else surface.rect(x - r, y - r, 2 * r, 2 * r)
  }
  surface.setLineDash(point.seen === 'occluded' ? [3, 3] : [])
  surface.lineWidth = 4
  surface.strokeStyle = palette.casing
  shape(radius)
  surface.stroke()
  surface.lineWidth = 2
  surface.strokeStyle = point.inHand ? palette.limb : palette.text
  surface.stroke()
  if (!isLead) {
    surface.fillStyle = point.inHand ? palette.limb : palette.text
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
  const corners = origin === 'corrected' ? [[0, -r - 2], [r, r - 2], [-r, r - 2]] : [[0, -r], [r, 0], [0, r], [-r, 0]]
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

/// The square beside the point being placed: the same pixels, six times as large as on the stage or more, with the point in its
/// middle and, dashed, where it lies with 95 %.
function paintLoupe(surface: CanvasRenderingContext2D, scene: BenchScene, picture: ImageBitmap, aim: { readonly at: Point; readonly radius: number }): void {
  const { stage, toStage } = scene
  const at = applyAffine(toStage, aim.at)
  const left = at[0] + 56 + LOUPE < stage.width ? at[0] + 56 : at[0] - 56 - LOUPE
  const top = Math.max(12, Math.min(stage.height - LOUPE - 12, at[1] - LOUPE / 2))
  const scale = Math.max(LOUPE_SCALE, Math.min(24, scene.view.scale * 3))
  const middle: Point = [left + LOUPE / 2, top + LOUPE / 2]
  const flip = scene.mirrored ? -1 : 1
  const m: Affine = { a: flip * scale, b: 0, c: 0, d: scale, e: middle[0] - flip * scale * aim.at[0], f: middle[1] - scale * aim.at[1] }
  surface.save()
  surface.beginPath()
  surface.rect(left, top, LOUPE, LOUPE)
  surface.clip()
  surface.fillStyle = STAGE_COLOUR
  surface.fillRect(left, top, LOUPE, LOUPE)
  paintFilm(surface, scene, picture, m, scale)
  surface.lineWidth = 2
  surface.strokeStyle = palette.casing
  cross(surface, middle, 17)
  surface.strokeStyle = palette.text
  surface.lineWidth = 1
  cross(surface, middle, 16)
  surface.setLineDash([6, 5])
  surface.lineWidth = 2
  surface.beginPath()
  surface.arc(middle[0], middle[1], Math.min(LOUPE / 2 - 4, aim.radius * scale), 0, 2 * Math.PI)
  surface.stroke()
  surface.setLineDash([])
  surface.restore()
  surface.strokeStyle = '#e8e6e1'
  surface.lineWidth = 2
  surface.strokeRect(left, top, LOUPE, LOUPE)
}

/// A cross that leaves its very middle free.
function cross(surface: CanvasRenderingContext2D, [x, y]: Point, reach: number): void {
  surface.beginPath()
  for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]] as const) {
    surface.moveTo(x + dx * 4, y + dy * 4)
    surface.lineTo(x + dx * reach, y + dy * reach)
  }
  surface.stroke()
}

