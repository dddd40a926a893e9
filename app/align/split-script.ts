import type { ScriptRow } from '../project/picture'
import type { Readings } from '../script/spoken-form'
import { spokenTokens, type SpokenToken } from './spoken-tokens'
import type { FoundBy, FoundWord, TakeWords } from './take-words'
import { FRAME_SECONDS, speechLevel } from './voiced'

/// One recording of a whole script, taken apart where its paragraphs begin.

export interface ScriptPart {
  readonly paragraph: string
  readonly tokens: readonly SpokenToken[]
}

/// A stretch of the recording that holds one paragraph, seconds of the recording. `found`: its words, their times from the
/// stretch's start.
export interface SplitPiece {
  readonly paragraph: string
  readonly from: number
  readonly to: number
  readonly found: TakeWords
}

export interface ScriptSplit {
  readonly by: FoundBy
  /// In the script's order; they never overlap.
  readonly pieces: readonly SplitPiece[]
  /// Paragraphs that are not in the recording: fewer than half of their words were heard.
  readonly missing: readonly string[]
  /// Something else was said, or the words do not fit at all.
  readonly other: boolean
}

/// A script's paragraphs with their words as they are said now.
export const scriptParts = (rows: readonly ScriptRow[], readings: Readings): ScriptPart[] =>
  rows.flatMap((row) => ('chapter' in row ? [] : [{ paragraph: row.id, tokens: spokenTokens(row, readings) }]))

/// All words one after another, sentences numbered through; `leaps`: a paragraph from its first token up to the one behind
/// its last, which a recording may leave out as a whole.
export function joinParts(parts: readonly ScriptPart[]): {
  readonly tokens: readonly SpokenToken[]
  readonly leaps: readonly { readonly from: number; readonly to: number }[]
} {
  const tokens: SpokenToken[] = []
  const leaps: { from: number; to: number }[] = []
  let sentence = 0
  for (const part of parts) {
    const from = tokens.length
    for (const token of part.tokens) tokens.push({ ...token, sentence: token.sentence + sentence })
    sentence += (part.tokens.at(-1)?.sentence ?? -1) + 1
    if (tokens.length > from) leaps.push({ from, to: tokens.length })
  }
  return { tokens, leaps }
}

/// Silence that a stretch keeps before its first word and behind its last, seconds, where there is as much (a judgement: a
/// fade of 15 ms and a breath lie in it).
const ROOM = 0.3
/// A silence of so much ends a paragraph, seconds; less may be a stop's closure or a short breath.
const PAUSE = 0.3
/// A word found in a silence, or so near to one, begins at its end, seconds before it and after it: about 2 u of the reference voice.
const NEAR = { before: 0.35, after: 0.25 } as const

interface Silence {
  readonly from: number
  readonly to: number
}

/// `found`: the words of `joinParts(parts)` in the recording; `level`: its level every 10 ms, dB. A stretch reaches half way
/// into the silence on either side, `ROOM` at most.
export function splitScript(parts: readonly ScriptPart[], found: TakeWords, level: Float32Array): ScriptSplit {
  let at = 0
  const heard = parts.map(({ paragraph, tokens }) => {
    const words = found.words.slice(at, at + tokens.length)
    at += tokens.length
    const onsets = words.flatMap(({ onset }) => (onset === null ? [] : [onset]))
    const repeated = found.repeated.filter(
      ({ again }) => onsets.length > 0 && again >= Math.min(...onsets) - 1e-9 && again <= Math.max(...onsets),
    )
    return { paragraph, words, onsets, repeated, first: Math.min(...onsets, ...repeated.map(({ first }) => first)) }
  })
  const there = heard.filter(({ words, onsets }) => onsets.length > 0 && onsets.length >= words.length / 2)
  const silences = silencesOf(level)
  const end = level.length * FRAME_SECONDS
  const starts = there.map(({ first }) => nearest(silences, first))
  const bounds = there.map(({ onsets }, i) => {
    const { from: before, to: start } = starts[i] as Silence
    const last = Math.max(...onsets)
    const { from: following } = starts[i + 1] ?? { from: end }
    const behind = silences.find((silence) => silence.from > last && silence.to - silence.from >= PAUSE && silence.from <= following) ??
      starts[i + 1] ?? { from: end, to: end }
    return {
      from: start - Math.min(ROOM, i === 0 ? start - before : (start - before) / 2),
      to: behind.from + Math.min(ROOM, behind.to === end ? end - behind.from : (behind.to - behind.from) / 2),
    }
  })
  const pieces = there.map(({ paragraph, words, repeated }, i): SplitPiece => {
    const { from, to } = bounds[i] as { from: number; to: number }
    return {
      paragraph,
      from,
      to,
      found: {
        by: found.by,
        words: words.map((word) => shifted(word, from)),
        leftOut: leftOutOf(words),
        repeated: repeated.map((each) => ({ words: each.words, first: each.first - from, again: each.again - from })),
        other: found.other,
      },
    }
  })
  return {
    by: found.by,
    pieces,
    missing: heard.flatMap((each) => (each.words.length > 0 && !there.includes(each) ? [each.paragraph] : [])),
    other: found.other,
  }
}

/// Stretches of at least 60 ms without speech, in order.
function silencesOf(level: Float32Array): Silence[] {
  const least = speechLevel(level)
  const silences: Silence[] = []
  let from = 0
  for (let f = 0; f <= level.length; f++) {
    if (f < level.length && (level[f] as number) < least) continue
    if (f - from >= 6) silences.push({ from: from * FRAME_SECONDS, to: f * FRAME_SECONDS })
    from = f + 1
  }
  return silences
}

/// The silence that a word found at `first` begins after; none of it where there is none near.
function nearest(silences: readonly Silence[], first: number): Silence {
  const within = silences.find(({ from, to }) => from <= first && first < to)
  if (within) return within
  const near = silences.filter(({ to }) => to >= first - NEAR.before && to <= first + NEAR.after)
  return (
    near.reduce<Silence | null>(
      (best, each) => (best === null || Math.abs(each.to - first) < Math.abs(best.to - first) ? each : best),
      null,
    ) ?? { from: first, to: first }
  )
}

const shifted = (word: FoundWord, from: number): FoundWord => ({
  ...word,
  onset: word.onset === null ? null : Math.max(0, word.onset - from),
})

/// Words that were not heard, neighbours together.
function leftOutOf(words: readonly FoundWord[]): string[] {
  const runs: string[][] = []
  words.forEach(({ word, onset }, i) => {
    if (onset !== null) return
    if (i > 0 && words[i - 1]?.onset === null) runs.at(-1)?.push(word)
    else runs.push([word])
  })
  return runs.map((run) => run.join(' '))
}
