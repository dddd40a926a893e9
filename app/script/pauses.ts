import type { Narration } from '../project/picture'

/// A take in the film: what is left of it at its ends, and the room tone put in between, so that its words meet their
/// pictures. The take itself is never stretched, and every time in it stays a time of its file.

export interface Pause {
  /// Seconds of the take at which it is put in.
  readonly at: number
  readonly seconds: number
}

/// The stretch of a take that is heard, seconds of the take, half-open.
export interface Trim {
  readonly from: number
  readonly to: number
}

const kept = (pauses: readonly Pause[], trim: Trim | undefined): readonly Pause[] =>
  trim ? pauses.filter(({ at }) => at >= trim.from && at < trim.to) : pauses

/// When something at `seconds` of the take is heard, seconds from the start of the paragraph's words. What stands at a
/// pause comes behind it; what was trimmed off, at the end that it was trimmed from.
export const saidAt = (seconds: number, pauses: readonly Pause[] = [], trim?: Trim): number => {
  const heard = trim ? Math.min(Math.max(seconds, trim.from), trim.to) - trim.from : seconds
  return kept(pauses, trim).reduce((sum, pause) => sum + (pause.at <= seconds + 1e-9 ? pause.seconds : 0), heard)
}

export const pausedSeconds = (pauses: readonly Pause[] = [], trim?: Trim): number =>
  kept(pauses, trim).reduce((sum, { seconds }) => sum + seconds, 0)

/// What is heard of a take of `length` seconds, pauses not counted.
export const heardSeconds = (length: number, trim?: Trim): number => (trim ? Math.max(0, Math.min(trim.to, length) - trim.from) : length)

/// The stretches of a take of `length` seconds between its pauses: from which second of it to which, and when they are heard.
export function takeStretches(
  length: number,
  pauses: readonly Pause[] = [],
  trim?: Trim,
): { readonly from: number; readonly to: number; readonly at: number }[] {
  const stretches: { from: number; to: number; at: number }[] = []
  const start = trim?.from ?? 0
  const end = Math.min(length, trim?.to ?? length)
  let from = start
  let waited = 0
  for (const { at, seconds } of kept(pauses, trim)) {
    const to = Math.min(at, end)
    if (to > from) stretches.push({ from, to, at: from - start + waited })
    from = Math.max(from, to)
    waited += seconds
  }
  if (end > from) stretches.push({ from, to: end, at: from - start + waited })
  return stretches
}

/// The words that are heard of a take: those of it that were not trimmed off, as far as their times are known.
export const heardWords = ({ words = [], onsets, trim }: Narration): readonly string[] =>
  onsets && trim ? words.filter((_, i) => (onsets[i] ?? 0) >= trim.from - EDGE && (onsets[i] ?? 0) < trim.to) : words

/// A word found this little before a take's trimmed start is heard, seconds: 2 u of the recogniser.
const EDGE = 0.05
