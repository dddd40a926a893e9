import { cloud, dice, normal } from '../film/noise'
import type { Wave } from './wave'

/// The hall heard from ringside: air, a murmur of people, shoes on canvas, and the bag being hit.

const RATE = 48_000

export function hallSound(seconds: number, thuds: readonly { readonly at: number; readonly level: number }[], seed: number): Wave {
  const samples = new Float32Array(Math.round(seconds * RATE))
  const noise = normal(dice(seed))
  let low = 0
  let air = 0
  const voices = [230, 310, 420, 560, 750, 980].map((hertz, i) => ({ hertz, a: 0, b: 0, k: 0.9 / (1 + i * 0.5), shift: 17 * i + seed }))
  for (let n = 0; n < samples.length; n++) {
    const white = noise()
    low += (white - low) * 0.012
    air += (white - air) * 0.25
    let murmur = 0
    const t = n / RATE
    for (const v of voices) {
      const w = (2 * Math.PI * v.hertz) / RATE
      const r = 0.994
      const y = white * 0.02 + 2 * r * Math.cos(w) * v.a - r * r * v.b
      v.b = v.a
      v.a = y
      murmur += y * v.k * (0.55 + 0.45 * cloud(t * 4.2 + v.shift, v.shift, 0.5))
    }
    samples[n] = 0.05 * low + 0.0025 * air + 0.012 * murmur * (0.8 + 0.2 * cloud(t * 0.9, seed, 4))
  }
  for (const { at, level } of thuds) {
    const start = Math.round(at * RATE)
    const hit = normal(dice(seed + start))
    let slap = 0
    for (let i = 0; i < RATE * 0.5 && start + i < samples.length; i++) {
      if (start + i < 0) continue
      const t = i / RATE
      slap += (hit() - slap) * 0.35
      const body = Math.sin(2 * Math.PI * (62 * t + 2.2 * (1 - Math.exp(-t * 30)))) * Math.exp(-t * 15)
      const skin = slap * Math.exp(-t * 95) * 0.8
      const chain = t > 0.03 ? Math.sin(2 * Math.PI * 2140 * t) * Math.sin(2 * Math.PI * 1730 * t) * Math.exp(-(t - 0.03) * 18) * 0.04 : 0
      samples[start + i]! += level * Math.min(1, t * 900) * (body + skin + chain)
    }
  }
  const fade = Math.round(0.02 * RATE)
  for (let i = 0; i < fade; i++) {
    samples[i]! *= i / fade
    samples[samples.length - 1 - i]! *= i / fade
  }
  return { rate: RATE, samples }
}
