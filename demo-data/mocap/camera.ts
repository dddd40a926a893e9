import type { Vector3 } from './bvh'

/// An ideal pinhole camera in the capture's space: metres, Y up.

export interface PinholeSetup {
  readonly position: Vector3
  /// A point that it looks at; it falls on the centre of the picture.
  readonly target: Vector3
  /// Focal length in pixels.
  readonly focal_px: number
  readonly width: number
  readonly height: number
  /// How far the camera is turned about its axis, + clockwise as its operator sees it (what
  /// stands upright then leans to the left on the picture). Absent: upright.
  readonly roll_deg?: number
}

export interface Projected {
  /// Pixels of the picture, (0, 0) its top-left corner, y down, pixel centres at + 0.5.
  readonly x: number
  readonly y: number
  /// Metres in front of the camera along its axis; not above 0: behind it, and x, y mean nothing.
  readonly depth: number
}

export interface Pinhole extends PinholeSetup {
  readonly project: (point: Vector3) => Projected
  /// The camera's axes in the capture's space, unit length: image right, image down, forward.
  readonly right: Vector3
  readonly down: Vector3
  readonly forward: Vector3
}

const cross = (a: Vector3, b: Vector3): Vector3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
const dot = (a: Vector3, b: Vector3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const unit = (a: Vector3): Vector3 => {
  const length = Math.hypot(...a)
  return [a[0] / length, a[1] / length, a[2] / length]
}

/// Sets the camera up. Looking straight down (or up), image up is −Z. Throws when the camera
/// stands on its target.
export function pinhole(setup: PinholeSetup): Pinhole {
  const { position: p, target: t, focal_px, width, height } = setup
  const towards: Vector3 = [t[0] - p[0], t[1] - p[1], t[2] - p[2]]
  if (!(Math.hypot(...towards) > 1e-9)) throw new RangeError('the camera stands on its target')
  const forward = unit(towards)
  const up: Vector3 = Math.abs(forward[1]) > 1 - 1e-9 ? [0, 0, -1] : [0, 1, 0]
  const level = unit(cross(forward, up))
  const plumb = cross(forward, level)
  const roll = ((setup.roll_deg ?? 0) * Math.PI) / 180
  const turn = (a: Vector3, b: Vector3, c: number, s: number): Vector3 => [a[0] * c + b[0] * s, a[1] * c + b[1] * s, a[2] * c + b[2] * s]
  const right = turn(level, plumb, Math.cos(roll), Math.sin(roll))
  const down = turn(plumb, level, Math.cos(roll), -Math.sin(roll))
  const project = (point: Vector3): Projected => {
    const d: Vector3 = [point[0] - p[0], point[1] - p[1], point[2] - p[2]]
    const depth = dot(d, forward)
    return { x: width / 2 + (focal_px * dot(d, right)) / depth, y: height / 2 + (focal_px * dot(d, down)) / depth, depth }
  }
  return { ...setup, project, right, down, forward }
}
