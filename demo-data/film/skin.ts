import type { Figure, Pose } from './pose'
import type { Surface } from './surface'
import type { Vector } from './quaternion'

/// A surface carried by bones: each point follows up to four of them, blended as dual quaternions
/// (Kavan et al. 2007), so that bent elbows and turned trunks keep their volume.
export interface Skin {
  readonly surface: Surface
  readonly bones: Uint8Array
  readonly weights: Float32Array
}

const PER_POINT = 4

/// Each bone as a line with a radius, at rest: where its flesh mostly is. Names without side for
/// those that come in two.
const EXTENT: Record<string, readonly [Vector, Vector, number]> = {
  hip: [[-0.06, -0.02, -0.01], [0.06, 0.05, -0.01], 0.12],
  abdomen: [[0, 0.16, -0.01], [0, 0.24, -0.015], 0.13],
  chest: [[0, 0.34, -0.03], [0, 0.47, -0.04], 0.15],
  neck: [[0, 0.56, -0.035], [0, 0.6, -0.03], 0.055],
  head: [[0, 0.68, 0.01], [0, 0.73, 0], 0.1],
  Collar: [[0.06, 0.515, -0.05], [0.12, 0.505, -0.048], 0.05],
}
const RADIUS: Record<string, number> = { Shldr: 0.052, ForeArm: 0.042, Hand: 0.06, Thigh: 0.09, Shin: 0.05, Foot: 0.045 }
const NEXT: Record<string, string> = { Shldr: 'ForeArm', ForeArm: 'Hand', Hand: 'Mid2', Thigh: 'Shin', Shin: 'Foot' }
/// Over how many metres one bone hands over to the next.
const HANDOVER: Record<string, number> = {
  hip: 0.035,
  abdomen: 0.04,
  chest: 0.035,
  neck: 0.025,
  head: 0.015,
  Collar: 0.03,
  Shldr: 0.022,
  ForeArm: 0.016,
  Hand: 0.014,
  Thigh: 0.024,
  Shin: 0.018,
  Foot: 0.016,
}

const plain = (name: string): string => (/^[lr][A-Z]/.test(name) ? name.slice(1) : name)

export function skinOf(figure: Figure, surface: Surface, boneNames: readonly string[]): Skin {
  const lines = boneNames.map((name) => {
    const kind = plain(name)
    const side = kind === name ? 0 : name[0] === 'l' ? 1 : -1
    const fixed = EXTENT[kind]
    const flip = (v: Vector): Vector => [side < 0 ? -v[0] : v[0], v[1], v[2]]
    const from = fixed ? flip(fixed[0]) : figure.rest[figure.index.get(name)!]!
    const end = kind === 'Foot' ? `${name}.end` : name[0] + (NEXT[kind] ?? '')
    const to = fixed ? flip(fixed[1]) : figure.rest[figure.index.get(end)!]!
    return { from, to, radius: fixed ? fixed[2] : RADIUS[kind]!, handover: HANDOVER[kind]!, side, index: figure.index.get(name)! }
  })
  const n = surface.points.length / 3
  const all = new Float32Array(n * lines.length)
  for (let v = 0; v < n; v++) {
    const x = surface.points[3 * v]!
    const y = surface.points[3 * v + 1]!
    const z = surface.points[3 * v + 2]!
    let nearest = Infinity
    const depths = lines.map((line) => {
      if (line.side * x < -0.004) return Infinity
      const d = distanceTo(line.from, line.to, x, y, z) - line.radius
      nearest = Math.min(nearest, d)
      return d
    })
    let sum = 0
    depths.forEach((d, b) => {
      const w = Math.exp(-(d - nearest) / lines[b]!.handover)
      all[v * lines.length + b] = w
      sum += w
    })
    for (let b = 0; b < lines.length; b++) all[v * lines.length + b]! /= sum
  }
  const smooth = smoothed(all, lines.length, surface.triangles, 4)
  const bones = new Uint8Array(n * PER_POINT)
  const weights = new Float32Array(n * PER_POINT)
  const order = lines.map((_, b) => b)
  for (let v = 0; v < n; v++) {
    const row = v * lines.length
    order.sort((a, b) => smooth[row + b]! - smooth[row + a]!)
    let sum = 0
    for (let k = 0; k < PER_POINT; k++) sum += order[k] === undefined ? 0 : smooth[row + order[k]!]!
    for (let k = 0; k < PER_POINT; k++) {
      const b = order[k]
      bones[v * PER_POINT + k] = lines[b ?? 0]!.index
      weights[v * PER_POINT + k] = b === undefined ? 0 : smooth[row + b]! / sum
    }
  }
  return { surface, bones, weights }
}

function distanceTo(a: Vector, b: Vector, x: number, y: number, z: number): number {
  const bx = b[0] - a[0]
  const by = b[1] - a[1]
  const bz = b[2] - a[2]
  const h = Math.min(1, Math.max(0, ((x - a[0]) * bx + (y - a[1]) * by + (z - a[2]) * bz) / (bx * bx + by * by + bz * bz)))
  return Math.hypot(x - a[0] - h * bx, y - a[1] - h * by, z - a[2] - h * bz)
}

