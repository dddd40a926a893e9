import type { Breakdown } from '../project/breakdown'
import type { Paragraph } from '../project/picture'
import type { LaidParagraph, Programme } from './programme'
import { toNumber } from '../time/rational'
import { secondsOf, ticksOfFrame, type Ticks } from '../time/ticks'
import { CAPTION_LIMITS, readingCharacters, type CaptionFlag, type CaptionLimits } from '../script/caption-limits'
import { breakCost } from '../script/sense-breaks'
import { wordsOf, type Readings } from '../script/spoken-form'
import { ownRate } from './own-rate'
import { wordTimes, type WordTime } from './word-times'

/// Words on screen from one frame's start to another's.
export interface Caption {
  readonly paragraph: string
  readonly from: Ticks
  readonly to: Ticks
  /// One or two lines of plain text.
  readonly lines: readonly string[]
  /// Limits that it could not keep; empty when all is well.
  readonly flags: readonly CaptionFlag[]
}

/// Captions of the whole film, from the script (never from recognition), in order and never
/// overlapping. Values keep their error and their hedge on one line with the number. They start as
/// their first word is said and stay long enough to be read where the next caption leaves room.
export function captionsOf(
  breakdown: Breakdown,
  programme: Programme,
  readings: Readings,
  limits: CaptionLimits = CAPTION_LIMITS,
): Caption[] {
  const paragraphs = new Map(breakdown.script.flatMap((entry) => ('text' in entry ? [[entry.id, entry] as const] : [])))
  const cuts = programme.shots.map((shot) => toNumber(secondsOf(ticksOfFrame(shot.start, programme.rate))))
  const fps = toNumber(programme.rate)
  const film = programme.frames / fps
  const drafts: Draft[] = []
  programme.paragraphs.forEach((laid, index) => {
    const paragraph = paragraphs.get(laid.id)
    if (!paragraph || laid.words.to <= laid.words.from) return
    const later = programme.paragraphs.slice(index + 1).find((next) => next.words.to > next.words.from)
    const until = later ? toNumber(secondsOf(later.words.from)) : film
    drafts.push(...draftsOf(paragraph, laid, { until, cuts, gap: limits.gapFrames / fps, limits, readings, breakdown }))
  })
  return place(drafts, programme, cuts, limits)
}

interface Surroundings {
  readonly until: number
  readonly cuts: readonly number[]
  readonly gap: number
  readonly limits: CaptionLimits
  readonly readings: Readings
  readonly breakdown: Breakdown
}

interface Draft {
  readonly paragraph: string
  readonly from: number
  readonly soundTo: number
  readonly lines: readonly string[]
  readonly tooLong: boolean
}

interface Layout {
  readonly lines: readonly string[]
  readonly cost: number
  readonly overflows: boolean
}

/// One line where it fits, else the two lines that break best.
function layLines(pieces: readonly string[], { characters, lines }: CaptionLimits): Layout {
  const length = (text: string): number => [...text].length
  const whole = pieces.join(' ')
  if (length(whole) <= characters) return { lines: [whole], cost: 0, overflows: false }
  let best: Layout = { lines: [whole], cost: Infinity, overflows: true }
  if (lines < 2) return best
  for (let k = 1; k < pieces.length; k++) {
    const [upper, lower] = [pieces.slice(0, k).join(' '), pieces.slice(k).join(' ')]
    const over = Math.max(0, length(upper) - characters) + Math.max(0, length(lower) - characters)
    const cost = breakCost(pieces[k - 1] ?? '', pieces[k] ?? '') + 0.08 * Math.abs(length(upper) - length(lower)) + 1000 * over
    if (cost < best.cost) best = { lines: [upper, lower], cost, overflows: over > 0 }
  }
  return best
}

/// Cost of one more caption, and the weights of what reads badly; judgement, tuned by eye.
const WEIGHTS = { caption: 5, line: 0.6, overflow: 1000, short: 40, fast: 3, tooFast: 15, long: 100, cut: 8, sentence: 2 }

