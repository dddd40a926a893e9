import type { Breakdown } from '../project/breakdown'
import { exact } from '../project/fields'
import type { Clip, Event } from '../project/film'
import type { Hold, Mark, Paragraph, Run, Shot } from '../project/picture'
import { exactSecondsAt, frameAtSeconds, type FrameTable } from '../time/frame-table'
import { add, compare, divide, formatRational, multiply, rational, subtract, toNumber, type Rational } from '../time/rational'
import { saidAt, type Pause } from '../script/pauses'
import { frameOfWord, solveSpan, SPEED_LIMITS, type SolvedSpan } from './cue-spans'
import { eventFrame } from './event-frame'
import { captureFactor } from './lay-shot'

/// A paragraph's shots made anew so that its cues' events appear as their words are said.

/// A cue with its word's time, seconds of the take (or of the estimate).
export interface TimedCue {
  readonly event: string
  readonly word: string
  readonly seconds: number
}

/// What could not be kept as wished, and the ways out of it.
export interface CueConflict {
  readonly code: 'backwards' | 'paused' | 'faster' | 'short-hold' | 'other-pictures' | 'same-frame'
  /// The words between which it is.
  readonly words: readonly string[]
  readonly problem: string
  readonly ways: readonly string[]
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
  if (old.slice(cards.length).some((shot) => 'pair' in shot || 'card' in shot))
    conflicts.push({
      code: 'other-pictures',
      words: [],
      problem: 'pairs and cards between the pictures were taken out: they cannot follow cues',
      ways: ['give them a paragraph of their own', 'undo, and set the pictures by hand'],
    })
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
    // The picture leads in: from so far before the event as the time allows, standing first where the film is shorter.
    const lead = frame - at
    if (lead > 0) {
      const available = toNumber(source.between(range.from, first.at))
      const running = Math.min(lead, Math.floor((available / toNumber(pace)) * fps + 1e-6))
      const from = running > 0 ? source.before(first.at, multiply(pace, divide(rational(running), rate)), range.from) : first.at
      if (from < first.at && running > 0) {
        maker.hold(first.clip, from, lead - running)
        maker.run(first.clip, from, first.at, running, source)
      } else maker.hold(first.clip, first.at, lead)
    }
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
        conflicts.push({
          code: 'paused',
          words: [a.cue.word, b.cue.word],
          problem: `from “${a.cue.word}” to “${b.cue.word}” the film takes ${span.toFixed(2)} s at full speed and the words ${(span - solved.pause).toFixed(2)} s: ${seconds.toFixed(2)} s of room tone were put in before “${b.cue.word}”`,
          ways: [`say “${b.cue.word}” later`, `take the tie from “${b.cue.word}”`, 'cut to another picture between them'],
        })
      } else if (solved.how === 'faster')
        conflicts.push({
          code: 'faster',
          words: [a.cue.word, b.cue.word],
          problem: `from “${a.cue.word}” to “${b.cue.word}” it runs at ${solved.speed.toFixed(2)} of full speed, faster than wished`,
          ways: [
            `say “${b.cue.word}” ${Math.max(0, span / toNumber(pace) - (next - frame) / fps).toFixed(1)} s later`,
            'wish for a faster pace',
            `take the tie from “${b.cue.word}”`,
          ],
        })
      const frames = next - frame
      const most = frames - Math.ceil((span / SPEED_LIMITS.most) * fps - 1e-6)
      const held = solved.how === 'held' ? Math.max(0, Math.min(frames - 1, most, Math.round(solved.hold * fps))) : 0
      if (held > 0 && held / fps < SHORT_HOLD)
        conflicts.push({
          code: 'short-hold',
          words: [a.cue.word, b.cue.word],
          problem: `“${a.cue.word}” stands for only ${(held / fps).toFixed(2)} s`,
          ways: [`say “${b.cue.word}” later`, 'wish for a slower pace'],
        })
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
    maker.tail(last, end - frame, range.to, pace, source)
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
      conflicts.push(left('same-frame', last, each, 'are said at the same moment'))
    else if (!last || last.clip.id !== each.clip.id) {
      if (last && frameOfWord(each.cue.seconds, fps) <= frameOfWord(last.cue.seconds, fps) + 1)
        conflicts.push(left('same-frame', last, each, 'are said at the same moment, and belong to two clips'))
      else groups.push([each])
    } else if (each.at < last.at) conflicts.push(left('backwards', last, each, `are said in this order, and filmed in the other`))
    else if (each.at > last.at) group?.push(each)
  }
  return groups
}

/// Two words nearer than this are one moment, seconds.
const MOMENT = 0.02

