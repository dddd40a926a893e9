import type { CueTime, Narration, Paragraph } from '../project/picture'
import type { Trim } from '../script/pauses'
import { wordsOf, type Readings } from '../script/spoken-form'
import { tokensOf } from './spoken-tokens'
import { TAPPED_U, type TakeWords } from './take-words'

/// What a paragraph keeps of its take's words; their times only where every word was found, one after the other.
export function narrationOf(found: TakeWords, before: Narration | undefined): Narration {
  const { words: _words, onsets: _onsets, pauses: _pauses, trim: _trim, ...kept } = before ?? {}
  const onsets = found.words.map(({ onset }) => onset ?? -1)
  const whole = onsets.length > 0 && onsets.every((onset, i) => onset >= (onsets[i - 1] ?? 0))
  return { ...kept, words: found.words.map(({ word }) => word), ...(whole ? { onsets } : {}) }
}

/// The times of a paragraph's cues in a take: each by the first word of its piece. A cue whose word was not heard has none.
export function cueTimesOf(paragraph: Paragraph, readings: Readings, found: TakeWords): CueTime[] {
  return wordsOf(paragraph, readings).flatMap(({ cues }, piece) => {
    const word = found.words.find((each) => each.piece === piece && each.onset !== null)
    return word === undefined || word.onset === null
      ? []
      : cues.map((event) => ({ paragraph: paragraph.id, event, seconds: word.onset ?? 0, u: word.u }))
  })
}

/// The same with what was tapped while recording, seconds of the take: the i-th tap is for the i-th cue of the text. It counts
/// where the word was not found, or less surely than a tap.
export function withTaps(paragraph: Paragraph, readings: Readings, found: readonly CueTime[], taps: readonly number[]): CueTime[] {
  const events = wordsOf(paragraph, readings).flatMap(({ cues }) => cues)
  return events.flatMap((event, i) => {
    const time = found.find((each) => each.event === event)
    const tap = taps[i]
    if (tap !== undefined && (time === undefined || time.u > TAPPED_U))
      return [{ paragraph: paragraph.id, event, seconds: Math.max(0, tap), u: TAPPED_U }]
    return time ? [time] : []
  })
}

/// A sentence that is longer than this is heard from its middle on, seconds: it leads into a recording, no more.
const LEAD = 8

/// The last sentence of a paragraph's take of `length` seconds, seconds of the take: by its words where they were found, else
/// what its end holds.
export function lastSentence(paragraph: Paragraph, readings: Readings, length: number): Trim {
  const { words, onsets, trim } = paragraph.narration ?? {}
  const to = Math.min(length, trim?.to ?? length)
  const tokens = tokensOf(wordsOf(paragraph, readings))
  const last = tokens.findIndex(({ sentence }) => sentence === tokens.at(-1)?.sentence)
  const same = words?.length === tokens.length && tokens.every(({ word }, i) => word === words[i])
  const begins = same && onsets ? (onsets[last] ?? 0) - BEFORE : to - LEAD / 2
  return { from: Math.max(trim?.from ?? 0, to - LEAD, begins), to }
}

/// Heard before a sentence's first word, seconds.
const BEFORE = 0.15

/// Where a take no longer says what the script says: the words said and the words that now stand, around the first and the
/// last difference. Null: it still fits.
export function staleWords(
  said: readonly string[],
  paragraph: Paragraph,
  readings: Readings,
): { readonly said: string; readonly now: string } | null {
  const now = tokensOf(wordsOf(paragraph, readings)).map(({ word }) => word)
  let from = 0
  while (from < said.length && from < now.length && said[from] === now[from]) from++
  if (from === said.length && from === now.length) return null
  let back = 0
  while (back < said.length - from && back < now.length - from && said.at(-1 - back) === now.at(-1 - back)) back++
  return { said: said.slice(from, said.length - back).join(' '), now: now.slice(from, now.length - back).join(' ') }
}
