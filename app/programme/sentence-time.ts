import type { Breakdown } from '../project/breakdown'
import type { Paragraph } from '../project/picture'
import { sentencesOf } from '../script/sentences'
import { shownText, shownValue, wordsOf, type Readings, type ValueInline } from '../script/spoken-form'
import type { LaidParagraph, Programme } from './programme'
import { ownRate } from './own-rate'
import { wordTimes } from './word-times'

/// A spoken sentence and when it is said.
export interface TimedSentence {
  readonly paragraph: string
  /// The sentence as claims quote it: live values as `{measure}`, single spaces, notes and cites left out.
  readonly words: string
  /// Which one in its paragraph where the same words stand there more than once, 0 the first.
  readonly nth: number
  /// As captions show it.
  readonly shown: string
  /// Measures whose values it says, events that its words are bound to, and references that it cites.
  readonly values: readonly string[]
  readonly events: readonly string[]
  readonly references: readonly string[]
  /// Seconds of the film from its first sound to the end of its last.
  readonly from_s: number
  readonly to_s: number
}

const VALUE = '\uFFFC'

/// Every spoken sentence of a film, in its order.
export function timedSentences(programme: Programme, breakdown: Breakdown, readings: Readings): TimedSentence[] {
  const paragraphs = new Map(breakdown.script.flatMap((row) => ('text' in row ? [[row.id, row] as const] : [])))
  return programme.paragraphs.flatMap((laid) => {
    const paragraph = paragraphs.get(laid.id)
    return paragraph ? sentencesOfParagraph(paragraph, laid, readings, breakdown) : []
  })
}

function sentencesOfParagraph(paragraph: Paragraph, laid: LaidParagraph, readings: Readings, breakdown: Breakdown): TimedSentence[] {
  const { bare, values, events, references } = flattened(paragraph)
  const pieces = wordsOf(paragraph, readings)
  const times = wordTimes(
    paragraph,
    laid,
    readings,
    pieces.map((piece) => piece.cues),
    breakdown.cueTimes,
    ownRate(breakdown.script, readings).rate,
  )
  const whole = shownText(paragraph, readings)
  const sentences: TimedSentence[] = []
  let at = 0
  for (const { from, to, text } of sentencesOf(bare)) {
    const inside = values.filter((value) => value.at >= from && value.at < to)
    const fill = (of: (value: (typeof inside)[number] | undefined, before: string) => string): string => {
      let next = 0
      return single(text.replaceAll(VALUE, (_value, place: number) => of(inside[next++], text.slice(0, place))))
    }
    const shown = fill((value, before) => (value ? shownValue(value.inline, readings, before) : ''))
    if (shown === '') continue
    const start = Math.max(at, whole.indexOf(shown, at))
    at = start + shown.length
    const spoken = pieces
      .flatMap((piece, i) => (piece.from < at && piece.to > start ? [times[i]] : []))
      .filter((time) => time !== undefined)
    const words = fill((value) => `{${value?.inline.value ?? ''}}`)
    sentences.push({
      paragraph: paragraph.id,
      words,
      nth: sentences.filter((each) => each.words === words).length,
      shown,
      values: [...new Set(inside.map((value) => value.inline.value))],
      events: [...new Set(events.filter((event) => event.at >= from && event.at < to).map((event) => event.id))],
      // A cite stands at or behind the end of what it speaks for.
      references: [...new Set(references.filter((cite) => cite.at > from && cite.at <= to).map((cite) => cite.id))],
      from_s: spoken[0]?.from ?? 0,
      to_s: spoken.at(-1)?.to ?? 0,
    })
  }
  return sentences
}

const single = (text: string): string => text.replace(/[\s\u0085]+/gu, ' ').trim()

function flattened(paragraph: Paragraph) {
  let bare = ''
  const values: { at: number; inline: ValueInline }[] = []
  const events: { at: number; id: string }[] = []
  const references: { at: number; id: string }[] = []
  for (const inline of paragraph.text) {
    if (typeof inline === 'string') bare += inline
    else if ('value' in inline) {
      values.push({ at: bare.length, inline })
      bare += VALUE
    } else if ('cue' in inline) {
      events.push({ at: bare.length, id: inline.cue })
      bare += inline.word
    } else if ('cite' in inline) references.push({ at: bare.length, id: inline.cite })
  }
  return { bare, values, events, references }
}

/// The sentence that is said at a time of the film, or was last said before it, or is first said; null for
/// a film without words.
export function sentenceAt<S extends { readonly from_s: number; readonly to_s: number }>(
  sentences: readonly S[],
  seconds: number,
): S | null {
  return sentences.findLast((each) => each.from_s <= seconds) ?? sentences[0] ?? null
}

/// A time of a film as people write it ("8:12", "08:12", "1:02:03", "492", "8:12.5"), in seconds; null where it is none.
/// What stands around it does not matter: "08:12, how do you know?".
export function readFilmTime(text: string): number | null {
  const clock = /(?<![\d:.])(?:(\d{1,2}):)?(\d{1,3}):([0-5]?\d(?:[.,]\d{1,3})?)(?![\d:])/.exec(text)
  if (clock) return 3600 * Number(clock[1] ?? 0) + 60 * Number(clock[2]) + Number(clock[3]?.replace(',', '.'))
  const seconds = /^\s*(\d{1,5}(?:[.,]\d{1,3})?)\s*s?\s*$/.exec(text)
  return seconds ? Number(seconds[1]?.replace(',', '.')) : null
}

/// "8:12", "1:02:03": whole seconds, rounded down, as players and descriptions show them.
export function filmTimeText(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds + 1e-6))
  const two = (n: number): string => String(n).padStart(2, '0')
  const hours = Math.floor(whole / 3600)
  return hours > 0 ? `${hours}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}` : `${Math.floor(whole / 60)}:${two(whole % 60)}`
}
