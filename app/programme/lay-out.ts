import { headingValues } from '../script/heading-text'
import { exact } from '../project/fields'
import type { Breakdown } from '../project/breakdown'
import type { Card, Chapter, Mark, Paragraph, Shot } from '../project/picture'
import { add, compare, multiply, rational, subtract, toNumber, type Rational } from '../time/rational'
import { heardSeconds, pausedSeconds } from '../script/pauses'
import { addTicks, secondsOf, ticksOf, ticksOfFrame, type Ticks } from '../time/ticks'
import { framesCovering, isEvenCadence } from './cadence'
import { eventFrame } from './event-frame'
import { captureFactor, clipOf, layShot, type ShotContext, type ShotLayout } from './lay-shot'
import type { LaidParagraph, LaidShot, Programme, ProgrammeFinding } from './programme'

/// What the layout needs to know of the world besides the breakdown itself.
export interface LayOutContext extends Omit<ShotContext, 'breakdown' | 'output'> {
  /// Length of the paragraph's take in seconds; null when there is none.
  takeSeconds(paragraph: Paragraph): Rational | null
  /// Estimated speaking time of the paragraph's words, seconds; 0 for no words.
  speakingSeconds(paragraph: Paragraph): number
  /// Seconds from the start of the paragraph's words to the word bound to the event; null when no cue of
  /// the paragraph is.
  cueSeconds(paragraph: Paragraph, event: string): number | null
  /// A heading as it is shown, live values filled in.
  chapterTitle(chapter: Chapter): string
}

/// Breath between two paragraphs' words (common practice, no source).
const BREATH = rational(2, 5)
/// A picture may outlast its words by this much before it is worth a finding.
const SLACK = rational(1)
/// A mark bound to a word stands at least this long before its hold ends.
const MARK_SECONDS = rational(1)

const isParagraph = (entry: Breakdown['script'][number]): entry is Paragraph => 'text' in entry

/// Lays the whole film out in time. A paragraph starts with its words; its shots follow one another;
/// where the words last longer, the last picture is held (and badged frozen); where the shots last
/// longer, the next paragraph waits. Both are findings. A caution card opens every film: where the
/// script has none, the programme puts one first.
export function layOut(breakdown: Breakdown, context: LayOutContext): Programme {
  const { output } = breakdown
  const rate = exact(output.rate)
  const shotContext: ShotContext = { ...bound(context), breakdown, output }
  const shots: LaidShot[] = []
  const paragraphs: LaidParagraph[] = []
  const chapters: { title: string; frame: number; values: readonly string[] }[] = []
  const findings: ProgrammeFinding[] = []
  const credited = new Set<string>()
  let at = 0

  const place = (layout: ShotLayout, shot: Shot, paragraph: Paragraph | null, index: number, wordsFrom: Ticks): void => {
    const start = at
    const credits = layout.panels
      .filter((p) => !credited.has(p.footage))
      .map((p) => breakdown.footage.find((f) => f.id === p.footage)?.source?.credit)
    for (const panel of layout.panels) credited.add(panel.footage)
    const credit = [...new Set(credits.filter((c): c is string => c !== undefined))].join(' · ')
    const title =
      paragraph?.title && index === 0
        ? {
            name: paragraph.title.name,
            line: paragraph.title.line ?? '',
            frames: Math.min(layout.frames, framesCovering(rational(4), rate)),
          }
        : null
    shots.push({
      paragraph: paragraph?.id ?? '',
      index,
      shot,
      kind: layout.kind,
      start,
      frames: layout.frames,
      panels: layout.panels,
      card: layout.card,
      eventAt: eventsOf(breakdown, layout, paragraph, start, wordsFrom, rate, context),
      badges: layout.badges,
      marks: marksOf(shot),
      title,
      credit: credit || null,
    })
    at += layout.frames
  }

  const leftOut = (code: string): boolean => (breakdown.overrides ?? []).some(({ finding }) => finding === code)
  if (!hasCard(breakdown, 'caution') && !leftOut('start-card-missing')) {
    const card: Card = { card: 'caution' }
    place(layShot(card, shotContext), card, null, -1, ticksOf(rational(0)))
  }
  for (const entry of breakdown.script) {
    if (!isParagraph(entry)) {
      chapters.push({ title: context.chapterTitle(entry), frame: chapters.length === 0 ? 0 : at, values: headingValues(entry) })
      continue
    }
    const from = at
    const wordsFrom = ticksOfFrame(from, rate)
    const { words, isTaken, pauses, trim } = lengthOfWords(entry, context)
    const listed = (entry.shots ?? []).map((shot) => ({ shot, layout: layShot(shot, shotContext) }))
    const spoken = words.n > 0
    const wanted = spoken ? framesCovering(add(words, BREATH), rate) : 0
    const missing = wanted - listed.reduce((sum, { layout }) => sum + layout.frames, 0)
    const last = listed.at(-1)
    // What stands still already simply stands longer; what moves is followed by its last frame.
    if (last && missing > 0 && (last.layout.kind === 'hold' || last.layout.kind === 'card')) last.layout = longer(last.layout, missing)
    for (const [index, { shot, layout }] of listed.entries()) place(layout, shot, entry, index, wordsFrom)
    const empty = wanted - (at - from)
    if (empty > 0) {
      const held = heldLast(shots.at(-1), empty, breakdown)
      place(held.layout, held.shot, entry, -1, wordsFrom)
    }
    if (missing > 0) findings.push(...(listed.length > 0 ? wordsLonger(entry, missing, rate) : []))
    else if (spoken) findings.push(...picturesLonger(entry, words, at - from, rate))
    paragraphs.push({
      id: entry.id,
      from,
      to: at,
      words: { from: wordsFrom, to: addTicks(wordsFrom, ticksOf(words)), estimated: !isTaken },
      take: isTaken ? (entry.take ?? null) : null,
      ...(pauses.length > 0 ? { pauses } : {}),
      ...(trim ? { trim } : {}),
    })
    findings.push(...cadenceFindings(entry, breakdown, shotContext))
  }
  findings.push(...replayFindings(breakdown))
  const ending = paragraphs.at(-1)
  if (ending && !hasCard(breakdown, 'end') && !leftOut('end-card-missing'))
    findings.push({
      code: 'end-card-missing',
      paragraph: ending.id,
      problem: 'the film has no end card: the notices on health, practice and estimates stand there',
    })
  return { width: output.width, height: output.height, rate, frames: at, shots, paragraphs, chapters, findings }
}

