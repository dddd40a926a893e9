/// Zero-lag low-pass: a second-order Butterworth filter run forward and back.

export interface Biquad {
  readonly b: readonly [number, number, number]
  readonly a: readonly [1, number, number]
}

/// Two passes lower the combined cut-off; the design is raised by this, C = (2^(1/n) − 1)^(1/4)
/// with n = 2 passes (Winter 2009 §2.2.4.4).
export const DUAL_PASS = (Math.SQRT2 - 1) ** 0.25

/// Coefficients of one pass whose gain is 1/√2 at `cutoff_hz`: the analog prototype by the
/// bilinear transform, prewarped (as SciPy's `butter(2, …)`). `rate_hz` is the true sampling rate.
/// Throws RangeError unless 0 < cut-off < half the rate.
export function singlePass(rate_hz: number, cutoff_hz: number): Biquad {
  if (!(cutoff_hz > 0 && cutoff_hz < rate_hz / 2)) throw new RangeError(`a cut-off of ${cutoff_hz} Hz does not fit a rate of ${rate_hz} Hz`)
  return fromWarped(Math.tan((Math.PI * cutoff_hz) / rate_hz))
}

/// Coefficients of each of two passes that together have gain 1/√2 at `cutoff_hz`, exactly.
/// The correction is applied to the prewarped frequency: fc' = (fs/π)·atan(tan(π·fc/fs)/C). The
/// textbook's fc/C in hertz leaves 0.7229 at fs/fc = 10 and 0.779 at fs/fc = 5 instead of 0.7071.
export function dualPass(rate_hz: number, cutoff_hz: number): Biquad {
  if (!(cutoff_hz > 0 && cutoff_hz < rate_hz / 2)) throw new RangeError(`a cut-off of ${cutoff_hz} Hz does not fit a rate of ${rate_hz} Hz`)
  return fromWarped(Math.tan((Math.PI * cutoff_hz) / rate_hz) / DUAL_PASS)
}

/// `w` is tan(π·f/fs) of the design frequency.
function fromWarped(w: number): Biquad {
  const scale = 1 / (1 + Math.SQRT2 * w + w * w)
  const gain = w * w * scale
  return { b: [gain, 2 * gain, gain], a: [1, 2 * (w * w - 1) * scale, (1 - Math.SQRT2 * w + w * w) * scale] }
}

/// The state in which a constant input of 1 has settled (SciPy's `lfilter_zi`).
export function settled({ b, a }: Biquad): readonly [number, number] {
  const gain = (b[0] + b[1] + b[2]) / (1 + a[1] + a[2])
  const second = b[2] - a[2] * gain
  return [b[1] - a[1] * gain + second, second]
}

/// One pass over `x` from the given state (transposed direct form II).
export function passOnce({ b, a }: Biquad, x: readonly number[], state: readonly [number, number]): number[] {
  let [s, t] = state
  return x.map((value) => {
    const y = b[0] * value + s
    s = b[1] * value - a[1] * y + t
    t = b[2] * value - a[2] * y
    return y
  })
}

/// Samples added at each end by odd reflection, as SciPy's `filtfilt` does: three times the
/// filter's length.
export const PADDING = 9

/// Forward and back over evenly spaced samples without gaps. The ends are padded by odd
/// reflection (2·x₀ − x₁ …), by fewer samples where the run is shorter than the padding.
export function filterBothWays(filter: Biquad, x: readonly number[], padding = PADDING): number[] {
  const n = x.length
  if (n === 0) return []
  const pad = Math.min(padding, n - 1)
  const [first, last] = [x[0]!, x[n - 1]!]
  const padded: number[] = []
  for (let i = pad; i >= 1; i--) padded.push(2 * first - x[i]!)
  padded.push(...x)
  for (let i = 1; i <= pad; i++) padded.push(2 * last - x[n - 1 - i]!)
  const rest = settled(filter)
  const from = (value: number): [number, number] => [rest[0] * value, rest[1] * value]
  const forward = passOnce(filter, padded, from(padded[0]!)).reverse()
  const back = passOnce(filter, forward, from(forward[0]!)).reverse()
  return back.slice(pad, pad + n)
}

/// Combined gain of the two passes at a frequency.
export function gainBothWays({ b, a }: Biquad, frequency_hz: number, rate_hz: number): number {
  const w = (2 * Math.PI * frequency_hz) / rate_hz
  const square = (c: readonly [number, number, number]): number =>
    (c[0] + c[1] * Math.cos(w) + c[2] * Math.cos(2 * w)) ** 2 + (c[1] * Math.sin(w) + c[2] * Math.sin(2 * w)) ** 2
  return square(b) / square(a)
}
