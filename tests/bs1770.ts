/// A second loudness meter, written from ITU-R BS.1770 / EBU R 128 for the tests alone, so that the
/// program's meter is not its own judge. Stereo or mono at 48 kHz.

/// K-weighting at 48 kHz, as BS.1770 prints it (computed from its formulas; they match the constants
/// from memory).
const SHELF = { b: [1.53512485958697, -2.69169618940638, 1.19839281085285], a: [-1.69065929318241, 0.73248077421585] } as const
const HIGH_PASS = { b: [1, -2, 1], a: [-1.99004745483398, 0.99007225036621] } as const

function biquad(
  samples: Float32Array,
  { b, a }: { readonly b: readonly [number, number, number]; readonly a: readonly [number, number] },
): Float32Array {
  const out = new Float32Array(samples.length)
  let [x1, x2, y1, y2] = [0, 0, 0, 0]
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]!
    const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2
    ;[x2, x1, y2, y1] = [x1, x, y1, y]
    out[i] = y
  }
  return out
}

const kWeighted = (samples: Float32Array): Float32Array => biquad(biquad(samples, SHELF), HIGH_PASS)

/// Gain of the K-weighting at a frequency, linear.
export function kGain(hertz: number): number {
  const w = (2 * Math.PI * hertz) / 48_000
  const size = (c: readonly number[]): number =>
    Math.hypot(...[Math.cos, Math.sin].map((f) => c.reduce((sum, value, k) => sum + value * f(-k * w), 0)))
  return [SHELF, HIGH_PASS].reduce((gain, { b, a }) => (gain * size(b)) / size([1, ...a]), 1)
}

/// Integrated loudness, LUFS: 400 ms blocks, three quarters overlapping, gates at −70 and 10 below.
export function integratedLoudness(channels: readonly Float32Array[]): number {
  const weighted = channels.map(kWeighted)
  const [block, step] = [19_200, 4_800]
  const powers: number[] = []
  for (let at = 0; at + block <= (weighted[0]?.length ?? 0); at += step) {
    let power = 0
    for (const channel of weighted) for (let i = at; i < at + block; i++) power += channel[i]! ** 2 / block
    powers.push(power)
  }
  const loudness = (power: number): number => -0.691 + 10 * Math.log10(power)
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length
  const heard = powers.filter((power) => loudness(power) > -70)
  const gate = loudness(mean(heard)) - 10
  return loudness(mean(heard.filter((power) => loudness(power) > gate)))
}

/// True peak, dBTP, by eightfold oversampling with a windowed sinc of 64 taps a phase (finer than the
/// fourfold that BS.1770 asks for).
export function truePeak(channels: readonly Float32Array[]): number {
  const [phases, half] = [8, 32]
  const kernel = Array.from({ length: phases }, (_, p) =>
    Float64Array.from({ length: 2 * half }, (_, k) => {
      const t = k - half + 1 - p / phases
      const window = 0.5 + 0.5 * Math.cos((Math.PI * t) / half)
      return (t === 0 ? 1 : Math.sin(Math.PI * t) / (Math.PI * t)) * window
    }),
  )
  let peak = 0
  for (const channel of channels) {
    const loudest = channel.reduce((most, x) => Math.max(most, Math.abs(x)), 0)
    for (let i = half; i + half < channel.length; i++) {
      // A peak between samples is no more than about twice its neighbours.
      if (Math.max(Math.abs(channel[i]!), Math.abs(channel[i + 1]!)) < loudest / 3) continue
      for (const taps of kernel) {
        let sum = 0
        for (let k = 0; k < taps.length; k++) sum += taps[k]! * channel[i - half + 1 + k]!
        peak = Math.max(peak, Math.abs(sum))
      }
    }
  }
  return 20 * Math.log10(peak)
}