/// How long a paragraph's words last: its take as it is heard, pauses put in included, else by estimate; to the microsecond,
/// by estimate to the millisecond.
function lengthOfWords(entry: Paragraph, context: LayOutContext) {
  const recorded = context.takeSeconds(entry)
  if (!recorded) return { words: rational(Math.round(context.speakingSeconds(entry) * 1000), 1000), isTaken: false, pauses: [] }
  const { pauses = [], trim } = entry.narration ?? {}
  const heard = trim ? rational(Math.round(heardSeconds(toNumber(recorded), trim) * 1e6), 1e6) : recorded
  return { words: add(heard, rational(Math.round(pausedSeconds(pauses, trim) * 1e6), 1e6)), isTaken: true, pauses, trim }
}

/// `missing`: output frames that the pictures are shorter than the words with their breath.
function wordsLonger(entry: Paragraph, missing: number, rate: Rational): ProgrammeFinding[] {
  const short = missing - framesCovering(BREATH, rate)
  if (short <= 0) return []
  return [
    {
      code: 'words-longer-than-picture',
      paragraph: entry.id,
      problem: `the words last ${inSeconds(short, rate)} longer than the pictures; the last picture is held`,
    },
  ]
}

/// `frames`: output frames of the pictures.
function picturesLonger(entry: Paragraph, words: Rational, frames: number, rate: Rational): ProgrammeFinding[] {
  const over = subtract(secondsOf(ticksOfFrame(frames, rate)), add(words, BREATH))
  if (compare(over, SLACK) <= 0) return []
  return [
    {
      code: 'picture-longer-than-words',
      paragraph: entry.id,
      problem: `the pictures last ${toNumber(over).toFixed(1)} s longer than the words; room tone fills the gap`,
    },
  ]
}

/// The context's verbs, bound to it, so that it may be an object with state.
const bound = (context: LayOutContext): Pick<ShotContext, 'film' | 'cardSeconds'> => ({
  film: (footage) => context.film(footage),
  cardSeconds: (card) => context.cardSeconds(card),
})

const inSeconds = (frames: number, rate: Rational): string => `${(frames / toNumber(rate)).toFixed(1)} s`

const hasCard = (breakdown: Breakdown, card: Card['card']): boolean =>
  breakdown.script.some((e) => isParagraph(e) && e.shots?.some((s) => 'card' in s && s.card === card))

