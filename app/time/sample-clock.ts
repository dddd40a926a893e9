/// Which sample of a recording is being taken at a moment of another clock: told by the moments at which it was heard
/// how many there were.
///
/// Word of a sample can come late but never early, so the least late word of the last few seconds counts (the filter of
/// network clocks: D. L. Mills, RFC 5905 §10, takes the sample of least delay out of the last eight). Two clocks of 100 ppm
/// part by less than 0.3 ms within the words that are kept.
export interface SampleClock {
  /// Samples a second.
  readonly rate: number
  /// Samples that had been taken when the other clock stood at 0, as each word of the last few has it.
  readonly begins: readonly number[]
}

/// Words that count: at 2048 samples each, 2.7 s of 48 kHz.
const KEPT = 64

export const sampleClock = (rate: number): SampleClock => ({ rate, begins: [] })

/// Hears, at `ms` milliseconds of the other clock, that `samples` have been taken.
export const heardSamples = ({ rate, begins }: SampleClock, samples: number, ms: number): SampleClock => ({
  rate,
  begins: [...begins, samples - (ms * rate) / 1000].slice(-KEPT),
})

/// Samples that have been taken at `ms`, not rounded, never less than 0; null before the first word.
export const samplesAt = ({ rate, begins }: SampleClock, ms: number): number | null =>
  begins.length === 0 ? null : Math.max(0, Math.max(...begins) + (ms * rate) / 1000)
