import type { Pinhole } from '../mocap/camera'
import { moveCast, placeCast, type Strike } from './cast'
import { colourAt, type Kit } from './fabric'
import { Grader, type Patch } from './grade'
import { paintHall, type Backdrop, type Hall, type RingSide } from './hall'
import { FloorShadow, KeyMap, lightCast, type Rig } from './light'
import { dice } from './noise'
import { Raster } from './raster'
import { unit, type Vector } from './quaternion'

/// Paints single frames of a film: the strike seen by one still camera, with the shutter open for
/// `shutter_s` about the frame's instant.

export interface Look {
  readonly kit: Kit
  readonly hall: Hall
  readonly rig: Rig
  readonly grain: number
}

export interface View {
  readonly strike: Strike
  readonly camera: Pinhole
  readonly look: Look
  /// Sides of the ring whose ropes are left out: the camera stands there, between them.
  readonly open: readonly RingSide[]
  readonly shutter_s: number
  /// Instants over which a frame is averaged, each with the picture shifted by part of a pixel.
  readonly samples: number
}

const STRAIGHT_UP: Vector = [0, 1, 0]

export class Painter {
  private readonly backdrop: Backdrop
  private readonly grader: Grader
  private readonly raster: Raster
  private readonly keyMap: KeyMap
  private readonly shadow: FloorShadow
  private readonly points: Float32Array
  private readonly normals: Float32Array
  private readonly light: Float32Array
  private readonly seen: Float32Array
  private readonly sum: Float32Array
  private readonly cover: Float32Array
  private readonly frame: Float32Array
  private readonly middle: Float32Array
  /// Which 2×2 blocks of the frame differ from the backdrop.
  private readonly touched: Uint8Array
  private readonly colour = new Float32Array(3)
  private readonly jitter: readonly (readonly [number, number])[]

  constructor(readonly view: View) {
    const { camera, look, strike } = view
    const { width, height } = camera
    this.backdrop = paintHall(look.hall, camera, view.open)
    this.grader = new Grader(width, height, look.grain, this.backdrop.light)
    this.raster = new Raster(width, height)
    const [bx, bz] = strike.bag.home
    const centre: Vector = [bx * 0.5, 0.85, bz * 0.5 + 0.05]
    this.keyMap = new KeyMap(unit(look.rig.key), centre)
    this.shadow = new FloorShadow(centre[0], centre[2])
    const n = strike.cast.count
    this.points = new Float32Array(n * 3)
    this.normals = new Float32Array(n * 3)
    this.seen = new Float32Array(n * 3)
    this.light = new Float32Array(n * 4)
    this.sum = new Float32Array(width * height * 3)
    this.cover = new Float32Array(width * height)
    this.frame = new Float32Array(width * height * 3)
    this.touched = new Uint8Array((width * height) / 4)
    this.middle = new Float32Array(width * height)
    this.jitter = jitterOf(view.samples)
  }

  /// The frame whose instant is `seconds` of the capture, as planar Y, Cb, Cr bytes.
  paint(seconds: number, number: number): Uint8Array {
    const { view, points, normals } = this
    const { strike, look, camera } = view
    const { cast } = strike
    placeCast(strike, seconds, points, normals)
    this.keyMap.draw(points, cast.triangles)
    lightCast(look.rig, this.keyMap, camera.position, points, normals, cast.material, this.light)
    this.shadow.clear()
    this.shadow.add(points, cast.triangles, unit(look.rig.key), 0.62, 3)
    this.shadow.add(points, cast.triangles, unit([-look.rig.key[0], look.rig.key[1] * 1.3, -look.rig.key[2]]), 0.3, 5)
    this.shadow.add(points, cast.triangles, STRAIGHT_UP, 0.42, 7)
    let patch = this.shadowPatch()
    this.jitter.forEach(([jx, jy], s) => {
      const at = seconds + view.shutter_s * ((s + 0.5) / view.samples - 0.5)
      moveCast(strike, at, points)
      this.expose(jx, jy)
      patch = around(patch, this.raster)
      if (s === view.samples >> 1) this.middle.set(this.raster.depth)
    })
    patch = evened(patch, camera.width, camera.height)
    this.compose(patch)
    const picture = this.grader.develop(this.frame, patch, this.touched, number)
    for (let y = patch.top; y < patch.bottom; y++) {
      const row = y * camera.width
      this.sum.fill(0, (row + patch.left) * 3, (row + patch.right) * 3)
      this.cover.fill(0, row + patch.left, row + patch.right)
    }
    return picture
  }

