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
      for (let b = -1; b <= 1; b++)
        for (let a = -1; a <= 1; a++)
          sum += fine[((y + b) & 511) * GRAIN + ((x + a) & 511)]! * (a === 0 && b === 0 ? 2 : a === 0 || b === 0 ? 1 : 0.5)
      out[y * GRAIN + x] = sum / 3.2
    }
  return out
})()

/// Pixels in [left, right) × [top, bottom), even edges.
export interface Patch {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

export class Grader {
  private readonly vignette: Float32Array
  private readonly luma: Float32Array
  private readonly speck: Float32Array
  private readonly still: { readonly luma: Float32Array; readonly speck: Float32Array; readonly chroma: Uint8Array }

  /// `backdrop` is what stands still behind everything, three numbers a pixel of linear light.
  constructor(
    readonly width: number,
    readonly height: number,
    private readonly grainSize: number,
    backdrop: Float32Array,
  ) {
    const n = width * height
    this.vignette = new Float32Array(n)
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const u = (x + 0.5 - width / 2) / (width / 2)
        const v = (y + 0.5 - height / 2) / (height / 2)
        this.vignette[y * width + x] = 1 - 0.34 * Math.min(1.6, u * u * 0.75 + v * v * 0.55) ** 1.25
      }
    this.luma = new Float32Array(n)
    this.speck = new Float32Array(n)
    const chroma = new Uint8Array(n / 2)
    this.tone(backdrop, { left: 0, top: 0, right: width, bottom: height }, new Uint8Array(n / 4).fill(1), chroma, 0)
    this.still = { luma: this.luma.slice(), speck: this.speck.slice(), chroma }
  }

  /// One finished frame as planar Y, Cb, Cr bytes: `light` in the touched 2×2 blocks of the patch, the
  /// backdrop elsewhere.
  /// `number` seeds the grain.
  develop(light: Float32Array, patch: Patch, touched: Uint8Array, number: number): Uint8Array {
    const { width, height, luma, speck, still } = this
    const n = width * height
    const out = new Uint8Array((n * 3) / 2)
    out.set(still.chroma, n)
    this.tone(light, patch, touched, out, n)
    const random = dice(number * 7919 + 13)
    const gx = Math.floor(random() * GRAIN)
    const gy = Math.floor(random() * GRAIN)
    for (let y = 0; y < height; y++) {
      const row = y * width
      const grains = ((y + gy) & 511) * GRAIN
      for (let x = 0; x < width; x++) {
        const v = luma[row + x]! + grain[grains + ((x + gx) & 511)]! * speck[row + x]!
        out[row + x] = v < 16 ? 16 : v > 235 ? 235 : v
      }
    }
    for (let y = patch.top; y < patch.bottom; y++) {
      const from = y * width + patch.left
      const to = y * width + patch.right
      luma.set(still.luma.subarray(from, to), from)
      speck.set(still.speck.subarray(from, to), from)
    }
    return out
  }

  /// Grades a patch: luma and the grain it takes into the fields, chroma into `out` from `at` on.
  private tone(light: Float32Array, { left, top, right, bottom }: Patch, touched: Uint8Array, out: Uint8Array, at: number): void {
    const { width, height, vignette, luma, speck, grainSize } = this
    const cr = at + (width * height) / 4
    for (let y = top; y < bottom; y += 2)
      for (let x = left; x < right; x += 2) {
        const c = (y >> 1) * (width >> 1) + (x >> 1)
        if (touched[c] === 0) continue
        let cbSum = 0
        let crSum = 0
        for (let k = 0; k < 4; k++) {
          const pixel = (y + (k >> 1)) * width + x + (k & 1)
          const i = pixel * 3
          const v = vignette[pixel]!
          let r = encoded(light[i]! * v)
          let g = encoded(light[i + 1]! * v)
          let b = encoded(light[i + 2]! * v)
          const l = 0.2126 * r + 0.7152 * g + 0.0722 * b
          r = l + (r - l) * 1.06 + 0.012 * l - 0.004 * (1 - l)
          g = l + (g - l) * 1.06 + 0.004 * (1 - l)
          b = l + (b - l) * 1.06 - 0.016 * l + 0.016 * (1 - l)
          const toned = 0.2126 * r + 0.7152 * g + 0.0722 * b
          luma[pixel] = 16.5 + 219 * toned
          speck[pixel] = grainSize * (0.45 + 1.1 * toned * (1.25 - toned))
          cbSum += b - toned
          crSum += r - toned
        }
        out[at + c] = 128.5 + (56 * cbSum) / 1.8556
        out[cr + c] = 128.5 + (56 * crSum) / 1.5748
      }
  }
}
