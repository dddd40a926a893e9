import type { CueTime, Paragraph } from '../project/picture'
import type { LaidParagraph } from './programme'
import { tokensOf } from '../align/spoken-tokens'
import { saidAt } from '../script/pauses'
import { toNumber } from '../time/rational'
import { secondsOf } from '../time/ticks'
import { speakingTime, type SpeakingRate } from '../script/speaking-time'
import { wordsOf, type Readings } from '../script/spoken-form'

/// When one piece of `wordsOf` sounds, in seconds of the programme.
export interface WordTime {
  readonly from: number
  readonly to: number
}

/// Times of a laid paragraph's pieces. With a take the estimate is stretched over its length and
/// pinned at every word that was found in it, a cue's own time before it; without one the estimate stands as it is, or is
/// pressed into the time that the words have. Times never go back.
export function wordTimes(
  paragraph: Paragraph,
  laid: LaidParagraph,
  readings: Readings,
  cues: readonly (readonly string[])[],
  cueTimes: readonly CueTime[] = [],
  rate?: SpeakingRate,
): WordTime[] {
  const estimate = speakingTime(paragraph, readings, rate)
  const start = toNumber(secondsOf(laid.words.from))
  const length = toNumber(secondsOf(laid.words.to)) - start
  const { pauses, trim } = laid
  const heard = laid.take === null ? null : onsetsOfPieces(paragraph, readings)
  const found = laid.take === null ? [] : cueTimes.filter((time) => time.paragraph === paragraph.id)
  const pins: [number, number][] = [[0, 0]]
  estimate.words.forEach(({ index, from }) => {
    const time = found.find((each) => cues[index]?.includes(each.event))?.seconds ?? heard?.get(index)
    const [lastFrom, lastTo] = pins.at(-1) as [number, number]
    const said = time === undefined ? null : saidAt(time, pauses, trim)
    if (said !== null && from > lastFrom && said > lastTo && said < length) pins.push([from, said])
  })
  const end = laid.take === null ? Math.min(estimate.sound, length) : length
  pins.push([Math.max(estimate.sound, 1e-9), end])
  const place = (seconds: number): number => {
    const next = Math.max(
      1,
      pins.findIndex(([at]) => at >= seconds),
    )
    const [a, x] = pins[next - 1] as [number, number]
    const [b, y] = pins[next] as [number, number]
    return start + Math.min(length, b > a ? x + ((seconds - a) * (y - x)) / (b - a) : x)
  }
  return estimate.words.map(({ from, to }) => ({ from: place(from), to: place(to) }))
}

/// Onsets of the pieces in the take, where its words were found and are still the script's.
export function onsetsOfPieces(paragraph: Paragraph, readings: Readings): ReadonlyMap<number, number> | null {
  const { words, onsets } = paragraph.narration ?? {}
  if (!words || !onsets) return null
  const tokens = tokensOf(wordsOf(paragraph, readings))
  if (tokens.length !== words.length || tokens.some(({ word }, i) => word !== words[i])) return null
  const first = new Map<number, number>()
  tokens.forEach(({ piece }, i) => {
    if (!first.has(piece)) first.set(piece, onsets[i] ?? 0)
  })
  return first
}
