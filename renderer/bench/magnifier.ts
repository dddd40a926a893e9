import { palette } from '../../app/marks/palette'
import { applyAffine, type Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { BenchScene } from './bench-painting'
import { paintSmear } from './smear'
import { paintFilm, STAGE_COLOUR } from './stage-picture'

/// A rectangle of the stage, its pixels.
export interface Room {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

export const SIDE = 184
/// From the point to the square.
const GAP = 56
const LEAST_SCALE = 6

/// Where the square stands for a point of the stage: at its right, else at its left, else below or above it; always in the
/// free room, so that no sheet lies upon it.
export function magnifierPlace([x, y]: Point, room: Room): Point {
  const within = (value: number, least: number, most: number): number => Math.max(least, Math.min(most - SIDE, value))
  const level = within(y - SIDE / 2, room.top, room.bottom)
  if (x + GAP + SIDE <= room.right) return [Math.max(room.left, x + GAP), level]
  if (x - GAP - SIDE >= room.left) return [Math.min(room.right - SIDE, x - GAP - SIDE), level]
  return [
    within(x - SIDE / 2, room.left, room.right),
    y + GAP + SIDE <= room.bottom ? y + GAP : within(y - GAP - SIDE, room.top, room.bottom),
  ]
}

/// How the picture lies in the square; and the square's own top-left corner, stage pixels.
export function magnifierView(
  { toStage, free, view, mirrored }: Pick<BenchScene, 'toStage' | 'free' | 'view' | 'mirrored'>,
  aim: Point,
): { readonly toStage: Affine; readonly scale: number; readonly corner: Point } {
  const [left, top] = magnifierPlace(applyAffine(toStage, aim), free)
  const scale = Math.max(LEAST_SCALE, Math.min(24, view.scale * 3))
  const flip = mirrored ? -1 : 1
  return {
    scale,
    corner: [left, top],
    toStage: { a: flip * scale, b: 0, c: 0, d: scale, e: left + SIDE / 2 - flip * scale * aim[0], f: top + SIDE / 2 - scale * aim[1] },
  }
}

/// The square beside the point under the hand: the same pixels, six times as large as on the stage or more, with the point in its
/// middle and, dashed, where it lies with 95 %.
export function paintMagnifier(
  surface: CanvasRenderingContext2D,
  scene: BenchScene,
  picture: ImageBitmap,
  aim: { readonly at: Point; readonly radius: number },
): void {
  const {
    toStage: m,
    scale,
    corner: [left, top],
  } = magnifierView(scene, aim.at)
  const middle: Point = [left + SIDE / 2, top + SIDE / 2]
  surface.save()
  surface.beginPath()
  surface.rect(left, top, SIDE, SIDE)
  surface.clip()
  surface.fillStyle = STAGE_COLOUR
  surface.fillRect(left, top, SIDE, SIDE)
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
  surface.arc(middle[0], middle[1], Math.min(SIDE / 2 - 4, aim.radius * scale), 0, 2 * Math.PI)
  surface.stroke()
  surface.setLineDash([])
  if (scene.smear) paintSmear(surface, scene.smear, m)
  surface.restore()
  surface.strokeStyle = '#e8e6e1'
  surface.lineWidth = 2
  surface.strokeRect(left, top, SIDE, SIDE)
}

/// A cross that leaves its very middle free.
function cross(surface: CanvasRenderingContext2D, [x, y]: Point, reach: number): void {
  surface.beginPath()
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    surface.moveTo(x + dx * 4, y + dy * 4)
    surface.lineTo(x + dx * reach, y + dy * reach)
  }
  surface.stroke()
}