const left = (code: CueConflict['code'], a: Tied, b: Tied, why: string): CueConflict => ({
  code,
  words: [a.cue.word, b.cue.word],
  problem: `“${a.cue.word}” and “${b.cue.word}” ${why}: the picture does not follow “${b.cue.word}”`,
  ways: [
    'say them in the order of the film',
    `give “${b.cue.word}” a paragraph of its own, with its own run`,
    `take the tie from “${b.cue.word}”`,
  ],
})

/// The part of a clip that the paragraph shows about these events, as its shots had it.
function rangeOf(old: readonly Shot[], first: Tied, last: Tied): { from: number; to: number } {
  const runs = old.filter((shot): shot is Run => 'run' in shot && shot.run === first.clip.id)
  const from = Math.min(first.at, ...runs.filter((run) => run.from <= first.at).map((run) => run.from))
  const to = Math.max(last.at + 1, ...runs.map((run) => run.to))
  return { from: runs.some((run) => run.from <= first.at) ? from : first.clip.from, to: runs.length > 0 ? to : first.clip.to }
}

/// Real time of a clip's frames.
interface Source {
  between(from: number, to: number): Rational
  /// The first frame within so many real seconds before `frame`, `least` at the lowest; the last within so many behind
  /// it, `most` at the highest: a run between them is never faster than asked.
  before(frame: number, seconds: Rational, least: number): number
  after(frame: number, seconds: Rational, most: number): number
}

function sourceOf(clip: Clip, table: FrameTable): Source {
  const factor = captureFactor(clip) ?? rational(1)
  return {
    between: (from, to) => divide(subtract(exactSecondsAt(table, to), exactSecondsAt(table, from)), factor),
    before: (frame, seconds, least) => {
      const from = subtract(exactSecondsAt(table, frame), multiply(seconds, factor))
      const reached = Math.max(0, frameAtSeconds(table, from))
      return Math.max(least, compare(exactSecondsAt(table, reached), from) < 0 ? reached + 1 : reached)
    },
    after: (frame, seconds, most) => Math.min(most, frameAtSeconds(table, add(exactSecondsAt(table, frame), multiply(seconds, factor)))),
  }
}

/// Makes runs and holds of whole output frames; framing and marks go on from the shot that showed that frame before.
class ShotMaker {
  readonly shots: Shot[] = []

  constructor(
    private readonly old: readonly Shot[],
    private readonly rate: Rational,
  ) {}

  hold(clip: Clip, at: number, frames: number): void {
    if (frames <= 0) return
    const was = this.old.find((shot): shot is Hold => 'hold' in shot && shot.hold === clip.id && shot.at === at)
    const run = this.#run(clip, at)
    const kept = was ? dressOf(was) : run ? { ...dressOf(run), frameTo: undefined, marks: run.marks } : {}
    this.shots.push(present({ hold: clip.id, at, seconds: formatRational(divide(rational(frames), this.rate)), ...kept }))
  }

  run(clip: Clip, from: number, to: number, frames: number, source: Source): void {
    if (frames <= 0 || to <= from) return
    const was = this.#run(clip, from)
    const speed = divide(multiply(source.between(from, to), this.rate), rational(frames))
    this.shots.push(present({ run: clip.id, from, to, speed: formatRational(speed), ...(was ? dressOf(was) : {}) }))
  }

  /// What follows an event until its picture ends: where it was held before it is held, else it runs on and then stands.
  tail({ clip, at }: Tied, frames: number, to: number, pace: Rational, source: Source): void {
    if (frames <= 0) return
    const stood = this.old.some((shot) => 'hold' in shot && shot.hold === clip.id && shot.at === at)
    const running =
      to - 1 > at && !stood
        ? Math.min(frames, Math.floor((toNumber(source.between(at, to - 1)) / toNumber(pace)) * toNumber(this.rate) + 1e-6))
        : 0
    if (running < 2) return this.hold(clip, at, frames)
    const end = source.after(at, multiply(pace, divide(rational(running), this.rate)), to - 1)
    if (end <= at) return this.hold(clip, at, frames)
    this.run(clip, at, end, running, source)
    this.hold(clip, end, frames - running)
  }

  #run(clip: Clip, frame: number): Run | undefined {
    const runs = this.old.filter((shot): shot is Run => 'run' in shot && shot.run === clip.id)
    return runs.find((run) => frame >= run.from && frame < run.to) ?? runs[0]
  }
}

const dressOf = (shot: Run | Hold): { frame?: Run['frame']; frameTo?: Run['frameTo']; marks?: Mark[] | undefined } => ({
  frame: shot.frame,
  frameTo: shot.frameTo,
  marks: shot.marks,
})

const present = <T extends object>(shot: T): T => Object.fromEntries(Object.entries(shot).filter(([, value]) => value !== undefined)) as T
