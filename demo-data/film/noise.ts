/// Deterministic noise: everything that looks random in the demo comes from here.

/// A generator of numbers in [0, 1) from a seed (mulberry32, public domain).
export function dice(seed: number): () => number {
  let s = seed >>> 0
  return () => {
    s = (s + 0x6d2b79f5) >>> 0
    let t = s
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/// Normal deviates from a generator (Box–Muller).
export function normal(random: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}

const SIZE = 64
const VOLUME = (() => {
  const random = dice(20_417)
  const v = new Float32Array(SIZE * SIZE * SIZE)
  for (let i = 0; i < v.length; i++) v[i] = random() * 2 - 1
  return v
})()

/// Smooth noise in [−1, 1] with features about 1 unit wide; repeats every 64 units.
export function cloud(x: number, y: number, z: number): number {
  const i = Math.floor(x),
    j = Math.floor(y),
    k = Math.floor(z)
  const fx = x - i,
    fy = y - j,
    fz = z - k
  const ux = fx * fx * (3 - 2 * fx),
    uy = fy * fy * (3 - 2 * fy),
    uz = fz * fz * (3 - 2 * fz)
  const a = i & 63,
    b = (i + 1) & 63
  const c = (j & 63) << 6,
    d = ((j + 1) & 63) << 6
  const e = (k & 63) << 12,
    f = ((k + 1) & 63) << 12
  const x00 = VOLUME[a + c + e]! + ux * (VOLUME[b + c + e]! - VOLUME[a + c + e]!)
  const x10 = VOLUME[a + d + e]! + ux * (VOLUME[b + d + e]! - VOLUME[a + d + e]!)
  const x01 = VOLUME[a + c + f]! + ux * (VOLUME[b + c + f]! - VOLUME[a + c + f]!)
  const x11 = VOLUME[a + d + f]! + ux * (VOLUME[b + d + f]! - VOLUME[a + d + f]!)
  const y0 = x00 + uy * (x10 - x00)
  const y1 = x01 + uy * (x11 - x01)
  return y0 + uz * (y1 - y0)
}

/// Noise with finer and fainter detail over it.
export const clouds = (x: number, y: number, z: number): number =>
  cloud(x, y, z) * 0.57 + cloud(2.1 * x + 7, 2.1 * y, 2.1 * z) * 0.28 + cloud(4.3 * x, 4.3 * y + 3, 4.3 * z) * 0.15

export const smoothstep = (from: number, to: number, x: number): number => {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)))
  return t * t * (3 - 2 * t)
}