function smoothed(values: Float32Array, width: number, triangles: Uint32Array, times: number): Float32Array {
  let from = values
  const n = values.length / width
  for (let t = 0; t < times; t++) {
    const to = new Float32Array(from.length)
    const count = new Float32Array(n)
    for (let i = 0; i < triangles.length; i += 3)
      for (let c = 0; c < 3; c++) {
        const a = triangles[i + c]!
        const b = triangles[i + ((c + 1) % 3)]!
        count[a]! += 1
        for (let k = 0; k < width; k++) to[a * width + k]! += from[b * width + k]!
      }
    for (let v = 0; v < n; v++) {
      const c = count[v]!
      for (let k = 0; k < width; k++)
        to[v * width + k] = c === 0 ? from[v * width + k]! : (from[v * width + k]! + to[v * width + k]! / c) / 2
    }
    from = to
  }
  return from
}

/// The bones of a pose as dual quaternions, eight numbers each: turn, then half shift × turn.
export function dualQuaternions(figure: Figure, pose: Pose): Float32Array {
  const out = new Float32Array(figure.names.length * 8)
  figure.names.forEach((_, b) => {
    const [x, y, z, w] = pose.turns[b]!
    const rest = figure.rest[b]!
    const place = pose.places[b]!
    const tx = 2 * (y * rest[2] - z * rest[1])
    const ty = 2 * (z * rest[0] - x * rest[2])
    const tz = 2 * (x * rest[1] - y * rest[0])
    const sx = place[0] - (rest[0] + w * tx + y * tz - z * ty)
    const sy = place[1] - (rest[1] + w * ty + z * tx - x * tz)
    const sz = place[2] - (rest[2] + w * tz + x * ty - y * tx)
    out.set(
      [
        x,
        y,
        z,
        w,
        0.5 * (sx * w + sy * z - sz * y),
        0.5 * (sy * w + sz * x - sx * z),
        0.5 * (sz * w + sx * y - sy * x),
        -0.5 * (sx * x + sy * y + sz * z),
      ],
      b * 8,
    )
  })
  return out
}

/// Carries a skin into a pose. `points` and `normals` (where wanted) receive three numbers a point
/// from `at` on.
export function carry(skin: Skin, bones: Float32Array, points: Float32Array, normals: Float32Array | null, at: number): void {
  const rest = skin.surface.points
  const restNormals = skin.surface.normals
  const n = rest.length / 3
  for (let v = 0; v < n; v++) {
    const k = v * PER_POINT
    const first = skin.bones[k]! * 8
    const fx = bones[first]!
    const fy = bones[first + 1]!
    const fz = bones[first + 2]!
    const fw = bones[first + 3]!
    let x = 0,
      y = 0,
      z = 0,
      w = 0,
      dx = 0,
      dy = 0,
      dz = 0,
      dw = 0
    for (let j = 0; j < PER_POINT; j++) {
      let weight = skin.weights[k + j]!
      if (weight < 0.004) continue
      const b = skin.bones[k + j]! * 8
      if (fx * bones[b]! + fy * bones[b + 1]! + fz * bones[b + 2]! + fw * bones[b + 3]! < 0) weight = -weight
      x += weight * bones[b]!
      y += weight * bones[b + 1]!
      z += weight * bones[b + 2]!
      w += weight * bones[b + 3]!
      dx += weight * bones[b + 4]!
      dy += weight * bones[b + 5]!
      dz += weight * bones[b + 6]!
      dw += weight * bones[b + 7]!
    }
    const scale = 1 / Math.sqrt(x * x + y * y + z * z + w * w)
    x *= scale
    y *= scale
    z *= scale
    w *= scale
    dx *= scale
    dy *= scale
    dz *= scale
    dw *= scale
    const i = 3 * v
    const px = rest[i]!,
      py = rest[i + 1]!,
      pz = rest[i + 2]!
    let tx = 2 * (y * pz - z * py),
      ty = 2 * (z * px - x * pz),
      tz = 2 * (x * py - y * px)
    const o = at + i
    points[o] = px + w * tx + y * tz - z * ty + 2 * (w * dx - x * dw + y * dz - z * dy)
    points[o + 1] = py + w * ty + z * tx - x * tz + 2 * (w * dy - y * dw + z * dx - x * dz)
    points[o + 2] = pz + w * tz + x * ty - y * tx + 2 * (w * dz - z * dw + x * dy - y * dx)
    if (!normals) continue
    const nx = restNormals[i]!,
      ny = restNormals[i + 1]!,
      nz = restNormals[i + 2]!
    tx = 2 * (y * nz - z * ny)
    ty = 2 * (z * nx - x * nz)
    tz = 2 * (x * ny - y * nx)
    normals[o] = nx + w * tx + y * tz - z * ty
    normals[o + 1] = ny + w * ty + z * tx - x * tz
    normals[o + 2] = nz + w * tz + x * ty - y * tx
  }
}
