import { HOP, SPEECH_RATE, type Cepstra } from './cepstra'

/// Where somebody speaks, by level alone.

/// Seconds a frame: time of a frame's start.
export const FRAME_SECONDS = HOP / SPEECH_RATE

/// Frames on either side of a loud one that count as speech (a stop's closure is silent).
const MARGIN = 6

/// Level of speech at 16 kHz every `FRAME_SECONDS`, dB below full scale: as `Cepstra.level`, without the rest of it.
export function levelsOf(samples: Int16Array): Float32Array {
  const level = new Float32Array(Math.max(0, Math.floor((samples.length - 400) / HOP) + 1))
  for (let f = 0; f < level.length; f++) {
    let power = 0
    for (let i = f * HOP; i < f * HOP + 400; i++) power += ((samples[i] as number) / 32768) ** 2
    level[f] = 10 * Math.log10(power / 400 + 1e-10)
  }
  return level
}

/// Level above which a frame is speech, dB: well above the quietest tenth, not far below the loudest twentieth.
export function speechLevel(level: Float32Array): number {
  const sorted = Float32Array.from(level).sort()
  const at = (part: number): number => sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? -100
  const [quiet, loud] = [at(0.1), at(0.95)]
  return Math.max(quiet + Math.min(10, (loud - quiet) / 3), loud - 38)
}

/// Frame numbers that are speech or within a moment of it, rising.
export function voicedFrames({ level, frames }: Pick<Cepstra, 'level' | 'frames'>): Int32Array {
  const least = speechLevel(level)
  const kept = new Uint8Array(frames)
  for (let f = 0; f < frames; f++) if ((level[f] as number) >= least) kept.fill(1, Math.max(0, f - MARGIN), f + MARGIN + 1)
  return Int32Array.from(Array.from(kept.keys()).filter((f) => kept[f] === 1))
}

/// A word's onset put where the sound rises, where silence stands before the rise and the word was found in it: a
/// recogniser gives a pause to the word behind it. `upTo`: onsets after this are the next word's, seconds.
export function snapToRise(onset: number, upTo: number, level: Float32Array, least: number): number {
  const start = Math.max(0, Math.floor(onset / FRAME_SECONDS))
  const end = Math.min(level.length, Math.floor(upTo / FRAME_SECONDS))
  let quiet = 0
  let f = start
  while (f < end && (level[f] as number) < least) {
    f++
    quiet++
  }
  return quiet * FRAME_SECONDS > SILENCE && f < end ? Math.max(onset, f * FRAME_SECONDS + ENTRY) : onset
}

/// A silence of less is a stop's closure, seconds: longest closures of English stops are about 0.12 s (from memory).
const SILENCE = 0.12
/// A frame reaches 25 ms on: it is loud before the sound has reached its start.
const ENTRY = 0.01
