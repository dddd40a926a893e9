import type { Pinhole } from '../mocap/camera'
import { clouds, cloud, dice, smoothstep } from './noise'
import type { Vector } from './quaternion'

/// The hall as a still camera sees it: canvas, ropes, posts, and the dark beyond with its lamps
/// and onlookers out of focus. Painted once per film, in linear light.

export interface Hall {
  /// The ring's canvas: centre and half sides, metres; the ropes stand half a metre inside its edge.
  readonly centre: readonly [number, number]
  readonly half: readonly [number, number]
  readonly canvas: Vector
  readonly ring: Vector
  readonly ropes: readonly Vector[]
  readonly posts: Vector
  /// Colour of the air between here and the back wall.
  readonly air: Vector
  readonly lamps: readonly Vector[]
  readonly seed: number
  /// Sides whose ropes are left out: the camera stands there, between them.
  readonly open: readonly ('-x' | '+x' | '-z' | '+z')[]
}

export interface Backdrop {
  /// Three numbers a pixel, linear.
  readonly light: Float32Array
  /// Where the canvas is seen: its x and z, metres; NaN elsewhere.
  readonly floorX: Float32Array
  readonly floorZ: Float32Array
}

const ROPE_HEIGHTS = [0.42, 0.74, 1.06, 1.38] as const
const ROPE_RADIUS = 0.021

interface Rope {
  readonly axis: 0 | 2
  readonly at: number
  readonly from: number
  readonly to: number
  readonly y: number
  readonly colour: Vector
}

export function paintHall(hall: Hall, camera: Pinhole): Backdrop {
  const { width, height } = camera
  const light = new Float32Array(width * height * 3)
  const floorX = new Float32Array(width * height).fill(NaN)
  const floorZ = new Float32Array(width * height).fill(NaN)
  const ropes = ropesOf(hall)
  const posts = postsOf(hall)
  const beyond = beyondOf(hall, camera)
  const pixel = new Float32Array(3)
  const sample = new Float32Array(3)
  const OFFSETS = [[0.25, 0.125], [0.75, 0.375], [0.25, 0.625], [0.75, 0.875]] as const
  for (let py = 0; py < height; py++)
    for (let px = 0; px < width; px++) {
      pixel.fill(0)
      for (const [ox, oy] of OFFSETS) {
        const u = (px + ox - width / 2) / camera.focal_px
        const v = (py + oy - height / 2) / camera.focal_px
        const dx = camera.forward[0] + u * camera.right[0] + v * camera.down[0]
        const dy = camera.forward[1] + u * camera.right[1] + v * camera.down[1]
        const dz = camera.forward[2] + u * camera.right[2] + v * camera.down[2]
        const t = dy < -1e-4 ? -camera.position[1] / dy : Infinity
        const fx = camera.position[0] + t * dx
        const fz = camera.position[2] + t * dz
        if (t < 60 && Math.abs(fx - hall.centre[0]) < hall.half[0] && Math.abs(fz - hall.centre[1]) < hall.half[1]) {
          canvasAt(hall, fx, fz, sample)
          if (ox === 0.25 && oy === 0.125) {
            floorX[py * width + px] = fx
            floorZ[py * width + px] = fz
          }
        } else beyond(dx, dy, dz, sample)
        posts(camera.position, dx, dy, dz, t, sample)
        for (const rope of ropes) overlayRope(rope, camera.position, dx, dy, dz, sample)
        pixel[0]! += sample[0]!
        pixel[1]! += sample[1]!
        pixel[2]! += sample[2]!
      }
      const i = (py * width + px) * 3
      light[i] = pixel[0]! / 4
      light[i + 1] = pixel[1]! / 4
      light[i + 2] = pixel[2]! / 4
    }
  return { light, floorX, floorZ }
}

