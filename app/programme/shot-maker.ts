import type { Clip } from '../project/film'
import type { Hold, Mark, Run, Shot } from '../project/picture'
import { exactSecondsAt, frameAtSeconds, type FrameTable } from '../time/frame-table'
import { add, compare, divide, formatRational, multiply, rational, subtract, toNumber, type Rational } from '../time/rational'
import { captureFactor } from './lay-shot'

/// Real time of a clip's frames.
export interface Source {
  between(from: number, to: number): Rational
  /// The first frame within so many real seconds before `frame`, `least` at the lowest; the last within so many behind
  /// it, `most` at the highest: a run between them is never faster than asked.
  before(frame: number, seconds: Rational, least: number): number
  after(frame: number, seconds: Rational, most: number): number
}

export function sourceOf(clip: Clip, table: FrameTable): Source {
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
export class ShotMaker {
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

  /// Leads in to an event: from so far before it as `frames` allow at `pace`, standing first where the film, which begins at
  /// `from`, is shorter.
  lead(clip: Clip, at: number, frames: number, from: number, pace: Rational, source: Source): void {
    if (frames <= 0) return
    const available = toNumber(source.between(from, at))
    const running = Math.min(frames, Math.floor((available / toNumber(pace)) * toNumber(this.rate) + 1e-6))
    const begin = running > 0 ? source.before(at, multiply(pace, divide(rational(running), this.rate)), from) : at
    if (begin >= at) return this.hold(clip, at, frames)
    this.hold(clip, begin, frames - running)
    this.run(clip, begin, at, running, source)
  }

  /// What follows an event until its picture ends: where it was held before it is held, else it runs on and then stands.
  tail(clip: Clip, at: number, frames: number, to: number, pace: Rational, source: Source): void {
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
