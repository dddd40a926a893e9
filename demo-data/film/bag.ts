import { plus, type Vector } from './quaternion'

/// The heavy bag: where it hangs, how it gives and swings, and when the glove meets it.

export const BAG_RADIUS = 0.175
const HANGS_FROM = 3.7
const MIDDLE = 1.2
export const BAG_BOTTOM = 0.56
export const BAG_TOP = 1.72

/// The bag's push-back and weight: about 15 kN/m of give and 55 kg; a plausible bag, no measured one.
const STIFFNESS = 15_000
const MASS = 55
const STEP_S = 1 / 4800

export interface Fist {
  readonly centre: Vector
  readonly radius: number
}

export interface BagState {
  /// Where its axis stands at middle height, metres off its resting place.
  readonly x: number
  readonly z: number
}

export interface BagMotion {
  readonly home: readonly [number, number]
  readonly at: (seconds: number) => BagState
}

/// How far the fist is inside the bag (negative: the gap), metres, and the direction into the bag.
export function press(home: readonly [number, number], state: BagState, fist: Fist): { depth: number; x: number; z: number } {
  const dx = home[0] + state.x - fist.centre[0]
  const dz = home[1] + state.z - fist.centre[2]
  const d = Math.hypot(dx, dz) || 1e-9
  return { depth: BAG_RADIUS + fist.radius - d, x: dx / d, z: dz / d }
}

/// Plays the bag from rest: a pendulum pushed by the fists.
export function swing(home: readonly [number, number], fistsAt: (seconds: number) => readonly Fist[], from: number, to: number): BagMotion {
  const steps = Math.ceil((to - from) / STEP_S) + 2
  const xs = new Float32Array(steps)
  const zs = new Float32Array(steps)
  const pull = 9.81 / (HANGS_FROM - MIDDLE)
  let x = 0,
    z = 0,
    vx = 0,
    vz = 0
  for (let i = 0; i < steps; i++) {
    xs[i] = x
    zs[i] = z
    let ax = -pull * x - 0.9 * vx
    let az = -pull * z - 0.9 * vz
    for (const fist of fistsAt(from + i * STEP_S)) {
      const p = press(home, { x, z }, fist)
      if (p.depth <= 0) continue
      ax += (STIFFNESS * p.depth * p.x) / MASS
      az += (STIFFNESS * p.depth * p.z) / MASS
    }
    vx += ax * STEP_S
    vz += az * STEP_S
    x += vx * STEP_S
    z += vz * STEP_S
  }
  return {
    home,
    at: (seconds) => {
      const s = Math.min(steps - 1.001, Math.max(0, (seconds - from) / STEP_S))
      const i = Math.floor(s)
      const k = s - i
      return { x: xs[i]! * (1 - k) + xs[i + 1]! * k, z: zs[i]! * (1 - k) + zs[i + 1]! * k }
    },
  }
}

/// The first instant in [from, to] at which a fist's surface meets the bag's, to a microsecond.
/// Throws when it never does, or was already inside.
export function contactInstant(bag: BagMotion, fistAt: (seconds: number) => Fist, from: number, to: number): number {
  const depth = (t: number): number => press(bag.home, bag.at(t), fistAt(t)).depth
  if (depth(from) >= 0) throw new RangeError('the fist is in the bag before the strike')
  for (let t = from; t < to; t += 1 / 960) {
    if (depth(t + 1 / 960) < 0) continue
    let low = t
    let high = t + 1 / 960
    while (high - low > 1e-6) {
      const mid = (low + high) / 2
      if (depth(mid) < 0) low = mid
      else high = mid
    }
    return (low + high) / 2
  }
  throw new RangeError('the fist never meets the bag')
}

const AROUND = 56
/// Height and radius up the bag.
const PROFILE: readonly (readonly [number, number])[] = (() => {
  const rows: [number, number][] = [[BAG_BOTTOM, 0.001]]
  for (let i = 0; i <= 5; i++) {
    const a = (i / 5) * (Math.PI / 2)
    rows.push([BAG_BOTTOM + 0.05 * (1 - Math.cos(a)), BAG_RADIUS - 0.05 * (1 - Math.sin(a))])
  }
  for (let i = 1; i <= 34; i++) rows.push([BAG_BOTTOM + 0.05 + ((BAG_TOP - BAG_BOTTOM - 0.1) * i) / 34, BAG_RADIUS])
  for (let i = 1; i <= 5; i++) {
    const a = (i / 5) * (Math.PI / 2)
    rows.push([BAG_TOP - 0.05 + 0.05 * Math.sin(a), BAG_RADIUS - 0.05 * (1 - Math.cos(a))])
  }
  rows.push([BAG_TOP, 0.001])
  return rows
})()

/// Four straps to a ring, and the chain above it: from, to, radius.
const TUBES: readonly (readonly [Vector, Vector, number])[] = [
  ...[0.4, 1.97, 3.54, 5.11].map((a): readonly [Vector, Vector, number] => [
    [0.155 * Math.cos(a), BAG_TOP - 0.02, 0.155 * Math.sin(a)],
    [0.012 * Math.cos(a), 2.02, 0.012 * Math.sin(a)],
    0.009,
  ]),
  [[0, 2.0, 0], [0, 2.06, 0], 0.022],
  [[0, 2.04, 0], [0, HANGS_FROM, 0], 0.0125],
]
const TUBE_AROUND = 7
const TUBE_ALONG = 12
/// The first column stands twice, so that the texture closes without a seam.
const COLUMNS = AROUND + 1
const BODY_POINTS = PROFILE.length * COLUMNS