  /// Where on the picture the floor is darkened.
  private shadowPatch(): Patch {
    const { camera } = this.view
    const corners = this.shadow.corners().map(([x, z]) => camera.project([x, 0, z]))
    if (corners.length === 0 || corners.some((c) => c.depth <= 0.1)) return { left: 0, top: 0, right: camera.width, bottom: camera.height }
    const xs = corners.map((c) => c.x)
    const ys = corners.map((c) => c.y)
    return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) }
  }

  /// Depth of what was drawn at a place of the last painted frame, metres; Infinity where nothing was.
  depthAt(x: number, y: number): number {
    return this.middle[Math.min(this.view.camera.height - 1, Math.floor(y)) * this.view.camera.width + Math.floor(x)] ?? Infinity
  }

  private expose(jx: number, jy: number): void {
    const { points, seen, raster, view, sum, cover, light } = this
    const { camera, strike, look } = view
    const { cast } = strike
    const { position: p, right: r, down: d, forward: f, focal_px, width, height } = camera
    for (let i = 0; i < points.length; i += 3) {
      const x = points[i]! - p[0],
        y = points[i + 1]! - p[1],
        z = points[i + 2]! - p[2]
      const depth = f[0] * x + f[1] * y + f[2] * z
      const k = focal_px / depth
      seen[i] = width / 2 + (r[0] * x + r[1] * y + r[2] * z) * k + jx
      seen[i + 1] = height / 2 + (d[0] * x + d[1] * y + d[2] * z) * k + jy
      seen[i + 2] = depth
    }
    raster.clear()
    raster.draw(seen, cast.triangles, true)
    const { triangles, rest, material, mottle } = cast
    const colour = this.colour
    for (let py = raster.top; py < raster.bottom; py++)
      for (let px = raster.left; px < raster.right; px++) {
        const at = py * width + px
        if (raster.depth[at] === Infinity) continue
        const t = raster.owner[at]!
        const a = triangles[t]!,
          b = triangles[t + 1]!,
          c = triangles[t + 2]!
        const a3 = a * 3,
          b3 = b * 3,
          c3 = c * 3
        const ax = seen[a3]!,
          ay = seen[a3 + 1]!
        const ux = seen[b3]! - ax,
          uy = seen[b3 + 1]! - ay
        const vx = seen[c3]! - ax,
          vy = seen[c3 + 1]! - ay
        const k = 1 / (ux * vy - uy * vx)
        const qx = px + 0.5 - ax,
          qy = py + 0.5 - ay
        const wb = (qx * vy - qy * vx) * k
        const wc = (ux * qy - uy * qx) * k
        const wa = 1 - wb - wc
        colourAt(
          look.kit,
          material[a]!,
          wa * rest[a3]! + wb * rest[b3]! + wc * rest[c3]!,
          wa * rest[a3 + 1]! + wb * rest[b3 + 1]! + wc * rest[c3 + 1]!,
          wa * rest[a3 + 2]! + wb * rest[b3 + 2]! + wc * rest[c3 + 2]!,
          wa * mottle[2 * a]! + wb * mottle[2 * b]! + wc * mottle[2 * c]!,
          wa * mottle[2 * a + 1]! + wb * mottle[2 * b + 1]! + wc * mottle[2 * c + 1]!,
          colour,
        )
        const a4 = a * 4,
          b4 = b * 4,
          c4 = c * 4
        const glint = wa * light[a4 + 3]! + wb * light[b4 + 3]! + wc * light[c4 + 3]!
        const o = at * 3
        sum[o]! += colour[0]! * (wa * light[a4]! + wb * light[b4]! + wc * light[c4]!) + glint
        sum[o + 1]! += colour[1]! * (wa * light[a4 + 1]! + wb * light[b4 + 1]! + wc * light[c4 + 1]!) + glint * 0.95
        sum[o + 2]! += colour[2]! * (wa * light[a4 + 2]! + wb * light[b4 + 2]! + wc * light[c4 + 2]!) + glint * 0.86
        cover[at]! += 1
      }
  }

  private compose(patch: Patch): void {
    const { frame, backdrop, sum, cover, shadow, touched } = this
    const { floorX, floorZ, light } = backdrop
    const { width } = this.view.camera
    const k = 1 / this.view.samples
    const [left, right, near, far] = shadow.extent
    for (let y = patch.top; y < patch.bottom; y += 2) touched.fill(0, (y * width) / 4 + patch.left / 2, (y * width) / 4 + patch.right / 2)
    for (let y = patch.top; y < patch.bottom; y++)
      for (let i = y * width + patch.left, end = i + patch.right - patch.left; i < end; i++) {
        const o = 3 * i
        let back = 1 - cover[i]! * k
        let dark = 0
        if (back > 0) {
          const x = floorX[i]!
          const z = floorZ[i]!
          if (x > left && x < right && z > near && z < far) back *= 1 - (dark = shadow.darkness(x, z))
        }
        if (back !== 1 || dark > 0) touched[(y >> 1) * (width >> 1) + ((i - y * width) >> 1)] = 1
        frame[o] = light[o]! * back + sum[o]! * k
        frame[o + 1] = light[o + 1]! * back + sum[o + 1]! * k
        frame[o + 2] = light[o + 2]! * back + sum[o + 2]! * k
      }
  }
}

const around = (a: Patch, b: Patch): Patch => ({
  left: Math.min(a.left, b.left),
  top: Math.min(a.top, b.top),
  right: Math.max(a.right, b.right),
  bottom: Math.max(a.bottom, b.bottom),
})

/// Grown to even edges within the picture.
function evened({ left, top, right, bottom }: Patch, width: number, height: number): Patch {
  const down = (v: number): number => Math.max(0, Math.floor(v / 2) * 2)
  const up = (v: number, limit: number): number => Math.min(limit, Math.ceil(v / 2) * 2)
  return {
    left: down(left),
    top: down(top),
    right: Math.max(down(left), up(right, width)),
    bottom: Math.max(down(top), up(bottom, height)),
  }
}

/// Shifts within ± half a pixel whose mean is nothing, spread evenly and shuffled in time.
function jitterOf(samples: number): (readonly [number, number])[] {
  const random = dice(samples)
  const shifts = Array.from({ length: samples }, (_, i) => [(i + 0.5) / samples - 0.5, ((i * 0.61803398875) % 1) - 0.5] as [number, number])
  for (let i = samples - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1))
    ;[shifts[i], shifts[j]] = [shifts[j]!, shifts[i]!]
  }
  const mx = shifts.reduce((s, v) => s + v[0], 0) / samples
  const my = shifts.reduce((s, v) => s + v[1], 0) / samples
  return shifts.map(([x, y]) => [x - mx, y - my] as const)
}
