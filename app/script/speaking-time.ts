import { syllable } from 'syllable'
import type { CueTime, Paragraph } from '../project/picture'
import { inWords } from './number-words'
import { heardSeconds, saidAt } from './pauses'
import { sentencesOf } from './sentences'
import { wordsOf, type Readings } from './spoken-form'

/// How fast a person speaks: T = syllables / rate + pauses. Common practice, no source for its defaults.
export interface SpeakingRate {
  readonly syllablesPerSecond: number
  /// Seconds of pause after a comma (or semicolon, colon, dash), after a sentence, after a paragraph.
  readonly comma: number
  readonly sentence: number
  readonly paragraph: number
}

/// The default before a person's own rate is known: a judgement, to be calibrated from recordings.
export const DEFAULT_RATE: SpeakingRate = { syllablesPerSecond: 4.2, comma: 0.25, sentence: 0.5, paragraph: 0.9 }

/// The estimate's stated tolerance, as a fraction of the time.
export const SPEAKING_TOLERANCE = 0.1

/// Pauses are the model's; "—" and " – " read as commas do.
const COMMA = /[,;:—–][)"'”’\]]*$/u
const SENTENCE_END = /[.!?…][)"'”’\]]*$/u

/// Syllables of a text as it is said, numbers in words. Counts by English spelling rules.
export const syllablesOf = (text: string): number => {
  let count = 0
  for (const word of inWords(text).split(/[^\p{L}\p{M}'’]+/u)) if (word !== '') count += Math.max(1, syllable(word.replaceAll('’', "'")))
  return count
}

/// A piece of a paragraph in time: seconds from the paragraph's first sound; `to` is the end of its
/// sound, before any pause.
export interface TimedWord {
  readonly index: number
  readonly from: number
  readonly to: number
}

/// What saying one piece costs: its syllables, and which pause stands behind it.
export interface SpeechPart {
  readonly syllables: number
  readonly pause: 'none' | 'comma' | 'sentence'
}

/// Pieces as they are said, in order, taken apart for the model.
export function speechParts(spoken: readonly string[]): SpeechPart[] {
  const ends = new Set(sentencesOf(spoken.join(' ')).map((sentence) => sentence.from + sentence.text.trimEnd().length))
  let at = 0
  return spoken.map((text) => {
    const to = at + text.length
    at = to + 1
    return {
      syllables: syllablesOf(text),
      pause: SENTENCE_END.test(text) && ends.has(to) ? 'sentence' : COMMA.test(text) ? 'comma' : 'none',
    }
  })
}

function timeWords(spoken: readonly string[], rate: SpeakingRate): { timed: TimedWord[]; end: number; rest: number } {
  const timed: TimedWord[] = []
  let at = 0
  let end = 0
  speechParts(spoken).forEach(({ syllables, pause }, index) => {
    const to = at + syllables / rate.syllablesPerSecond
    timed.push({ index, from: at, to })
    end = to
    at = to + (pause === 'none' ? 0 : rate[pause])
  })
  return { timed, end, rest: at - end + (spoken.length > 0 ? rate.paragraph : 0) }
}

/// When a paragraph's words are said, by estimate: seconds of sound (first to last) and of the pause
/// behind it.
export interface SpeakingTime {
  readonly words: readonly TimedWord[]
  /// From the first sound to the end of the last.
  readonly sound: number
  /// Silence behind the last sound, before the next paragraph.
  readonly pause: number
}

/// Estimates a paragraph's speaking time, inner pauses included; digits are read out. Take it as ± 10 %. `index` counts the pieces of `wordsOf`.
export function speakingTime(paragraph: Paragraph, readings: Readings, rate: SpeakingRate = DEFAULT_RATE): SpeakingTime {
  const words = wordsOf(paragraph, readings)
  const { timed, end, rest } = timeWords(
    words.map((word) => word.spoken),
    rate,
  )
  return { words: timed, sound: end, pause: end === 0 ? 0 : rest }
}

/// Onset of each piece of `wordsOf(paragraph, readings)` in seconds from the first sound, by
/// syllables and pauses. With `sound` given (the length of the sound in a take) the estimate is
/// stretched to it.
export function estimatedOnsets(
  paragraph: Paragraph,
  readings: Readings,
  sound?: number,
  rate: SpeakingRate = DEFAULT_RATE,
): { index: number; seconds: number }[] {
  const estimate = speakingTime(paragraph, readings, rate)
  const stretch = sound === undefined || estimate.sound === 0 ? 1 : sound / estimate.sound
  return estimate.words.map(({ index, from }) => ({ index, seconds: from * stretch }))
}

/// When a cue's word is said, in seconds from the start of the paragraph's words: from `cueTimes`
/// (where it was found in the take) or else by estimate. Null when the paragraph has no such cue.
export function cueSeconds(
  paragraph: Paragraph,
  event: string,
  readings: Readings,
  options: {
    readonly cueTimes?: readonly CueTime[] | undefined
    readonly sound?: number | undefined
    readonly rate?: SpeakingRate | undefined
  } = {},
): number | null {
  const index = wordsOf(paragraph, readings).findIndex((word) => word.cues.includes(event))
  if (index < 0) return null
  const found = options.cueTimes?.find((time) => time.paragraph === paragraph.id && time.event === event)
  const { pauses, trim } = paragraph.narration ?? {}
  const sound = options.sound === undefined ? undefined : heardSeconds(options.sound, trim)
  const estimated = found ? undefined : estimatedOnsets(paragraph, readings, sound, options.rate)[index]?.seconds
  const seconds = found?.seconds ?? (estimated === undefined || sound === undefined ? estimated : estimated + (trim?.from ?? 0))
  if (seconds === undefined) return null
  return found || options.sound !== undefined ? saidAt(seconds, pauses, trim) : seconds
}