export const BAG_POINTS = BODY_POINTS + TUBES.length * TUBE_AROUND * (TUBE_ALONG + 1)

export const bagTriangles: Uint32Array = (() => {
  const out: number[] = []
  for (let r = 0; r + 1 < PROFILE.length; r++)
    for (let s = 0; s < AROUND; s++) {
      const a = r * COLUMNS + s
      out.push(a, a + COLUMNS, a + 1, a + 1, a + COLUMNS, a + COLUMNS + 1)
    }
  TUBES.forEach((_, t) => {
    const first = BODY_POINTS + t * TUBE_AROUND * (TUBE_ALONG + 1)
    for (let r = 0; r < TUBE_ALONG; r++)
      for (let s = 0; s < TUBE_AROUND; s++) {
        const a = first + r * TUBE_AROUND + s
        const b = first + r * TUBE_AROUND + ((s + 1) % TUBE_AROUND)
        out.push(a, a + TUBE_AROUND, b, b, a + TUBE_AROUND, b + TUBE_AROUND)
      }
  })
  return Uint32Array.from(out)
})()

/// The bag's points about its own axis, for its texture: x, height, z.
export const bagRest: Float32Array = (() => {
  const out = new Float32Array(BAG_POINTS * 3)
  PROFILE.forEach(([y, r], i) => {
    for (let s = 0; s < COLUMNS; s++) {
      const a = (2 * Math.PI * s) / AROUND
      out.set([r * Math.cos(a), y, r * Math.sin(a)], (i * COLUMNS + s) * 3)
    }
  })
  TUBES.forEach(([from, to, radius], t) => {
    for (let r = 0; r <= TUBE_ALONG; r++)
      for (let s = 0; s < TUBE_AROUND; s++) {
        const a = (2 * Math.PI * s) / TUBE_AROUND
        const k = r / TUBE_ALONG
        const p = plus(from, [to[0] - from[0], to[1] - from[1], to[2] - from[2]], k)
        out.set(
          [p[0] + radius * Math.cos(a), p[1], p[2] + radius * Math.sin(a)],
          (BODY_POINTS + (t * (TUBE_ALONG + 1) + r) * TUBE_AROUND + s) * 3,
        )
      }
  })
  return out
})()

/// Place on the bag's texture, 0–1 around and up, two numbers a point; straps and chain have none.
export const bagUnwrapped: Float32Array = (() => {
  const out = new Float32Array(BAG_POINTS * 2).fill(-1)
  PROFILE.forEach(([y], i) => {
    for (let s = 0; s < COLUMNS; s++) out.set([s / AROUND, (y - BAG_BOTTOM) / (BAG_TOP - BAG_BOTTOM)], (i * COLUMNS + s) * 2)
  })
  return out
})()

/// The bag in the hall: hung, swung and dented by the fists. Writes points, and normals where wanted, from `at` on.
export function hangBag(
  home: readonly [number, number],
  state: BagState,
  fists: readonly Fist[],
  points: Float32Array,
  normals: Float32Array | null,
  at: number,
): void {
  for (let v = 0; v < BAG_POINTS * 3; v += 3) {
    const y = bagRest[v + 1]!
    const lean = (HANGS_FROM - y) / (HANGS_FROM - MIDDLE)
    points[at + v] = home[0] + bagRest[v]! + state.x * lean
    points[at + v + 1] = y
    points[at + v + 2] = home[1] + bagRest[v + 2]! + state.z * lean
  }
  for (const fist of fists) {
    const p = press(home, state, fist)
    if (p.depth <= 0) continue
    const centre = plus(fist.centre, [p.x, 0, p.z], fist.radius - p.depth)
    for (let v = at; v < at + BODY_POINTS * 3; v += 3) {
      const d2 = (points[v]! - centre[0]) ** 2 + (points[v + 1]! - centre[1]) ** 2 + (points[v + 2]! - centre[2]) ** 2
      const give = p.depth * Math.exp(-d2 / (2 * 0.075 * 0.075))
      points[v]! += give * p.x
      points[v + 2]! += give * p.z
    }
  }
  if (!normals) return
  for (let v = BODY_POINTS; v < BAG_POINTS; v++) {
    const a = (2 * Math.PI * ((v - BODY_POINTS) % TUBE_AROUND)) / TUBE_AROUND
    normals[at + 3 * v] = Math.cos(a)
    normals[at + 3 * v + 1] = 0
    normals[at + 3 * v + 2] = Math.sin(a)
  }
  for (let r = 0; r < PROFILE.length; r++)
    for (let s = 0; s < COLUMNS; s++) {
      const v = at + (r * COLUMNS + s) * 3
      const up = at + (Math.min(r + 1, PROFILE.length - 1) * COLUMNS + s) * 3
      const down = at + (Math.max(r - 1, 0) * COLUMNS + s) * 3
      const next = at + (r * COLUMNS + ((s + 1) % AROUND)) * 3
      const last = at + (r * COLUMNS + ((s + AROUND - 1) % AROUND)) * 3
      const ux = points[up]! - points[down]!,
        uy = points[up + 1]! - points[down + 1]!,
        uz = points[up + 2]! - points[down + 2]!
      const sx = points[next]! - points[last]!,
        sy = points[next + 1]! - points[last + 1]!,
        sz = points[next + 2]! - points[last + 2]!
      const nx = uy * sz - uz * sy,
        ny = uz * sx - ux * sz,
        nz = ux * sy - uy * sx
      const length = Math.hypot(nx, ny, nz) || 1
      normals[v] = nx / length
      normals[v + 1] = ny / length
      normals[v + 2] = nz / length
    }
}
