import { dice, normal } from './noise'

/// From linear light to the film's picture: a soft shoulder, a gentle split tone, vignette, grain,
/// BT.709 in studio range, 4:2:0.

const STEPS = 4096
const REACH = 4

/// Encoded value 0–1 for linear light, by the square root of the light.
const CURVE = (() => {
  const out = new Float32Array(STEPS + 1)
  for (let i = 0; i <= STEPS; i++) {
    const x = REACH * (i / STEPS) ** 2 * 1.12
    const film = (x * (2.51 * x + 0.03)) / (x * (2.43 * x + 0.59) + 0.14)
    out[i] = Math.pow(Math.min(1, Math.max(0, film)), 1 / 2.15)
  }
  return out
})()

const encoded = (light: number): number => CURVE[Math.min(STEPS, Math.sqrt(light > 0 ? light / REACH : 0) * STEPS) | 0]!

const GRAIN = 512
const grain = (() => {
  const random = normal(dice(90_125))
  const fine = Float32Array.from({ length: GRAIN * GRAIN }, random)
  const out = new Float32Array(GRAIN * GRAIN)
  for (let y = 0; y < GRAIN; y++)
    for (let x = 0; x < GRAIN; x++) {
      let sum = 0
      for (let b = -1; b <= 1; b++) for (let a = -1; a <= 1; a++) sum += fine[((y + b) & 511) * GRAIN + ((x + a) & 511)]! * (a === 0 && b === 0 ? 2 : a === 0 || b === 0 ? 1 : 0.5)
      out[y * GRAIN + x] = sum / 3.2
    }
  return out
})()

export class Grader {
  private readonly vignette: Float32Array
  private readonly across: Float32Array
  constructor(
    readonly width: number,
    readonly height: number,
    private readonly grainSize: number,
  ) {
    this.vignette = new Float32Array(width * height)
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const u = (x + 0.5 - width / 2) / (width / 2)
        const v = (y + 0.5 - height / 2) / (height / 2)
        this.vignette[y * width + x] = 1 - 0.34 * Math.min(1.6, u * u * 0.75 + v * v * 0.55) ** 1.25
      }
    this.across = new Float32Array(width * 3 * 2)
  }

  /// One finished frame of linear light as planar Y, Cb, Cr bytes. `number` seeds the grain.
  develop(light: Float32Array, number: number): Uint8Array {
    const { width, height, vignette, across } = this
    const out = new Uint8Array((width * height * 3) / 2)
    const random = dice(number * 7919 + 13)
    const gx = Math.floor(random() * GRAIN)
    const gy = Math.floor(random() * GRAIN)
    const cb = width * height
    const cr = cb + cb / 4
    for (let y = 0; y < height; y += 2) {
      for (let half = 0; half < 2; half++) {
        const row = (y + half) * width
        const speck = ((y + half + gy) & 511) * GRAIN
        for (let x = 0; x < width; x++) {
          const i = (row + x) * 3
          const v = vignette[row + x]!
          let r = encoded(light[i]! * v)
          let g = encoded(light[i + 1]! * v)
          let b = encoded(light[i + 2]! * v)
          const luma = 0.2126 * r + 0.7152 * g + 0.0722 * b
          const shade = 1 - luma
          r = luma + (r - luma) * 1.06 + 0.012 * luma - 0.004 * shade
          g = luma + (g - luma) * 1.06 + 0.004 * shade
          b = luma + (b - luma) * 1.06 - 0.016 * luma + 0.016 * shade
          const o = (half * width + x) * 3
          across[o] = r
          across[o + 1] = g
          across[o + 2] = b
          const noise = grain[speck + ((x + gx) & 511)]! * this.grainSize * (0.45 + 1.1 * luma * (1.25 - luma))
          const yy = 16.5 + 219 * (0.2126 * r + 0.7152 * g + 0.0722 * b) + noise
          out[row + x] = yy < 16 ? 16 : yy > 235 ? 235 : yy
        }
      }
      for (let x = 0; x < width; x += 2) {
        const a = x * 3
        const b = a + 3
        const c = (width + x) * 3
        const d = c + 3
        const r = (across[a]! + across[b]! + across[c]! + across[d]!) / 4
        const g = (across[a + 1]! + across[b + 1]! + across[c + 1]! + across[d + 1]!) / 4
        const bl = (across[a + 2]! + across[b + 2]! + across[c + 2]! + across[d + 2]!) / 4
        const luma = 0.2126 * r + 0.7152 * g + 0.0722 * bl
        const at = (y >> 1) * (width >> 1) + (x >> 1)
        out[cb + at] = 128.5 + (224 * (bl - luma)) / 1.8556
        out[cr + at] = 128.5 + (224 * (r - luma)) / 1.5748
      }
    }
    return out
  }
}
