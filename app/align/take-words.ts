import type { SpokenToken } from './spoken-tokens'
import type { Traced } from './trace-words'

/// How the words of a take were found.
export type FoundBy = 'recogniser' | 'reference'

/// 1 σ of a word's onset by each way, seconds: half of the 95th percentile seen on synthesised speech whose word times
/// are known (tests/outside/alignment.test.ts; for a person's own voice a judgement until labelled recordings are at hand).
export const ONSET_U: Readonly<Record<FoundBy, number>> = { recogniser: 0.024, reference: 0.075 }
/// A person who set a word by ear and eye is taken to be this exact, 1 σ, seconds (a judgement).
export const SET_BY_HAND_U = 0.015
/// A key that is tapped while listening comes late and scatters, seconds, 1 σ (a judgement; reaction to the expected).
export const TAPPED_U = 0.06
/// A cue's word above this is to be confirmed by ear and eye, 1 σ, seconds.
export const CONFIRM_ABOVE = 0.03
/// Two ways that differ by more than this disagree, seconds.
const AGREE = 0.1

export interface FoundWord {
  readonly word: string
  readonly piece: number
  /// Seconds from the take's start; null: not heard.
  readonly onset: number | null
  /// 1 σ, seconds.
  readonly u: number
}

/// The words of one take in time, and what in it is not the script.
export interface TakeWords {
  readonly by: FoundBy
  readonly words: readonly FoundWord[]
  /// Words of the script that were not said, in their order: "at contact".
  readonly leftOut: readonly string[]
  /// What was said again, with the seconds at which the first and the second copy begin.
  readonly repeated: readonly { readonly words: string; readonly first: number; readonly again: number }[]
  /// Something else was said, or the words do not fit at all.
  readonly other: boolean
}

/// From a recogniser's trace. A word said twice counts as said last. `other`: onsets by the reference voice, where there
/// are any: words on which the two disagree carry the larger u.
export function wordsOfTrace(tokens: readonly SpokenToken[], traced: Traced, other: readonly number[] | null): TakeWords {
  const onsets = new Map<number, number>()
  for (const { token, from } of traced.said) onsets.set(token, from)
  const words = tokens.map(({ word, piece }, i): FoundWord => {
    const onset = onsets.get(i) ?? null
    const second = other?.[i]
    const disagrees = onset !== null && second !== undefined && Math.abs(onset - second) > AGREE
    return { word, piece, onset, u: disagrees ? ONSET_U.reference : ONSET_U.recogniser }
  })
  return {
    by: 'recogniser',
    words,
    leftOut: runsOf(traced.leftOut).map((run) => run.map((i) => tokens[i]?.word ?? '').join(' ')),
    repeated: traced.repeated.map(({ from, to, first, again }) => ({
      words: tokens
        .slice(from, to)
        .map(({ word }) => word)
        .join(' '),
      first,
      again,
    })),
    other: !traced.follows,
  }
}

/// From the reference voice alone, which cannot tell what was left out or said again.
export const wordsByReference = (tokens: readonly SpokenToken[], onsets: readonly number[]): TakeWords => ({
  by: 'reference',
  words: tokens.map(({ word, piece }, i) => ({ word, piece, onset: onsets[i] ?? null, u: ONSET_U.reference })),
  leftOut: [],
  repeated: [],
  other: false,
})

/// Neighbouring numbers together.
function runsOf(numbers: readonly number[]): number[][] {
  const runs: number[][] = []
  for (const n of numbers) {
    const last = runs.at(-1)
    if (last && last.at(-1) === n - 1) last.push(n)
    else runs.push([n])
  }
  return runs
}
