import type { Breakdown } from '../project/breakdown'
import { exact } from '../project/fields'
import type { Clip, Event } from '../project/film'
import type { Paragraph, Run, Shot } from '../project/picture'
import type { FrameTable } from '../time/frame-table'
import { toNumber, type Rational } from '../time/rational'
import { saidAt, type Pause } from '../script/pauses'
import { fasterBetween, leftUntied, otherPictures, pausedBetween, shortHold, type CueConflict } from './cue-conflict'
import { frameOfWord, solveSpan, SPEED_LIMITS, type SolvedSpan } from './cue-spans'
import { eventFrame } from './event-frame'
import { ShotMaker, sourceOf } from './shot-maker'

/// A paragraph's shots made anew so that its cues' events appear as their words are said.

/// A cue with its word's time, seconds of the take (or of the estimate).
export interface TimedCue {
  readonly event: string
  readonly word: string
  readonly seconds: number
}

export interface CueShots {
  readonly shots: readonly Shot[]
  readonly pauses: readonly Pause[]
  readonly conflicts: readonly CueConflict[]
  /// Output frame within the paragraph at which each tied event appears, and how its picture got there.
  readonly tied: readonly { readonly event: string; readonly frame: number; readonly how: SolvedSpan['how'] | 'first' }[]
  /// Output frames of all shots together.
  readonly frames: number
}

export interface CueShotsInput {
  readonly breakdown: Breakdown
  readonly paragraph: Paragraph
  readonly cues: readonly TimedCue[]
  /// Length of the words, seconds, pauses not counted, and of the breath behind them.
  readonly words: number
  readonly breath: number
  /// Preferred speed against real time.
  readonly pace: Rational
  table(footage: string): FrameTable
}

/// A hold is to last at least this long, seconds (judgement).
const SHORT_HOLD = 1.5
/// A picture that follows another clip's event leaves it at least this long, seconds (judgement).
const STAY = 1

interface Tied {
  readonly cue: TimedCue
  readonly event: Event
  readonly clip: Clip
  readonly at: number
}

/// Null: no cue of the paragraph is bound to an event of a clip. The same input gives the same shots, and a span depends
/// on its own two cues alone: what lies between unchanged cues stays as it was.
export function cueShots(input: CueShotsInput): CueShots | null {
  const { breakdown, paragraph, pace } = input
  const rate = exact(breakdown.output.rate)
  const fps = toNumber(rate)
  const conflicts: CueConflict[] = []
  const groups = groupsOf(tiedCues(input), conflicts, input)
  if (groups.length === 0) return null
  const old = paragraph.shots ?? []
  const cards = old.slice(0, old.findIndex((shot) => !('card' in shot)) < 0 ? old.length : old.findIndex((shot) => !('card' in shot)))
  if (old.slice(cards.length).some((shot) => 'pair' in shot || 'card' in shot)) conflicts.push(otherPictures())
  const maker = new ShotMaker(old, rate)
  const pauses: Pause[] = []
  const tied: { event: string; frame: number; how: SolvedSpan['how'] | 'first' }[] = []
  const wordFrame = (cue: TimedCue): number => frameOfWord(saidAt(cue.seconds, pauses), fps)
  let at = 0
  groups.forEach((group, g) => {
    const [first] = group as [Tied, ...Tied[]]
    const source = sourceOf(first.clip, input.table(first.clip.footage))
    const range = rangeOf(old, first, group.at(-1) as Tied)
    let frame = Math.max(at, wordFrame(first.cue))
    maker.lead(first.clip, first.at, frame - at, range.from, pace, source)
    tied.push({ event: first.event.id, frame, how: 'first' })
    for (let i = 1; i < group.length; i++) {
      const [a, b] = [group[i - 1] as Tied, group[i] as Tied]
      const span = toNumber(source.between(a.at, b.at))
      let next = wordFrame(b.cue)
      const solved = solveSpan(span, (next - frame) / fps, toNumber(pace))
      if (solved.how === 'paused') {
        const needed = Math.ceil((span / SPEED_LIMITS.most) * fps - 1e-6)
        const seconds = (needed - (next - frame)) / fps
        pauses.push({ at: b.cue.seconds, seconds })
        next = frame + needed
        conflicts.push(pausedBetween(a, b, span, span - solved.pause, seconds))
      } else if (solved.how === 'faster') conflicts.push(fasterBetween(a, b, solved.speed, span / toNumber(pace) - (next - frame) / fps))
      const frames = next - frame
      const most = frames - Math.ceil((span / SPEED_LIMITS.most) * fps - 1e-6)
      const held = solved.how === 'held' ? Math.max(0, Math.min(frames - 1, most, Math.round(solved.hold * fps))) : 0
      if (held > 0 && held / fps < SHORT_HOLD) conflicts.push(shortHold(a, b, held / fps))
      maker.hold(a.clip, a.at, held)
      maker.run(a.clip, a.at, b.at, frames - held, source)
      frame = next
      tied.push({ event: b.event.id, frame, how: solved.how })
    }
    // Behind the last event: it stands where it stood before, else runs on; until the next clip's picture is due.
    const last = group.at(-1) as Tied
    const following = groups[g + 1]
    const end = following
      ? turnOf(following[0] as Tied, frame)
      : Math.max(frame + 1, Math.ceil((saidAt(input.words, pauses) + input.breath) * fps - 1e-6))
    maker.tail(last.clip, last.at, end - frame, range.to, pace, source)
    at = end
  })
  return { shots: [...cards, ...maker.shots], pauses, conflicts, tied, frames: at }

  /// The output frame at which a group's picture takes over: in time for it to run to its first event.
  function turnOf(first: Tied, after: number): number {
    const due = frameOfWord(saidAt(first.cue.seconds, pauses), fps)
    const source = sourceOf(first.clip, input.table(first.clip.footage))
    const range = rangeOf(old, first, first)
    const lead = Math.floor((toNumber(source.between(range.from, first.at)) / toNumber(pace)) * fps)
    return Math.max(after + 1, Math.min(due, Math.max(due - lead, after + Math.round(STAY * fps), Math.ceil((after + due) / 2))))
  }
}

