/// Mel-frequency cepstra of speech: what a warping compares. Davis & Mermelstein 1980 (IEEE Trans. ASSP 28:357);
/// filters on the mel scale 2595·log10(1 + f/700) (from memory).

/// Samples a second that speech is compared at.
export const SPEECH_RATE = 16_000
/// Samples between two frames (10 ms) and in one (25 ms).
export const HOP = 160
const WINDOW = 400
const SIZE = 512
const FILTERS = 26
const KEPT = 13

/// One frame every `HOP` samples: `width` numbers each, cepstra 0–12 and how they change, of even spread over the take.
export interface Cepstra {
  readonly frames: number
  readonly width: number
  readonly values: Float32Array
  /// Level of each frame, dB below full scale.
  readonly level: Float32Array
}

const mel = (hertz: number): number => 2595 * Math.log10(1 + hertz / 700)
const hertzOf = (m: number): number => 700 * (10 ** (m / 2595) - 1)

const window = Float64Array.from({ length: WINDOW }, (_, i) => 0.54 - 0.46 * Math.cos((2 * Math.PI * i) / (WINDOW - 1)))
const edges = Float64Array.from(
  { length: FILTERS + 2 },
  (_, i) => (hertzOf(mel(80) + ((mel(7000) - mel(80)) * i) / (FILTERS + 1)) * SIZE) / SPEECH_RATE,
)
const cosines = Array.from({ length: KEPT }, (_, k) =>
  Float64Array.from({ length: FILTERS }, (_, j) => Math.cos((Math.PI * k * (j + 0.5)) / FILTERS)),
)

/// Cepstra of speech at 16 kHz, samples from −1 to 1.
export function cepstraOf(samples: Float32Array): Cepstra {
  const frames = Math.max(0, Math.floor((samples.length - WINDOW) / HOP) + 1)
  const raw = new Float32Array(frames * KEPT)
  const level = new Float32Array(frames)
  const re = new Float64Array(SIZE)
  const im = new Float64Array(SIZE)
  const energies = new Float64Array(FILTERS)
  for (let f = 0; f < frames; f++) {
    re.fill(0)
    im.fill(0)
    let power = 0
    for (let i = 0; i < WINDOW; i++) {
      const at = f * HOP + i
      const sample = samples[at] as number
      power += sample * sample
      re[i] = (sample - 0.97 * (at > 0 ? (samples[at - 1] as number) : 0)) * (window[i] as number)
    }
    level[f] = 10 * Math.log10(power / WINDOW + 1e-10)
    transform(re, im)
    for (let j = 0; j < FILTERS; j++) {
      const [low, middle, high] = [edges[j] as number, edges[j + 1] as number, edges[j + 2] as number]
      let sum = 0
      for (let k = Math.ceil(low); k < high; k++)
        sum += ((re[k] as number) ** 2 + (im[k] as number) ** 2) * (k < middle ? (k - low) / (middle - low) : (high - k) / (high - middle))
      energies[j] = Math.log(sum + 1e-6)
    }
    for (let k = 0; k < KEPT; k++) {
      let sum = 0
      for (let j = 0; j < FILTERS; j++) sum += (energies[j] as number) * ((cosines[k] as Float64Array)[j] as number)
      raw[f * KEPT + k] = sum
    }
  }
  return { frames, width: 2 * KEPT, values: spread(raw, frames), level }
}

/// Each coefficient less its mean, over its spread; behind them their slopes over ±2 frames.
function spread(raw: Float32Array, frames: number): Float32Array {
  const values = new Float32Array(frames * 2 * KEPT)
  for (let k = 0; k < KEPT; k++) {
    let [sum, squares] = [0, 0]
    for (let f = 0; f < frames; f++) sum += raw[f * KEPT + k] as number
    const mean = sum / Math.max(1, frames)
    for (let f = 0; f < frames; f++) squares += ((raw[f * KEPT + k] as number) - mean) ** 2
    const deviation = Math.sqrt(squares / Math.max(1, frames)) + 1e-6
    const at = (f: number): number => ((raw[Math.max(0, Math.min(frames - 1, f)) * KEPT + k] as number) - mean) / deviation
    for (let f = 0; f < frames; f++) {
      values[f * 2 * KEPT + k] = at(f)
      values[f * 2 * KEPT + KEPT + k] = (2 * (at(f + 2) - at(f - 2)) + at(f + 1) - at(f - 1)) / 5
    }
  }
  return values
}

/// Fast Fourier transform in place (Cooley & Tukey 1965), `SIZE` points.
function transform(re: Float64Array, im: Float64Array): void {
  for (let i = 1, j = 0; i < SIZE; i++) {
    let bit = SIZE >> 1
    for (; j & bit; bit >>= 1) j ^= bit
    j ^= bit
    if (i < j) {
      const [a, b] = [re[i] as number, im[i] as number]
      re[i] = re[j] as number
      im[i] = im[j] as number
      re[j] = a
      im[j] = b
    }
  }
  for (let length = 2; length <= SIZE; length <<= 1) {
    const half = length >> 1
    for (let k = 0; k < half; k++) {
      const angle = (-2 * Math.PI * k) / length
      const [c, s] = [Math.cos(angle), Math.sin(angle)]
      for (let i = k; i < SIZE; i += length) {
        const j = i + half
        const [x, y] = [(re[j] as number) * c - (im[j] as number) * s, (re[j] as number) * s + (im[j] as number) * c]
        re[j] = (re[i] as number) - x
        im[j] = (im[i] as number) - y
        re[i] = (re[i] as number) + x
        im[i] = (im[i] as number) + y
      }
    }
  }
}
