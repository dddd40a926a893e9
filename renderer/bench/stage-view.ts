import type { Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'

/// How the Bench's picture lies on its stage: stage pixels to one picture pixel, and where the picture's top-left corner
/// lies. A mirrored clip is shown flipped; points stay in unmirrored pixels.
export interface StageView {
  readonly scale: number
  readonly x: number
  readonly y: number
}

export interface Size {
  readonly width: number
  readonly height: number
}

export const LEAST_SCALE = 0.05
export const GREATEST_SCALE = 64

/// Pixels that a sheet takes of the stage, at its right.
export const SHEET = 340
/// A picture narrower than this lies under the sheet rather than beside it.
const LEAST_ROOM = 560

/// The part of the stage that the picture lies in, from its left: half of it where a second clip stands beside, what a sheet leaves
/// free where that is enough, else all.
export function pictureRoom(stage: Size, { beside, sheet }: { readonly beside: boolean; readonly sheet: boolean }): Size {
  if (beside) return { ...stage, width: stage.width / 2 }
  return sheet && stage.width - SHEET >= LEAST_ROOM ? { ...stage, width: stage.width - SHEET } : stage
}

/// The whole picture in the middle of the stage.
export function wholeView(picture: Size, stage: Size): StageView {
  const scale = Math.min(stage.width / picture.width, stage.height / picture.height)
  return { scale, x: (stage.width - picture.width * scale) / 2, y: (stage.height - picture.height * scale) / 2 }
}

/// Zooms by `factor`; what lies under `pointer` (stage pixels) stays under it.
export function zoomAbout(view: StageView, pointer: Point, factor: number): StageView {
  const scale = Math.max(LEAST_SCALE, Math.min(GREATEST_SCALE, view.scale * factor))
  const by = scale / view.scale
  return { scale, x: pointer[0] - (pointer[0] - view.x) * by, y: pointer[1] - (pointer[1] - view.y) * by }
}

export const panBy = (view: StageView, dx: number, dy: number): StageView => ({ ...view, x: view.x + dx, y: view.y + dy })

/// Moves the view just so far that a stage point comes to lie at least `margin` inside the stage.
export function bringIn(view: StageView, at: Point, stage: Size, margin: number): StageView {
  const inside = (value: number, size: number): number =>
    Math.max(Math.min(margin, size / 2), Math.min(size - Math.min(margin, size / 2), value))
  return panBy(view, inside(at[0], stage.width) - at[0], inside(at[1], stage.height) - at[1])
}

/// Picture pixels to stage pixels.
export const viewAffine = (view: StageView, picture: Size, mirrored: boolean): Affine =>
  mirrored
    ? { a: -view.scale, b: 0, c: 0, d: view.scale, e: view.x + picture.width * view.scale, f: view.y }
    : { a: view.scale, b: 0, c: 0, d: view.scale, e: view.x, f: view.y }

/// The picture point under a stage point.
export function pictureAtStage(view: StageView, at: Point, picture: Size, mirrored: boolean): Point {
  const x = (at[0] - view.x) / view.scale
  return [mirrored ? picture.width - x : x, (at[1] - view.y) / view.scale]
}

/// Whether a picture point lies on the picture.
export const isOnPicture = ([x, y]: Point, picture: Size): boolean => x >= 0 && y >= 0 && x <= picture.width && y <= picture.height

/// The nearest point of the picture.
export const ontoPicture = ([x, y]: Point, picture: Size): Point => [
  Math.max(0, Math.min(picture.width, x)),
  Math.max(0, Math.min(picture.height, y)),
]