function tiedCues({ breakdown, cues }: CueShotsInput): Tied[] {
  return [...cues]
    .sort((a, b) => a.seconds - b.seconds)
    .flatMap((cue) => {
      const event = breakdown.events?.find(({ id }) => id === cue.event)
      const clip = event && breakdown.clips.find(({ id }) => id === event.clip)
      return event && clip ? [{ cue, event, clip, at: eventFrame(event) }] : []
    })
}

/// Neighbouring cues of one clip together; a cue whose event lies before the one said before it is left untied.
function groupsOf(tied: readonly Tied[], conflicts: CueConflict[], { breakdown }: CueShotsInput): Tied[][] {
  const fps = toNumber(exact(breakdown.output.rate))
  const groups: Tied[][] = []
  for (const each of tied) {
    const group = groups.at(-1)
    const last = group?.at(-1)
    if (last && each.at !== last.at && each.cue.seconds < last.cue.seconds + MOMENT)
      conflicts.push(leftUntied('same-frame', last, each, 'are said at the same moment'))
    else if (!last || last.clip.id !== each.clip.id) {
      if (last && frameOfWord(each.cue.seconds, fps) <= frameOfWord(last.cue.seconds, fps) + 1)
        conflicts.push(leftUntied('same-frame', last, each, 'are said at the same moment, and belong to two clips'))
      else groups.push([each])
    } else if (each.at < last.at) conflicts.push(leftUntied('backwards', last, each, `are said in this order, and filmed in the other`))
    else if (each.at > last.at) group?.push(each)
  }
  return groups
}

/// Two words nearer than this are one moment, seconds.
const MOMENT = 0.02

/// The part of a clip that the paragraph shows about these events, as its shots had it.
function rangeOf(old: readonly Shot[], first: Tied, last: Tied): { from: number; to: number } {
  const runs = old.filter((shot): shot is Run => 'run' in shot && shot.run === first.clip.id)
  const from = Math.min(first.at, ...runs.filter((run) => run.from <= first.at).map((run) => run.from))
  const to = Math.max(last.at + 1, ...runs.map((run) => run.to))
  return { from: runs.some((run) => run.from <= first.at) ? from : first.clip.from, to: runs.length > 0 ? to : first.clip.to }
}