function canvasAt(hall: Hall, x: number, z: number, out: Float32Array): void {
  const ex = Math.abs(x - hall.centre[0])
  const ez = Math.abs(z - hall.centre[1])
  const edge = Math.min(hall.half[0] - ex, hall.half[1] - ez)
  const weave = 0.035 * cloud(95 * x, 95 * z, 3) + 0.025 * cloud(31 * x, 240 * z, 9)
  let k = 0.86 + 0.13 * clouds(0.9 * x + 4, 0.9 * z, hall.seed) + weave
  const scuff = smoothstep(0.34, 0.62, clouds(2.3 * x, 2.3 * z + 9, hall.seed + 2))
  k *= 1 - 0.2 * scuff
  const streak = smoothstep(0.45, 0.7, cloud(9 * x + 2 * z, 1.1 * z - 2 * x, hall.seed + 5))
  k *= 1 - 0.1 * streak
  out[0] = hall.canvas[0] * k
  out[1] = hall.canvas[1] * k
  out[2] = hall.canvas[2] * k
  const r = Math.hypot(x - hall.centre[0], z - hall.centre[1])
  const painted = Math.max(smoothstep(0.035, 0.028, Math.abs(r - 1.25)), smoothstep(0.02, 0.014, Math.abs(r - 1.12))) * (0.72 + 0.28 * cloud(14 * x, 14 * z, 1))
  tint(out, hall.ring, 0.75 * painted)
  tint(out, hall.ring, 0.8 * smoothstep(0.5, 0.49, edge))
  const pool = 1 - 0.62 * smoothstep(0.6, 4.2, Math.hypot(x - 0.1, z - 0.5))
  for (let c = 0; c < 3; c++) out[c]! *= pool
}

function tint(out: Float32Array, c: Vector, part: number): void {
  for (let i = 0; i < 3; i++) out[i]! += (c[i]! - out[i]!) * part
}

function ropesOf(hall: Hall): Rope[] {
  const [cx, cz] = hall.centre
  const [hx, hz] = [hall.half[0] - 0.5, hall.half[1] - 0.5]
  const out: Rope[] = []
  for (const [name, axis, at, from, to] of [
    ['-x', 2, cx - hx, cz - hz, cz + hz],
    ['+x', 2, cx + hx, cz - hz, cz + hz],
    ['-z', 0, cz - hz, cx - hx, cx + hx],
    ['+z', 0, cz + hz, cx - hx, cx + hx],
  ] as const) {
    if (hall.open.includes(name)) continue
    ROPE_HEIGHTS.forEach((y, i) => out.push({ axis, at, from, to, y, colour: hall.ropes[i % hall.ropes.length]! }))
  }
  return out
}

/// Draws a rope over what is seen along a ray, softly at its edges (it stands out of focus).
function overlayRope(rope: Rope, eye: Vector, dx: number, dy: number, dz: number, out: Float32Array): void {
  const other = rope.axis === 2 ? dx : dz
  const t = (rope.at - eye[rope.axis === 2 ? 0 : 2]) / other
  if (!(t > 0.2)) return
  const along = (rope.axis === 2 ? eye[2] + t * dz : eye[0] + t * dx)
  if (along < rope.from || along > rope.to) return
  const part = (along - rope.from) / (rope.to - rope.from)
  const sag = 0.035 * 4 * part * (1 - part)
  const off = (eye[1] + t * dy - (rope.y - sag)) / ROPE_RADIUS
  const cover = smoothstep(1.35, 0.75, Math.abs(off))
  if (cover === 0) return
  const round = 0.35 + 0.75 * Math.max(0, off * 0.8 + 0.45) - 0.25 * Math.max(0, off) ** 2
  const twist = 0.88 + 0.12 * Math.sin(along * 150 + off * 2)
  for (let c = 0; c < 3; c++) out[c]! += (rope.colour[c]! * round * twist - out[c]!) * cover
}

function postsOf(hall: Hall): (eye: Vector, dx: number, dy: number, dz: number, floor: number, out: Float32Array) => void {
  const places = [-1, 1].flatMap((a) => [-1, 1].map((b) => [hall.centre[0] + a * (hall.half[0] - 0.42), hall.centre[1] + b * (hall.half[1] - 0.42)] as const))
  return (eye, dx, dy, dz, floor, out) => {
    for (const [x, z] of places) {
      const flat = dx * dx + dz * dz
      const t = ((x - eye[0]) * dx + (z - eye[2]) * dz) / flat
      if (t < 0.5) continue
      const side = ((x - eye[0]) * dz - (z - eye[2]) * dx) / Math.sqrt(flat)
      const y = eye[1] + t * dy
      if (y < 0 || y > 1.62 || t > floor + 1) continue
      const pad = y > 0.3 && y < 1.5
      const radius = pad ? 0.13 : 0.055
      const cover = smoothstep(1.06, 0.94, Math.abs(side) / radius)
      if (cover === 0) continue
      const s = side / radius
      const round = (0.3 + 0.7 * Math.sqrt(Math.max(0, 1 - s * s))) * (0.75 + 0.25 * smoothstep(-1, 1, -s))
      const k = round * (pad ? 1 : 0.4) * (0.75 + 0.25 * (y / 1.5))
      for (let c = 0; c < 3; c++) out[c]! += (hall.posts[c]! * k - out[c]!) * cover
    }
  }
}