/// Splits a paragraph into captions where it costs least (dynamic programming over its pieces).
function draftsOf(paragraph: Paragraph, laid: LaidParagraph, around: Surroundings): Draft[] {
  const words = wordsOf(paragraph, around.readings)
  const times = wordTimes(
    paragraph,
    laid,
    around.readings,
    words.map((word) => word.cues),
    around.breakdown.cueTimes,
    ownRate(around.breakdown.script, around.readings).rate,
  )
  const shown = words.map((word) => plain(word.shown))
  const total = Array.from({ length: words.length + 1 }, () => ({ cost: Infinity, from: 0, layout: null as Layout | null }))
  if (total[0]) total[0].cost = 0
  for (let end = 1; end <= words.length; end++) {
    const here = total[end]
    if (!here) continue
    for (let start = end - 1; start >= 0; start--) {
      const pieces = shown.slice(start, end)
      const length = pieces.reduce((sum, piece) => sum + piece.length + 1, -1)
      if (length > around.limits.lines * around.limits.characters && pieces.length > 1) break
      const layout = layLines(pieces, around.limits)
      const cost = (total[start]?.cost ?? Infinity) + costOf(pieces, layout, start, end, times, shown, around)
      if (cost < here.cost) Object.assign(here, { cost, from: start, layout })
    }
  }
  const drafts: Draft[] = []
  for (let end = words.length; end > 0;) {
    const { from, layout } = total[end] ?? { from: end - 1, layout: null }
    if (layout)
      drafts.unshift({
        paragraph: laid.id,
        from: times[from]?.from ?? 0,
        soundTo: times[end - 1]?.to ?? 0,
        lines: layout.lines,
        tooLong: layout.overflows,
      })
    end = from
  }
  return drafts
}

function costOf(
  pieces: readonly string[],
  layout: Layout,
  start: number,
  end: number,
  times: readonly WordTime[],
  shown: readonly string[],
  around: Surroundings,
): number {
  const { limits, gap, cuts, until } = around
  const from = times[start]?.from ?? 0
  const soundTo = times[end - 1]?.to ?? from
  const room = (times[end]?.from ?? until) - gap - from
  const characters = readingCharacters(pieces.join(' '))
  const stay = Math.min(Math.max(soundTo - from, characters / limits.readingRate, limits.shortest), room)
  const rate = stay > 0 ? characters / stay : Infinity
  let cost = WEIGHTS.caption + (layout.overflows ? WEIGHTS.overflow : WEIGHTS.line * layout.cost)
  if (end < shown.length) cost += breakCost(pieces.at(-1) ?? '', shown[end] ?? '')
  cost += WEIGHTS.short * Math.max(0, limits.shortest - stay) + WEIGHTS.long * Math.max(0, soundTo - from - limits.longest)
  cost += WEIGHTS.fast * Math.min(50, Math.max(0, rate - limits.readingRate)) + (rate > limits.readingRateMost ? WEIGHTS.tooFast : 0)
  cost += WEIGHTS.cut * cuts.filter((cut) => cut > from + EDGE && cut < soundTo - EDGE).length
  for (let i = 0; i + 1 < pieces.length; i++) if (breakCost(pieces[i] ?? '', pieces[i + 1] ?? '') === 0) cost += WEIGHTS.sentence
  return cost
}

/// A cut this close to a caption's end, in seconds, is not seen as straddled.
const EDGE = 0.15

/// Puts drafts on frames: each ends before the next begins, by the gap.
function place(drafts: readonly Draft[], programme: Programme, cuts: readonly number[], limits: CaptionLimits): Caption[] {
  const fps = toNumber(programme.rate)
  const captions: Caption[] = []
  let free = 0
  drafts.forEach((draft, index) => {
    const characters = readingCharacters(draft.lines.join(' '))
    const first = Math.max(free, Math.round(draft.from * fps))
    const start = first / fps
    const following = drafts[index + 1]
    const last = following ? Math.round(following.from * fps) - limits.gapFrames : Math.max(programme.frames, first + 1)
    const wanted = Math.max(draft.soundTo, start + Math.max(limits.shortest, characters / limits.readingRate))
    const cut = cuts.find(
      (each) =>
        each > draft.soundTo - EDGE && each < wanted && each - start >= Math.max(limits.shortest, characters / limits.readingRateMost),
    )
    const ends = Math.min(Math.ceil((cut ?? wanted) * fps - 1e-6), first + Math.floor(limits.longest * fps), last)
    const end = Math.max(first + 1, ends)
    free = end + limits.gapFrames
    const seconds = (end - first) / fps
    const rate = characters / seconds
    const flags: CaptionFlag[] = []
    if (draft.tooLong) flags.push('line-too-long')
    if (rate > limits.readingRateMost) flags.push('reads-too-fast')
    else if (rate > limits.readingRate + 1e-9) flags.push('reads-fast')
    if (seconds < limits.shortest - 1e-9) flags.push('too-short')
    if (draft.soundTo - draft.from > limits.longest + EDGE) flags.push('too-long')
    if (cuts.some((each) => each > start + EDGE && each < end / fps - EDGE)) flags.push('straddles-cut')
    captions.push({
      paragraph: draft.paragraph,
      from: ticksOfFrame(first, programme.rate),
      to: ticksOfFrame(end, programme.rate),
      lines: draft.lines,
      flags,
    })
  })
  return captions
}

/// Text without control characters, which no caption format can carry.
const plain = (text: string): string => text.replace(/[\p{Cc}\u2028\u2029]/gu, '\uFFFD')
