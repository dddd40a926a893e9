/// Pictures brought to words: between two cues the picture runs, stands or waits so that each event's frame appears as
/// its word is said.

/// Speeds against real time that a span may run at.
export const SPEED_LIMITS = { least: 0.1, most: 1 } as const
/// A speed this near to the preferred one is taken as it comes, as a share of it.
const NEAR = 0.2

export interface SolvedSpan {
  /// `near`: runs through at about the preferred speed. `held`: the earlier event stands first, then it runs at the
  /// preferred speed. `faster`: runs through faster than preferred. `paused`: the words wait for the picture at full speed.
  /// `backwards`: the later word's event lies before the earlier one's: nothing is solved.
  readonly how: 'near' | 'held' | 'faster' | 'paused' | 'backwards'
  /// Against real time.
  readonly speed: number
  /// Seconds for which the earlier event stands.
  readonly hold: number
  /// Seconds of silence that the words need before the later one.
  readonly pause: number
}

/// Solves the span between two cues: `source` real seconds of picture, `words` seconds of narration, at the speed
/// `pace` where it can be kept. The exact cue wins over even cadence.
export function solveSpan(source: number, words: number, pace: number): SolvedSpan {
  const preferred = Math.min(SPEED_LIMITS.most, Math.max(SPEED_LIMITS.least, pace))
  if (!(source > 0)) return { how: 'backwards', speed: 0, hold: 0, pause: 0 }
  const through = source / words
  if (words > 0 && Math.abs(through / preferred - 1) <= NEAR + 1e-9 && through <= SPEED_LIMITS.most && through >= SPEED_LIMITS.least)
    return { how: 'near', speed: through, hold: 0, pause: 0 }
  if (words > source / preferred) return { how: 'held', speed: preferred, hold: words - source / preferred, pause: 0 }
  if (words > 0 && through <= SPEED_LIMITS.most) return { how: 'faster', speed: through, hold: 0, pause: 0 }
  return { how: 'paused', speed: SPEED_LIMITS.most, hold: 0, pause: source / SPEED_LIMITS.most - words }
}

/// The output frame at which the event of a word said at `seconds` is to appear: the one that is on screen as the word
/// begins, or the next where that would come more than 40 ms before it (at slow output rates).
export function frameOfWord(seconds: number, rate: number): number {
  const frame = Math.floor(seconds * rate + 1e-6)
  return seconds - frame / rate > EARLY ? frame + 1 : frame
}

/// An event's frame stands at most so long before its word, seconds; never more than 45 ms after it (ITU-R BT.1359-1's
/// detectability of early sound, as quoted; from a secondary source).
const EARLY = 0.04