const marksOf = (shot: Shot): readonly Mark[] => ('card' in shot ? [] : (shot.marks ?? []))

/// A shot that stands still, for `frames` more.
function longer(layout: ShotLayout, frames: number): ShotLayout {
  const panels = layout.panels.map((panel) => ({
    ...panel,
    frames: new Int32Array(layout.frames + frames).fill(panel.frames[0] as number),
  }))
  return { ...layout, frames: layout.frames + frames, panels }
}

/// The last picture standing still for `frames` more; the film's title where there is none.
function heldLast(last: LaidShot | undefined, frames: number, breakdown: Breakdown): { layout: ShotLayout; shot: Shot } {
  if (!last || last.kind === 'card') {
    const card: Card = last?.card ?? { card: 'text', lines: [breakdown.title] }
    return { layout: { kind: 'card', frames, panels: [], badges: [], card, sharedEvent: null }, shot: card }
  }
  const panels = last.panels.map((panel) => ({
    ...panel,
    shown: [panel.shown[1], panel.shown[1]] as const,
    frames: new Int32Array(frames).fill(panel.frames.at(-1)!),
  }))
  const badges = ['frozen', ...last.badges.filter((b) => b.includes('mirrored'))]
  return { layout: { kind: 'hold', frames, panels, badges, card: null, sharedEvent: null }, shot: last.shot }
}

/// When each event is reached within a shot: on a moving picture the first output frame that shows its
/// frame; on a standing one the moment its word is said.
function eventsOf(
  breakdown: Breakdown,
  layout: ShotLayout,
  paragraph: Paragraph | null,
  start: number,
  wordsFrom: Ticks,
  rate: Rational,
  context: LayOutContext,
): ReadonlyMap<string, number> {
  const at = new Map<string, number>()
  for (const event of breakdown.events ?? []) {
    const panel = layout.panels.find((p) => p.clip === event.clip)
    if (!panel) continue
    const frame = eventFrame(event)
    const cue = layout.kind === 'hold' && paragraph ? context.cueSeconds(paragraph, event.id) : null
    if (cue !== null) {
      const said = toNumber(add(secondsOf(wordsFrom), rational(Math.round(cue * 1e6), 1e6)))
      const latest = Math.max(0, layout.frames - framesCovering(MARK_SECONDS, rate))
      at.set(event.id, Math.max(0, Math.min(latest, Math.floor(said * toNumber(rate) + 1e-9) - start)))
    } else {
      const reached = panel.frames.findIndex((f) => f >= frame)
      if (reached >= 0) at.set(event.id, reached)
    }
  }
  return at
}

function cadenceFindings(paragraph: Paragraph, breakdown: Breakdown, context: ShotContext): ProgrammeFinding[] {
  const rate = exact(breakdown.output.rate)
  return (paragraph.shots ?? []).flatMap((shot, i) => {
    if (!('run' in shot)) return []
    const clip = clipOf(breakdown, shot.run)
    const pace = multiply(exact(shot.speed), captureFactor(clip) ?? rational(1))
    if (isEvenCadence(context.film(clip.footage).table.rate, pace, rate)) return []
    return [
      {
        code: 'uneven-cadence' as const,
        paragraph: paragraph.id,
        problem: `shot ${i + 1} runs unevenly: its frames do not stand for equal times at this speed and output rate`,
      },
    ]
  })
}

/// A clip that is shown slowed wants one run at full speed (slow motion biases viewers' judgement: Caruso 2016, PNAS 113:9250).
function replayFindings(breakdown: Breakdown): ProgrammeFinding[] {
  const slowed = new Map<string, string>()
  const full = new Set<string>()
  for (const entry of breakdown.script) {
    if (!isParagraph(entry)) continue
    for (const shot of entry.shots ?? []) {
      if ('run' in shot) {
        if (compare(exact(shot.speed), rational(1)) >= 0) full.add(shot.run)
        else slowed.set(shot.run, entry.id)
      } else if ('pair' in shot && compare(exact(shot.speed), rational(1)) < 0)
        for (const member of shot.pair) slowed.set(member.clip, entry.id)
    }
  }
  return [...slowed]
    .filter(([clip]) => !full.has(clip))
    .map(([clip, paragraph]) => ({
      code: 'no-full-speed-run' as const,
      paragraph,
      problem: `clip ${clip} is shown slowed and never at full speed`,
    }))
}
