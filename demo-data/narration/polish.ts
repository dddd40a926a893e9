import { dice, normal } from '../film/noise'
import type { Wave } from '../sound/wave'

/// From what the synthesiser said to a take: 48 kHz, low rumble out, a level as a careful recording
/// has it, and the faint tone of a quiet room under everything.

export const TAKE_RATE = 48_000
const LOUDNESS = 10 ** (-21 / 20)
const PEAK = 10 ** (-6.5 / 20)
const ROOM = 10 ** (-67 / 20)

/// To 48 kHz by a windowed sinc (Kaiser, β = 8). Only whole ratios: 16, 24 and 48 kHz.
export function resampled({ rate, samples }: Wave): Float32Array {
  const ratio = TAKE_RATE / rate
  if (!Number.isInteger(ratio)) throw new RangeError(`${rate} Hz does not go into 48 kHz`)
  if (ratio === 1) return samples
  const reach = 24
  const taps = new Float64Array(2 * reach * ratio + 1)
  for (let i = 0; i < taps.length; i++) {
    const t = (i - reach * ratio) / ratio
    const x = t / reach
    const cut = 0.96
    taps[i] = (t === 0 ? cut : Math.sin(Math.PI * cut * t) / (Math.PI * t)) * (bessel(8 * Math.sqrt(Math.max(0, 1 - x * x))) / bessel(8))
  }
  const out = new Float32Array(samples.length * ratio)
  for (let n = 0; n < out.length; n++) {
    let sum = 0
    const first = Math.max(0, Math.ceil(n / ratio - reach))
    const last = Math.min(samples.length - 1, Math.floor(n / ratio + reach))
    for (let k = first; k <= last; k++) sum += samples[k]! * taps[n - k * ratio + reach * ratio]!
    out[n] = sum
  }
  return out
}

function bessel(x: number): number {
  let sum = 1
  let term = 1
  for (let k = 1; k < 30; k++) {
    term *= (x / (2 * k)) ** 2
    sum += term
  }
  return sum
}

/// Levels a voice in place: high-pass at 75 Hz, a little presence, then one gain and a soft ceiling.
export function levelled(samples: Float32Array): Float32Array {
  const voice = shelved(highPassed(samples, 75), 3200, 2.5)
  let sum = 0
  let count = 0
  const block = 1200
  for (let i = 0; i + block <= voice.length; i += block) {
    let power = 0
    for (let k = 0; k < block; k++) power += voice[i + k]! ** 2
    if (power / block < 1e-5) continue
    sum += power
    count += block
  }
  const gain = count === 0 ? 1 : LOUDNESS / Math.sqrt(sum / count)
  const knee = PEAK * 0.6
  return voice.map((v) => {
    const s = Math.abs(v * gain)
    const soft = s <= knee ? s : knee + (PEAK - knee) * Math.tanh((s - knee) / (PEAK - knee))
    return v < 0 ? -soft : soft
  })
}

function highPassed(samples: Float32Array, hertz: number): Float32Array {
  const w = (2 * Math.PI * hertz) / TAKE_RATE
  const a = Math.sin(w) / Math.SQRT2
  const c = Math.cos(w)
  return filtered(samples, [(1 + c) / 2, -(1 + c), (1 + c) / 2], [1 + a, -2 * c, 1 - a])
}

/// High shelf (biquads of R. Bristow-Johnson's cookbook, from memory, slope 1).
function shelved(samples: Float32Array, hertz: number, db: number): Float32Array {
  const A = 10 ** (db / 40)
  const w = (2 * Math.PI * hertz) / TAKE_RATE
  const c = Math.cos(w)
  const k = 2 * Math.sqrt(A) * (Math.sin(w) / Math.SQRT2)
  return filtered(
    samples,
    [A * (A + 1 + (A - 1) * c + k), -2 * A * (A - 1 + (A + 1) * c), A * (A + 1 + (A - 1) * c - k)],
    [A + 1 - (A - 1) * c + k, 2 * (A - 1 - (A + 1) * c), A + 1 - (A - 1) * c - k],
  )
}

function filtered(
  samples: Float32Array,
  [b0, b1, b2]: readonly [number, number, number],
  [a0, a1, a2]: readonly [number, number, number],
): Float32Array {
  const out = new Float32Array(samples.length)
  let x1 = 0,
    x2 = 0,
    y1 = 0,
    y2 = 0
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]!
    const y = (b0 * x + b1 * x1 + b2 * x2 - a1 * y1 - a2 * y2) / a0
    x2 = x1
    x1 = x
    y2 = y1
    y1 = y
    out[i] = y
  }
  return out
}

/// The tone of a quiet room, faint and dark.
export function roomTone(length: number, seed: number): Float32Array {
  const noise = normal(dice(seed))
  const out = new Float32Array(length)
  let low = 0
  for (let i = 0; i < length; i++) {
    low += (noise() - low) * 0.06
    out[i] = low * ROOM * 5.6
  }
  return out
}
