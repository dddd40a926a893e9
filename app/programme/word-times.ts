import type { CueTime, Paragraph } from '../project/picture'
import type { LaidParagraph } from './programme'
import { toNumber } from '../time/rational'
import { secondsOf } from '../time/ticks'
import { speakingTime, type SpeakingRate } from '../script/speaking-time'
import type { Readings } from '../script/spoken-form'

/// When one piece of `wordsOf` sounds, in seconds of the programme.
export interface WordTime {
  readonly from: number
  readonly to: number
}

/// Times of a laid paragraph's pieces. With a take the estimate is stretched over its length and
/// pinned at the cues whose words were found in it; without one the estimate stands as it is, or is
/// pressed into the time that the words have. Times never go back.
export function wordTimes(paragraph: Paragraph, laid: LaidParagraph, readings: Readings, cues: readonly (readonly string[])[], cueTimes: readonly CueTime[] = [], rate?: SpeakingRate): WordTime[] {
  const estimate = speakingTime(paragraph, readings, rate)
  const start = toNumber(secondsOf(laid.words.from))
  const length = toNumber(secondsOf(laid.words.to)) - start
  const found = laid.take === null ? [] : cueTimes.filter((time) => time.paragraph === paragraph.id)
  const pins: [number, number][] = [[0, 0]]
  estimate.words.forEach(({ index, from }) => {
    const time = found.find((each) => cues[index]?.includes(each.event))
    const [lastFrom, lastTo] = pins.at(-1) as [number, number]
    if (time && from > lastFrom && time.seconds > lastTo && time.seconds < length) pins.push([from, time.seconds])
  })
  const end = laid.take === null ? Math.min(estimate.sound, length) : length
  pins.push([Math.max(estimate.sound, 1e-9), end])
  const place = (seconds: number): number => {
    const next = Math.max(1, pins.findIndex(([at]) => at >= seconds))
    const [a, x] = pins[next - 1] as [number, number]
    const [b, y] = pins[next] as [number, number]
    return start + Math.min(length, b > a ? x + ((seconds - a) * (y - x)) / (b - a) : x)
  }
  return estimate.words.map(({ from, to }) => ({ from: place(from), to: place(to) }))
}
