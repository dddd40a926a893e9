import { writeFile } from 'node:fs/promises'

/// Made sounds for checks of the mix. Seeded, so every run hears the same.

export const RATE = 48_000

/// Mulberry32: a small seeded random source, 0 to 1.
export function random(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/// Something like speech: a buzz of falling harmonics under 4 kHz in syllables of 120–280 ms with
/// pauses, some noise between. `level` is its rough peak, 0 to 1.
export function speechLike(seconds: number, level: number, seed: number): Float32Array {
  const next = random(seed)
  const out = new Float32Array(Math.round(seconds * RATE))
  let at = 0
  while (at < out.length) {
    const length = Math.round((0.12 + 0.16 * next()) * RATE)
    const pitch = 95 + 60 * next()
    const strength = 0.35 + 0.65 * next()
    const formant = 400 + 1400 * next()
    const harmonics = Array.from(
      { length: Math.floor(4000 / pitch) },
      (_, k) => Math.exp(-Math.abs((k + 1) * pitch - formant) / 600) / (1 + 0.15 * k),
    )
    const total = harmonics.reduce((a, b) => a + b, 0)
    for (let i = 0; i < length && at + i < out.length; i++) {
      const envelope = Math.sin((Math.PI * i) / length) ** 0.7
      let sample = 0
      for (const [k, weight] of harmonics.entries())
        if (weight > 0.02) sample += weight * Math.sin((2 * Math.PI * pitch * (k + 1) * i) / RATE)
      out[at + i] = (level * strength * envelope * (1.8 * sample)) / total + level * 0.002 * (next() - 0.5)
    }
    at += length + Math.round((next() < 0.2 ? 0.25 : 0.03) * RATE)
  }
  return out
}

/// Adds hard clicks of full `level`, about three a second.
export function withPeaks(samples: Float32Array, level: number, seed: number): Float32Array {
  const next = random(seed)
  const out = Float32Array.from(samples)
  for (let at = Math.round(0.2 * RATE); at < out.length; at += Math.round((0.2 + 0.3 * next()) * RATE)) {
    for (let i = 0; i < 40 && at + i < out.length; i++) out[at + i] = level * (i % 7 < 3 ? 1 : -1) * Math.exp(-i / 20)
  }
  return out
}

export const sine = (seconds: number, hertz: number, level: number): Float32Array =>
  Float32Array.from({ length: Math.round(seconds * RATE) }, (_, i) => level * Math.sin((2 * Math.PI * hertz * i) / RATE))

export function noise(seconds: number, level: number, seed: number): Float32Array {
  const next = random(seed)
  return Float32Array.from({ length: Math.round(seconds * RATE) }, () => level * (2 * next() - 1))
}

/// Writes 32-bit float WAV, interleaving the channels.
export async function writeWav(path: string, channels: readonly Float32Array[], rate = RATE): Promise<void> {
  const frames = channels[0]?.length ?? 0
  const samples = new Float32Array(frames * channels.length)
  channels.forEach((channel, c) => {
    for (let i = 0; i < frames; i++) samples[i * channels.length + c] = channel[i] ?? 0
  })
  const head = Buffer.alloc(44)
  head.write('RIFF', 0)
  head.writeUInt32LE(36 + samples.byteLength, 4)
  head.write('WAVEfmt ', 8)
  head.writeUInt32LE(16, 16)
  head.writeUInt16LE(3, 20)
  head.writeUInt16LE(channels.length, 22)
  head.writeUInt32LE(rate, 24)
  head.writeUInt32LE(rate * channels.length * 4, 28)
  head.writeUInt16LE(channels.length * 4, 32)
  head.writeUInt16LE(32, 34)
  head.write('data', 36)
  head.writeUInt32LE(samples.byteLength, 40)
  await writeFile(path, Buffer.concat([head, Buffer.from(samples.buffer)]))
}