/// The hall past the ring: a dark wall, lamps as soft discs, a row of onlookers, haze.
function beyondOf(hall: Hall, camera: Pinhole): (dx: number, dy: number, dz: number, out: Float32Array) => void {
  const random = dice(hall.seed * 977 + 5)
  const lamps = Array.from({ length: 46 }, () => {
    const high = random() < 0.7
    return {
      a: random() * 2 * Math.PI,
      e: high ? 0.1 + 0.3 * random() : -0.06 + 0.1 * random(),
      r: (high ? 0.012 : 0.006) + 0.022 * random() ** 2,
      k: (high ? 0.5 : 0.22) * (0.25 + 0.75 * random()),
      colour: hall.lamps[Math.floor(random() * hall.lamps.length)]!,
    }
  })
  const heads = Array.from({ length: 120 }, (_, i) => ({ a: ((i + 0.8 * random()) / 120) * 2 * Math.PI, e: -0.012 - 0.05 * random(), r: 0.016 + 0.006 * random(), k: 0.5 + 0.9 * random() }))
  void camera
  return (dx, dy, dz, out) => {
    const length = Math.hypot(dx, dy, dz)
    const a = Math.atan2(dz, dx)
    const e = Math.asin(dy / length)
    const glow = Math.exp(-((e - 0.16) ** 2) / 0.02)
    const haze = 0.012 + 0.05 * glow * (0.7 + 0.3 * cloud(2.5 * a, 3 * e, hall.seed)) + 0.012 * Math.exp(-((e + 0.02) ** 2) / 0.01)
    const floor = smoothstep(-0.06, -0.22, e)
    out[0] = hall.air[0] * haze * (1 - 0.75 * floor)
    out[1] = hall.air[1] * haze * (1 - 0.75 * floor)
    out[2] = hall.air[2] * haze * (1 - 0.75 * floor)
    const panel = cloud(5 * a + 9, 0.5, hall.seed + 1)
    if (e > -0.03 && e < 0.1 && panel > 0.25) {
      const k = 0.03 * smoothstep(0.25, 0.34, panel) * smoothstep(-0.03, -0.015, e) * smoothstep(0.1, 0.085, e)
      const c = hall.lamps[panel > 0.5 ? 0 : hall.lamps.length - 1]!
      for (let i = 0; i < 3; i++) out[i]! += c[i]! * k
    }
    for (const lamp of lamps) {
      let da = a - lamp.a
      if (da > Math.PI) da -= 2 * Math.PI
      else if (da < -Math.PI) da += 2 * Math.PI
      if (Math.abs(da) > 0.12) continue
      const d = Math.hypot(da, e - lamp.e) / lamp.r
      if (d > 5) continue
      const disc = lamp.k * smoothstep(1.06, 0.94, d) * (0.8 + 0.25 * smoothstep(0.6, 1, d)) + 0.05 * lamp.k * Math.exp(-d * 0.8)
      for (let i = 0; i < 3; i++) out[i]! += lamp.colour[i]! * disc
    }
    for (const head of heads) {
      let da = a - head.a
      if (da > Math.PI) da -= 2 * Math.PI
      else if (da < -Math.PI) da += 2 * Math.PI
      if (Math.abs(da) > 0.06) continue
      const h = Math.hypot(da, (e - head.e) * 0.8) / head.r
      const shoulders = Math.hypot(da * 0.55, e - head.e + 0.046) / 0.03
      const cover = Math.max(smoothstep(1.25, 0.8, h), smoothstep(1.25, 0.85, shoulders) * (e < head.e - 0.012 ? 1 : 0.6))
      for (let i = 0; i < 3; i++) out[i]! += (hall.air[i]! * 0.008 * head.k - out[i]!) * 0.92 * cover
    }
  }
}
