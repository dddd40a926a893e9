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
}

export type RingSide = '-x' | '+x' | '-z' | '+z'

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

/// Ropes on the sides in `open` are left out.
export function paintHall(hall: Hall, camera: Pinhole, open: readonly RingSide[]): Backdrop {
  const { width, height } = camera
  const light = new Float32Array(width * height * 3)
  const floorX = new Float32Array(width * height).fill(NaN)
  const floorZ = new Float32Array(width * height).fill(NaN)
  const ropes = ropesOf(hall, open)
  const posts = postsOf(hall)
  const beyond = beyondOf(hall)
  const pixel = new Float32Array(3)
  const sample = new Float32Array(3)
  const far = new Float32Array(3)
  const direction = new Float64Array(3)
  const OFFSETS = [
    [0.25, 0.125],
    [0.75, 0.375],
    [0.25, 0.625],
    [0.75, 0.875],
  ] as const
  for (let py = 0; py < height; py++)
    for (let px = 0; px < width; px++) {
      pixel.fill(0)
      ray(camera, px + 0.5, py + 0.5, direction)
      const inside = onCanvas(hall, camera, direction)
      if (inside) {
        const t = -camera.position[1] / direction[1]!
        canvasAt(hall, camera.position[0] + t * direction[0]!, camera.position[2] + t * direction[2]!, far)
      } else beyond(direction[0]!, direction[1]!, direction[2]!, far)
      for (const [ox, oy] of OFFSETS) {
        ray(camera, px + ox, py + oy, direction)
        const [dx, dy, dz] = [direction[0]!, direction[1]!, direction[2]!]
        const t = dy < -1e-4 ? -camera.position[1] / dy : Infinity
        const fx = camera.position[0] + t * dx
        const fz = camera.position[2] + t * dz
        if (t < 60 && Math.abs(fx - hall.centre[0]) < hall.half[0] && Math.abs(fz - hall.centre[1]) < hall.half[1]) {
          if (inside) sample.set(far)
          else canvasAt(hall, fx, fz, sample)
          if (ox === 0.25 && oy === 0.125) {
            floorX[py * width + px] = fx
            floorZ[py * width + px] = fz
          }
        } else sample.set(far)
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

function ray(camera: Pinhole, x: number, y: number, out: Float64Array): void {
  const u = (x - camera.width / 2) / camera.focal_px
  const v = (y - camera.height / 2) / camera.focal_px
  for (let i = 0; i < 3; i++) out[i] = camera.forward[i]! + u * camera.right[i]! + v * camera.down[i]!
}

/// Whether the ray and the rays a pixel around it all end on the canvas.
function onCanvas(hall: Hall, camera: Pinhole, d: Float64Array): boolean {
  if (d[1]! > -1e-4) return false
  const t = -camera.position[1] / d[1]!
  const margin = 0.12
  return (
    Math.abs(camera.position[0] + t * d[0]! - hall.centre[0]) < hall.half[0] - margin &&
    Math.abs(camera.position[2] + t * d[2]! - hall.centre[1]) < hall.half[1] - margin
  )
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
  const painted =
    Math.max(smoothstep(0.035, 0.028, Math.abs(r - 1.25)), smoothstep(0.02, 0.014, Math.abs(r - 1.12))) *
    (0.72 + 0.28 * cloud(14 * x, 14 * z, 1))
  const sixth = Math.PI / 3
  const bearing = Math.atan2(x - hall.centre[0], z - hall.centre[1]) + 2 * Math.PI
  const turn6 = Math.cos(sixth / 2) / Math.cos((bearing % sixth) - sixth / 2)
  const hexagon = smoothstep(0.05, 0.043, Math.abs(r / turn6 - 0.72))
  const flame = smoothstep(0.035, 0.03, Math.abs(Math.hypot((x - hall.centre[0]) * 1.5, z - hall.centre[1]) - 0.32))
  tint(out, hall.ring, 0.7 * Math.max(painted, hexagon * 0.9, flame * 0.9))
  tint(out, hall.ring, 0.8 * smoothstep(0.5, 0.49, edge))
  const seam = Math.max(
    smoothstep(0.012, 0.006, Math.abs(x - hall.centre[0] - 0.4)),
    smoothstep(0.012, 0.006, Math.abs(x - hall.centre[0] + 1.7)),
  )
  for (let c = 0; c < 3; c++) out[c]! *= 1 - 0.16 * seam
  const pool = 1 - 0.62 * smoothstep(0.6, 4.2, Math.hypot(x - 0.1, z - 0.5))
  for (let c = 0; c < 3; c++) out[c]! *= pool
}

function tint(out: Float32Array, c: Vector, part: number): void {
  for (let i = 0; i < 3; i++) out[i]! += (c[i]! - out[i]!) * part
}

function ropesOf(hall: Hall, open: readonly RingSide[]): Rope[] {
  const [cx, cz] = hall.centre
  const [hx, hz] = [hall.half[0] - 0.5, hall.half[1] - 0.5]
  const out: Rope[] = []
  for (const [name, axis, at, from, to] of [
    ['-x', 2, cx - hx, cz - hz, cz + hz],
    ['+x', 2, cx + hx, cz - hz, cz + hz],
    ['-z', 0, cz - hz, cx - hx, cx + hx],
    ['+z', 0, cz + hz, cx - hx, cx + hx],
  ] as const) {
    if (open.includes(name)) continue
    ROPE_HEIGHTS.forEach((y, i) => out.push({ axis, at, from, to, y, colour: hall.ropes[i % hall.ropes.length]! }))
  }
  return out
}

/// Draws a rope over what is seen along a ray, softly at its edges (it stands out of focus).
function overlayRope(rope: Rope, eye: Vector, dx: number, dy: number, dz: number, out: Float32Array): void {
  const other = rope.axis === 2 ? dx : dz
  const t = (rope.at - eye[rope.axis === 2 ? 0 : 2]) / other
  if (!(t > 0.2)) return
  const along = rope.axis === 2 ? eye[2] + t * dz : eye[0] + t * dx
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
  const places = [-1, 1].flatMap((a) =>
    [-1, 1].map((b) => [hall.centre[0] + a * (hall.half[0] - 0.42), hall.centre[1] + b * (hall.half[1] - 0.42)] as const),
  )
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

/// The hall past the ring, out of focus: a dark wall with light pooled on it, a truss of lamps with
/// their beams in the haze, far small lights, rows of onlookers.
function beyondOf(hall: Hall): (dx: number, dy: number, dz: number, out: Float32Array) => void {
  const random = dice(hall.seed * 977 + 5)
  const pick = (): Vector => hall.lamps[Math.floor(random() * hall.lamps.length)]!
  const lamps: Lamp[] = []
  for (let a = 0; a < 2 * Math.PI; a += 0.2 + 0.05 * random()) {
    const group = 1 + Math.floor(random() * 3)
    const colour = pick()
    const e = 0.085 + 0.05 * random()
    for (let g = 0; g < group; g++)
      lamps.push({
        a: a + 0.034 * g,
        e: e + 0.006 * random(),
        r: 0.0125 + 0.003 * random(),
        k: 0.55 + 0.5 * random(),
        colour,
        beam: g === 0 && random() < 0.75 ? 0.5 + 0.5 * random() : 0,
        lean: (random() - 0.5) * 0.7,
      })
  }
  for (let i = 0; i < 70; i++)
    lamps.push({
      a: random() * 2 * Math.PI,
      e: -0.03 + 0.1 * random() ** 2,
      r: 0.003 + 0.0045 * random(),
      k: 0.12 + 0.3 * random() ** 2,
      colour: pick(),
      beam: 0,
      lean: 0,
    })
  for (let i = 0; i < 16; i++)
    lamps.push({
      a: random() * 2 * Math.PI,
      e: -0.02 + 0.2 * random(),
      r: 0.022 + 0.014 * random(),
      k: 0.07 + 0.06 * random(),
      colour: pick(),
      beam: 0,
      lean: 0,
    })
  const lampsAt = byBearing(lamps, 0.16)
  const heads: Head[] = []
  for (const [row, e, size, shade] of [
    [0, -0.004, 0.012, 1.5],
    [1, -0.026, 0.0155, 1],
    [2, -0.056, 0.021, 0.55],
  ] as const)
    for (let a = 0; a < 2 * Math.PI; a += size * (2.6 + 1.6 * random()))
      if (random() < 0.88)
        heads.push({
          a: a + 0.004 * random(),
          e: e + size * (random() - 0.5),
          r: size * (0.85 + 0.3 * random()),
          k: shade * (0.7 + 0.6 * random()),
          row,
          rim: (0.4 + 0.6 * random()) * 0.05,
          colour: pick(),
        })
  const headsAt = byBearing(heads, 0.06)
  return (dx, dy, dz, out) => {
    const a = Math.atan2(dz, dx)
    const e = Math.asin(dy / Math.hypot(dx, dy, dz))
    const bin = Math.floor(((a + Math.PI) / (2 * Math.PI)) * BINS) % BINS
    const wide = 0.5 + 0.5 * cloud(1.7 * a + 20, hall.seed, 2)
    const haze =
      0.008 + 0.05 * Math.exp(-((e - 0.1) ** 2) / 0.012) * (0.35 + 0.9 * wide) + 0.02 * Math.exp(-((e - 0.01) ** 2) / 0.004) * wide
    const floor = 1 - 0.85 * smoothstep(-0.05, -0.2, e)
    for (let i = 0; i < 3; i++) out[i] = hall.air[i]! * haze * floor
    const bay = 0.5 + 0.5 * cloud(9 * a, 0.3, hall.seed + 1)
    const pillar = smoothstep(0.46, 0.5, Math.abs(((((a * 6.5) % 1) + 1) % 1) - 0.5))
    for (let i = 0; i < 3; i++) out[i]! *= (0.75 + 0.5 * bay) * (1 - 0.45 * pillar * smoothstep(-0.02, 0.02, e))
    for (const lamp of lampsAt[bin]!) {
      const da = turn(a - lamp.a)
      const d = Math.hypot(da, e - lamp.e) / lamp.r
      const light =
        d > 9 ? 0 : lamp.k * (smoothstep(1.12, 0.88, d) * (0.72 + 0.34 * smoothstep(0.55, 0.98, d)) + 0.11 * Math.exp(-d * 0.75))
      const drop = lamp.e - e
      let beam = 0
      if (lamp.beam > 0 && drop > 0 && drop < 0.32) {
        const width = 0.008 + 0.2 * drop
        beam = 0.045 * lamp.beam * Math.exp(-(((da - lamp.lean * drop) / width) ** 2)) * Math.exp(-drop * 7) * smoothstep(0, 0.01, drop)
      }
      if (light + beam === 0) continue
      for (let i = 0; i < 3; i++) out[i]! += lamp.colour[i]! * (light + beam)
    }
    for (const head of headsAt[bin]!) {
      const da = turn(a - head.a)
      const de = e - head.e
      const h = Math.hypot(da, de * 0.82) / head.r
      const s = Math.hypot(da * 0.5, de + head.r * 2.6) / (head.r * 1.75)
      const cover = Math.max(
        smoothstep(1.28, 0.78, h),
        smoothstep(1.25, 0.85, s),
        de < -head.r * 2.6 && Math.abs(da) < head.r * 3 ? 0.9 : 0,
      )
      if (cover === 0) continue
      const lit = head.rim * Math.exp(-(((h - 0.95) / 0.28) ** 2)) * smoothstep(-0.2, 0.9, de / head.r)
      for (let i = 0; i < 3; i++) out[i]! += (hall.air[i]! * 0.012 * head.k + head.colour[i]! * lit - out[i]!) * cover
    }
  }
}

interface Lamp {
  readonly a: number
  readonly e: number
  readonly r: number
  readonly k: number
  readonly colour: Vector
  readonly beam: number
  readonly lean: number
}

interface Head {
  readonly a: number
  readonly e: number
  readonly r: number
  readonly k: number
  readonly row: number
  readonly rim: number
  readonly colour: Vector
}

const BINS = 256
const turn = (da: number): number => (da > Math.PI ? da - 2 * Math.PI : da < -Math.PI ? da + 2 * Math.PI : da)

/// Which of the things may be seen in each of BINS directions, each reaching `reach` radians, in
/// their order.
function byBearing<T extends { readonly a: number }>(things: readonly T[], reach: number): T[][] {
  return Array.from({ length: BINS }, (_, b) => {
    const centre = ((b + 0.5) / BINS) * 2 * Math.PI - Math.PI
    return things.filter((t) => Math.abs(turn(turn(t.a - 2 * Math.PI * Math.round(t.a / (2 * Math.PI))) - centre)) < reach + Math.PI / BINS)
  })
}
