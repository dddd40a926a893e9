import { palette } from '../../app/marks/palette'
import { applyAffine, type Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'

/// A blurred point's smear as a hand draws it, from one of its edges to the other, picture pixels.
export interface Smear {
  readonly from: Point
  readonly to: Point
}

/// What a drag over a smear is called among those of points; no point's name begins like it.
export const SMEAR = '+smear'
/// The longest that is kept, picture pixels.
export const LONGEST_BLUR = 500
/// A pointer that moves less than this has pressed, not drawn; stage pixels.
export const STILL = 4

/// Picture pixels, to a tenth.
export const smearLength = ({ from, to }: Smear): number =>
  Math.min(LONGEST_BLUR, Math.round(10 * Math.hypot(to[0] - from[0], to[1] - from[1])) / 10)

const TICK = 6

/// A line over the smear, with a stroke across it at each end. `toStage`: of the picture, on the stage or in the magnifier.
export function paintSmear(surface: CanvasRenderingContext2D, smear: Smear, toStage: Affine): void {
  const [[x, y], [X, Y]] = [applyAffine(toStage, smear.from), applyAffine(toStage, smear.to)]
  const length = Math.hypot(X - x, Y - y) || 1
  const [across, down] = [(-(Y - y) / length) * TICK, ((X - x) / length) * TICK]
  surface.beginPath()
  surface.moveTo(x, y)
  surface.lineTo(X, Y)
  for (const [ex, ey] of [
    [x, y],
    [X, Y],
  ] as const) {
    surface.moveTo(ex - across, ey - down)
    surface.lineTo(ex + across, ey + down)
  }
  surface.lineWidth = 4
  surface.strokeStyle = palette.casing
  surface.stroke()
  surface.lineWidth = 2
  surface.strokeStyle = palette.limb
  surface.stroke()
}
