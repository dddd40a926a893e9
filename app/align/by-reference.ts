import { warpFrames } from './band-warp'
import { cepstraOf } from './cepstra'
import { FRAME_SECONDS, voicedFrames } from './voiced'

/// Speech whose words are known in time.
export interface ReferenceSpeech {
  /// 16 kHz, −1 to 1.
  readonly samples: Float32Array
  /// Seconds at which each word begins, rising.
  readonly onsets: readonly number[]
}

/// Onsets in a take of the words that a reference says, seconds: the take is warped onto the reference, silences
/// left out of both. It tells nothing of words left out or said twice.
export function onsetsByReference(take: Float32Array, reference: ReferenceSpeech): number[] {
  const [ours, theirs] = [cepstraOf(take), cepstraOf(reference.samples)]
  const [onto, of] = [voicedFrames(ours), voicedFrames(theirs)]
  const radius = Math.max(LEAST_RADIUS, Math.round(0.12 * Math.max(onto.length, of.length)))
  const places = warpFrames(theirs, of, ours, onto, radius)
  let at = 0
  let before = 0
  return reference.onsets.map((seconds) => {
    const frame = Math.round(seconds / FRAME_SECONDS)
    while (at < of.length - 1 && (of[at] as number) < frame) at++
    const found = onto[Math.round(places[at] ?? 0)] ?? 0
    before = Math.max(before, found * FRAME_SECONDS)
    return before
  })
}

/// Two seconds.
const LEAST_RADIUS = 200
