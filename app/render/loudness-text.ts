/// Loudness of a sound after EBU R 128 / ITU-R BS.1770.
export interface LoudnessFigures {
  /// Integrated loudness, LUFS; −∞ below the absolute gate of −70.
  readonly integrated: number
  /// Loudest 400 ms, LUFS; −∞ when none lies above −70.
  readonly momentaryMost: number
  /// dBTP; −∞ for silence, and where peaks were not asked for.
  readonly truePeak: number
}

const GATE = -70

/// Reads what ffmpeg's `ebur128` filter prints through `ametadata`, piece by piece as it comes. Its
/// metadata has three decimals where its summary has one.
export class LoudnessText {
  #rest = ''
  #integrated = -Infinity
  #momentary = -Infinity
  #peak = 0

  add(text: string): void {
    const lines = (this.#rest + text).split('\n')
    this.#rest = lines.pop() ?? ''
    for (const line of lines) {
      const match = /^lavfi\.r128\.(I|M|true_peaks_ch\d+)=(-?[\d.]+|-?inf|nan)/.exec(line)
      if (!match) continue
      const value = Number(match[2])
      if (!Number.isFinite(value)) continue
      if (match[1] === 'I') this.#integrated = value
      else if (match[1] === 'M') this.#momentary = Math.max(this.#momentary, value)
      else this.#peak = Math.max(this.#peak, value)
    }
  }

  figures(): LoudnessFigures {
    const gated = (value: number): number => (value <= GATE ? -Infinity : value)
    return {
      integrated: gated(this.#integrated),
      momentaryMost: gated(this.#momentary),
      truePeak: this.#peak > 0 ? 20 * Math.log10(this.#peak) : -Infinity,
    }
  }
}
