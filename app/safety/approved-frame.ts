import { clearance, type Obstacle } from '../marks/box'
import { drawFrame } from '../marks/frame-drawing'
import type { DrawContext } from '../marks/draw-context'
import type { Shape } from '../marks/shape'
import { applyAffine, invert } from '../programme/affine'
import { pictureOfShot } from '../programme/picture-at'
import type { LaidShot, Picture, Programme } from '../programme/programme'
import type { Point } from '../project/fields'
import type { DecodedPicture } from './label-contrast'

/// A footage frame that somebody chose to be shown (a hold, the still part of a pair), and an output frame on which
/// the film shows it.
export interface ApprovedFrame {
  readonly shot: LaidShot
  readonly panel: number
  readonly footage: string
  readonly clip: string
  readonly frame: number
  /// Output frame of the film.
  readonly at: number
}

/// Every approved frame of a programme: one for each picture of each hold, and of each pair at its shared event.
export function approvedFrames(programme: Programme): ApprovedFrame[] {
  return programme.shots.flatMap((shot) => {
    if (shot.index < 0 || (shot.kind !== 'hold' && shot.kind !== 'pair')) return []
    return shot.panels.flatMap((panel, i): ApprovedFrame[] => {
      const at = shot.kind === 'hold' ? shot.frames - 1 : longestStanding(panel.frames)
      return [{ shot, panel: i, footage: panel.footage, clip: panel.clip, frame: panel.frames[at] as number, at: shot.start + at }]
    })
  })
}

function longestStanding(frames: Int32Array): number {
  let best = { from: 0, length: 0 }
  for (let from = 0; from < frames.length;) {
    let to = from + 1
    while (to < frames.length && frames[to] === frames[from]) to++
    if (to - from > best.length) best = { from, length: to - from }
    from = to
  }
  return best.from + (best.length >> 1)
}

/// Columns of the comparison; rows follow the canvas.
const COLUMNS = 160

/// Points of a canvas at which a picture shows nothing but footage: marks, plates and pictures over it left out. None
/// where pictures are laid over each other, for there no point is of one alone.
export function barePoints(approved: ApprovedFrame, context: DrawContext): Point[] {
  const picture = pictureOfShot(approved.shot, approved.at - approved.shot.start)
  const shapes = drawFrame(picture, context)
  const step = context.width / COLUMNS
  const solid = shapes.map((shape) => ({ shape, bounds: extentOf(shape) }))
  const [left, top, width, height] = (picture.panels[approved.panel] as Picture['panels'][number]).place
  if (approved.shot.panels.some((panel) => panel.over !== null)) return []
  const points: Point[] = []
  for (let y = step / 2; y < context.height; y += step)
    for (let x = step / 2; x < context.width; x += step) {
      if (x < left + step || x > left + width - step || y < top + step || y > top + height - step) continue
      if (!solid.some(({ shape, bounds }) => bounds && covers(shape, bounds, [x, y], step))) points.push([x, y])
    }
  return points
}

type Bounds = readonly [number, number, number, number]

function extentOf(shape: Shape): Bounds | null {
  if (shape.kind === 'text') return null
  const points = shape.rings.flat()
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])]
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
}

function covers(shape: Shape, [x0, y0, x1, y1]: Bounds, [x, y]: Point, margin: number): boolean {
  if (shape.kind === 'text' || x < x0 - margin || x > x1 + margin || y < y0 - margin || y > y1 + margin) return false
  if (winding(shape.rings, [x, y]) !== 0) return true
  // Close to an edge it bleeds.
  const spot = { x, y, width: 0, height: 0 }
  return shape.rings.some((ring) =>
    ring.some((to, i) => clearance(spot, { kind: 'segment', from: ring.at(i - 1) as Point, to, radius: margin } satisfies Obstacle) < 0),
  )
}

/// How often rings run round a point; 0: it lies outside (non-zero rule).
function winding(rings: readonly (readonly Point[])[], [x, y]: Point): number {
  let turns = 0
  for (const ring of rings)
    for (const [i, to] of ring.entries()) {
      const from = ring.at(i - 1) as Point
      const side = (to[0] - from[0]) * (y - from[1]) - (x - from[0]) * (to[1] - from[1])
      if (from[1] <= y && to[1] > y && side > 0) turns++
      else if (from[1] > y && to[1] <= y && side < 0) turns--
    }
  return turns
}

/// Mean difference of the 8-bit channels between the finished film's frame and a footage frame, where both show
/// footage; null where too little of it is bare. `film` and `footage` may have any scale.
export function differenceOf(
  approved: ApprovedFrame,
  bare: readonly Point[],
  film: DecodedPicture,
  footage: DecodedPicture,
  canvas: { readonly width: number; readonly height: number },
): number | null {
  if (bare.length < 40) return null
  const shot = approved.shot
  const panel = shot.panels[approved.panel]
  const shown = pictureOfShot(shot, approved.at - shot.start).panels[approved.panel]
  if (!panel || !shown) return null
  const back = invert(shown.toCanvas)
  const [onFilm, onFootage] = [film.width / canvas.width, footage.width / panel.source.width]
  let sum = 0
  let seen = 0
  for (const at of bare) {
    const source = applyAffine(back, at)
    if (source[0] < 1 || source[1] < 1 || source[0] > panel.source.width - 1 || source[1] > panel.source.height - 1) continue
    const [a, b] = [sampled(film, at[0] * onFilm, at[1] * onFilm), sampled(footage, source[0] * onFootage, source[1] * onFootage)]
    sum += Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]) + Math.abs(a[2] - b[2])
    seen++
  }
  return seen < 40 ? null : sum / (3 * seen)
}

/// The colour at a place between pixels, whose centres lie at + 0.5.
function sampled(picture: DecodedPicture, x: number, y: number): readonly [number, number, number] {
  const [fx, fy] = [Math.min(Math.max(x - 0.5, 0), picture.width - 1), Math.min(Math.max(y - 0.5, 0), picture.height - 1)]
  const [x0, y0] = [Math.min(Math.floor(fx), picture.width - 2), Math.min(Math.floor(fy), picture.height - 2)]
  const [kx, ky] = [fx - x0, fy - y0]
  const at = (dx: number, dy: number, c: number): number => picture.rgb[3 * ((y0 + dy) * picture.width + x0 + dx) + c] as number
  const channel = (c: number): number =>
    (1 - ky) * ((1 - kx) * at(0, 0, c) + kx * at(1, 0, c)) + ky * ((1 - kx) * at(0, 1, c) + kx * at(1, 1, c))
  return [channel(0), channel(1), channel(2)]
}

/// Mean difference of a frame to itself through the film's coding, at most; beyond it, it is another picture.
const MOST_DIFFERENCE = 9
/// By this much a neighbouring frame must fit better to be taken for the one that is shown.
const CLEARLY = 0.25

/// Whether the film shows the approved frame: it fits, and neither neighbour fits better.
export function showsApproved(own: number, neighbours: readonly (number | null)[]): boolean {
  return own <= MOST_DIFFERENCE && neighbours.every((other) => other === null || other > own - CLEARLY)
}
