import { Raster } from './raster'
import type { Vector } from './quaternion'
import { unit } from './quaternion'

/// Light on the moving things, per point: a warm key from the rig above, a cool rim from behind,
/// soft light from the hall all round; the key throws shadows on bodies and floor.

export interface Rig {
  /// Towards the light.
  readonly key: Vector
  readonly keyColour: Vector
  readonly rim: Vector
  readonly rimColour: Vector
  /// From the whole sky of lamps, and back up from the canvas.
  readonly skyColour: Vector
  readonly floorColour: Vector
}

const MAP = 420
const SPAN = 3.0

/// Depths as the key sees them, over a square of SPAN metres about the boxer.
export class KeyMap {
  private readonly raster = new Raster(MAP, MAP)
  private readonly across: Vector
  private readonly along: Vector
  private at = new Float32Array(0)
  constructor(
    private readonly key: Vector,
    private readonly centre: Vector,
  ) {
    this.across = unit([key[2], 0, -key[0]])
    this.along = [
      key[1] * this.across[2] - key[2] * this.across[1],
      key[2] * this.across[0] - key[0] * this.across[2],
      key[0] * this.across[1] - key[1] * this.across[0],
    ]
  }

  draw(points: Float32Array, triangles: Uint32Array): void {
    if (this.at.length < points.length) this.at = new Float32Array(points.length)
    const { across, along, key, centre, at } = this
    for (let i = 0; i < points.length; i += 3) {
      const x = points[i]! - centre[0],
        y = points[i + 1]! - centre[1],
        z = points[i + 2]! - centre[2]
      at[i] = MAP / 2 + ((x * across[0] + y * across[1] + z * across[2]) * MAP) / SPAN
      at[i + 1] = MAP / 2 + ((x * along[0] + y * along[1] + z * along[2]) * MAP) / SPAN
      at[i + 2] = -(x * key[0] + y * key[1] + z * key[2])
    }
    this.raster.clear()
    this.raster.draw(at, triangles, false)
  }

  /// Share of the key that reaches point i of the last drawing, 0–1.
  seen(i: number): number {
    const u = Math.round(this.at[i]! - 0.5)
    const v = Math.round(this.at[i + 1]! - 0.5)
    if (u < 3 || v < 3 || u >= MAP - 3 || v >= MAP - 3) return 1
    const d = this.at[i + 2]! - 0.022
    const depth = this.raster.depth
    let clear = 0
    for (let b = -2; b <= 2; b += 2) {
      const row = (v + b) * MAP + u
      if (depth[row - 2]! > d) clear++
      if (depth[row]! > d) clear++
      if (depth[row + 2]! > d) clear++
    }
    return clear / 9
  }
}

const SHINE: readonly (readonly [number, number])[] = [
  [0.22, 22],
  [0.1, 10],
  [0.75, 46],
  [0.35, 30],
  [0.45, 34],
  [0.3, 26],
  [0.06, 10],
]

/// Writes four numbers a point: red, green, blue of the light that falls, and the glint.
export function lightCast(
  rig: Rig,
  map: KeyMap,
  eye: Vector,
  points: Float32Array,
  normals: Float32Array,
  material: Uint8Array,
  out: Float32Array,
): void {
  const { key, rim, keyColour, rimColour, skyColour, floorColour } = rig
  const n = points.length / 3
  for (let v = 0; v < n; v++) {
    const i = 3 * v
    const nx = normals[i]!,
      ny = normals[i + 1]!,
      nz = normals[i + 2]!
    let ex = eye[0] - points[i]!,
      ey = eye[1] - points[i + 1]!,
      ez = eye[2] - points[i + 2]!
    const el = 1 / Math.sqrt(ex * ex + ey * ey + ez * ez)
    ex *= el
    ey *= el
    ez *= el
    const facing = nx * ex + ny * ey + nz * ez
    const kl = nx * key[0] + ny * key[1] + nz * key[2]
    const wrapped = (kl + 0.18) / 1.18
    const lit = wrapped > 0 ? wrapped * map.seen(i) : 0
    const rl = Math.max(0, nx * rim[0] + ny * rim[1] + nz * rim[2])
    const edge = 1 - Math.max(0, facing)
    const rimmed = rl * (0.35 + 0.65 * edge * edge)
    const up = 0.5 + 0.5 * ny
    const near = Math.min(1, 0.55 + points[i + 1]! * 0.5)
    const shine = SHINE[material[v]!]!
    let hx = key[0] + ex,
      hy = key[1] + ey,
      hz = key[2] + ez
    const hl = 1 / Math.sqrt(hx * hx + hy * hy + hz * hz)
    hx *= hl
    hy *= hl
    hz *= hl
    const nh = nx * hx + ny * hy + nz * hz
    const glint = nh > 0 && lit > 0 ? shine[0] * Math.pow(nh, shine[1]) * lit * 1.6 : 0
    const o = 4 * v
    out[o] = keyColour[0] * lit + rimColour[0] * rimmed + (skyColour[0] * up + floorColour[0] * (1 - up)) * near
    out[o + 1] = keyColour[1] * lit + rimColour[1] * rimmed + (skyColour[1] * up + floorColour[1] * (1 - up)) * near
    out[o + 2] = keyColour[2] * lit + rimColour[2] * rimmed + (skyColour[2] * up + floorColour[2] * (1 - up)) * near
    out[o + 3] = glint + edge * edge * edge * edge * 0.05 * shine[0]
  }
}

