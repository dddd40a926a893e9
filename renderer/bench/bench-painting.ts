import type { Side } from '../../app/body/landmark-name'
import { paintCanvas } from '../../app/marks/canvas'
import type { DrawContext } from '../../app/marks/draw-context'
import { letteringOf } from '../../app/marks/lettering'
import { palette } from '../../app/marks/palette'
import { measureLines, measureOf } from '../../app/marks/shot-scene'
import { applyAffine, type Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { FilmFrames } from '../player/film-frames'
import { paintMagnifier, type Room } from './magnifier'
import { paintSmear, type Smear } from './smear'
import { paintFilm, STAGE_COLOUR } from './stage-picture'
import { paintBones, paintHallLines, paintPoint, type ShownPoint } from './skeleton'
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
  /// The point under the hand, and 95 % of where it may lie, picture pixels.
  readonly aim: { readonly at: Point; readonly radius: number; readonly label: string } | null
  /// A blur that is being drawn.
  readonly smear: Smear | null
  /// The part of the stage that nothing lies upon, for the magnifier.
  readonly free: Room
}

/// Paints the stage. Answers what stands on it: nothing yet, a small picture, or the whole one, on which points may be
/// placed.
/// `beside`: a second clip on the right half, painted in the same task, so that both always stand on their frames; where one
/// of them is not there yet, neither is painted.
export function paintBench(
  surface: CanvasRenderingContext2D,
  scene: BenchScene,
  beside: BenchScene | null = null,
): 'missing' | 'small' | 'full' {
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
  if (scene.aim && taken.detail === 'full') paintMagnifier(surface, scene, taken.picture, scene.aim)
  return taken.detail
}

function paintMarks(surface: CanvasRenderingContext2D, scene: BenchScene, toStage: Affine): void {
  const { context, stage } = scene
  if (!context) return
  paintBones(surface, scene.points, toStage, scene.lead, context.typeface)
  paintHallLines(surface, scene.points, toStage)
  const shown = {
    footage: scene.footage,
    frame: scene.frame,
    place: [0, 0, stage.width, stage.height] as const,
    shown: [0, 0, scene.film.width, scene.film.height] as const,
    mirrored: scene.mirrored,
    opacity: 1,
    toCanvas: toStage,
  }
  const lettering = letteringOf(stage.width, stage.height)
  for (const id of scene.measures) {
    const measure = measureOf(id, context)
    const drawn = measure && measureLines(measure, shown, context, lettering)
    if (drawn) paintCanvas(surface, drawn.shapes, context.typeface)
  }
  for (const point of scene.points) paintPoint(surface, applyAffine(toStage, point.at), point, scene.lead)
  if (scene.smear) paintSmear(surface, scene.smear, toStage)
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