/// Shadow and nearness on the floor: a square map of the canvas about the boxer.
export class FloorShadow {
  static readonly SIZE = 256
  static readonly SPAN = 3.2
  private readonly raster = new Raster(FloorShadow.SIZE, FloorShadow.SIZE)
  private at = new Float32Array(0)
  private readonly close = new Float32Array(FloorShadow.SIZE * FloorShadow.SIZE)
  readonly dark = new Float32Array(FloorShadow.SIZE * FloorShadow.SIZE)
  constructor(
    readonly x: number,
    readonly z: number,
  ) {}

  /// Adds the shadow that falls away from `light`, as dark as `weight`; `soft` in map pixels.
  add(points: Float32Array, triangles: Uint32Array, light: Vector, weight: number, soft: number): void {
    if (this.at.length < points.length) this.at = new Float32Array(points.length)
    const n = FloorShadow.SIZE
    const k = n / FloorShadow.SPAN
    for (let i = 0; i < points.length; i += 3) {
      const y = points[i + 1]!
      this.at[i] = n / 2 + (points[i]! - (y * light[0]) / light[1] - this.x) * k
      this.at[i + 1] = n / 2 + (points[i + 2]! - (y * light[2]) / light[1] - this.z) * k
      this.at[i + 2] = y
    }
    this.raster.clear()
    this.raster.draw(this.at, triangles, false)
    const depth = this.raster.depth
    for (let i = 0; i < this.close.length; i++) {
      const y = depth[i]!
      this.close[i] = y === Infinity ? 0 : Math.max(0.25, 1 - y * 0.55)
    }
    blur(this.close, n, soft)
    blur(this.close, n, Math.max(1, soft >> 1))
    for (let i = 0; i < this.close.length; i++) this.dark[i] = 1 - (1 - this.dark[i]!) * (1 - weight * this.close[i]!)
  }

  clear(): void {
    this.dark.fill(0)
  }

  /// Least and greatest x, then z, of the darkened part of the floor, as of the last `corners`.
  extent: readonly [number, number, number, number] = [0, 0, 0, 0]

  /// Corners of the darkened part of the floor, x and z; none where nothing is dark.
  corners(): readonly (readonly [number, number])[] {
    const n = FloorShadow.SIZE
    let left = n,
      top = n,
      right = -1,
      bottom = -1
    for (let v = 0; v < n; v++)
      for (let u = 0; u < n; u++)
        if (this.dark[v * n + u]! > 0.004) {
          if (u < left) left = u
          if (u > right) right = u
          if (v < top) top = v
          if (v > bottom) bottom = v
        }
    this.extent = [0, 0, 0, 0]
    if (right < 0) return []
    const place = (i: number, centre: number): number => centre + (i / n - 0.5) * FloorShadow.SPAN
    this.extent = [place(left, this.x), place(right + 1, this.x), place(top, this.z), place(bottom + 1, this.z)]
    return [left, right + 1].flatMap((u) => [top, bottom + 1].map((v) => [place(u, this.x), place(v, this.z)] as const))
  }

  /// Share of the light that is missing at a place on the floor, 0–1.
  darkness(x: number, z: number): number {
    const n = FloorShadow.SIZE
    const u = ((x - this.x) / FloorShadow.SPAN + 0.5) * n - 0.5
    const v = ((z - this.z) / FloorShadow.SPAN + 0.5) * n - 0.5
    if (!(u >= 0 && v >= 0 && u < n - 1 && v < n - 1)) return 0
    const i = Math.floor(u)
    const j = Math.floor(v)
    const fu = u - i
    const a = j * n + i
    const top = this.dark[a]! * (1 - fu) + this.dark[a + 1]! * fu
    const bottom = this.dark[a + n]! * (1 - fu) + this.dark[a + n + 1]! * fu
    return top + (bottom - top) * (v - j)
  }
}

const line = new Float32Array(4096)
/// A box blur of half width r, both ways, in place.
function blur(map: Float32Array, n: number, r: number): void {
  const k = 1 / (2 * r + 1)
  for (const [step, next] of [
    [1, n],
    [n, 1],
  ] as const)
    for (let row = 0; row < n; row++) {
      const at = row * next
      let sum = 0
      for (let i = -r; i < n; i++) {
        const add = i + r
        if (add < n) sum += map[at + add * step]!
        if (i - r - 1 >= 0) sum -= line[i - r - 1]!
        if (i >= 0) {
          line[i] = map[at + i * step]!
          map[at + i * step] = sum * k
        }
      }
    }
}
