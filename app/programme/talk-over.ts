import { exact } from '../project/fields'
import type { FreeMark, Hold, Mark, Run } from '../project/picture'
import { multiply, rational, toNumber } from '../time/rational'
import { outputFramesOf } from './cadence'
import { captureFactor, clipOf, layShot, type ShotContext } from './lay-shot'
import type { LaidShot } from './programme'

/// What the hands do to a clip's picture while a take is recorded, and what is seen of it. The picture is kept in
/// output frames, counted from the recording's first sample, and walked by the same function as a run of the film: what
/// was seen can be said again in shots (see `talkShots`) without rounding twice.

/// One thing that the hands do. `at`: samples of the recording before it.
export type HandAction = { readonly at: number } & (
  | { readonly does: 'show'; readonly clip: string; readonly frame: number }
  /// Frames on, or back when negative; the picture then stands.
  | { readonly does: 'step'; readonly by: number }
  /// At a speed against real time. From the clip's last frame it begins anew with the first one.
  | { readonly does: 'run'; readonly speed: string }
  | { readonly does: 'stop' }
  | { readonly does: 'mark'; readonly mark: FreeMark }
  /// Takes the marks away.
  | { readonly does: 'clear' }
)

/// What is seen from one output frame until the next stretch begins.
export interface Stretch {
  readonly from: number
  /// A run goes to its clip's end; how long a hold says it lasts means nothing here.
  readonly shot: Run | Hold
  /// As it is painted and will be rendered. Behind the last of its frames the last one stands.
  readonly laid: LaidShot
}

export interface HandContext {
  readonly shots: ShotContext
  /// Samples a second of the recording.
  readonly sampleRate: number
}

/// A mark's way into a shot is bounded (see `Run`).
const MOST_MARKS = 200

/// The picture that stands as the recording begins.
export function beginHands(clip: string, frame: number, context: HandContext): readonly Stretch[] {
  return [standing(0, clip, frame, [], context)]
}

/// The stretches after an action; those that were to come after it are made anew. Actions come in the order of their
/// times. An action takes hold at the output frame that is nearest to it, except that
/// - another speed takes hold when the next footage frame appears (the one that is there stands its time out), and so
///   does taking marks away from a moving picture: what was seen is then exactly two runs;
/// - a mark on a moving picture belongs to its footage frame from when that appeared: it is never late, and early by less
///   than that frame stands.
/// Marks stay while the picture stands or runs on, and go when it leaves a stand.
export function act(hands: readonly Stretch[], action: HandAction, context: HandContext): readonly Stretch[] {
  const n = outputFrameAt(action.at, context)
  const here = stretchAt(hands, n)
  const { shot } = here
  const clip = 'run' in shot ? shot.run : shot.hold
  const frame = frameIn(here, n)
  const stands = 'hold' in shot
  const marks = shot.marks ?? []
  const after = (from: number, ...next: readonly Stretch[]): readonly Stretch[] => [...hands.filter((each) => each.from < from), ...next]
  const unchanged = [...hands.filter((each) => each.from <= n), ...stoodOut(here, context)]
  switch (action.does) {
    case 'show':
      return after(n, standing(n, action.clip, action.frame, [], context))
    case 'step': {
      const { from, to } = clipOf(context.shots.breakdown, clip)
      const next = Math.max(from, Math.min(to - 1, frame + action.by))
      return next === frame && stands ? unchanged : after(n, standing(n, clip, next, next === frame ? marks : [], context))
    }
    case 'stop':
      return stands ? unchanged : after(n, standing(n, clip, frame, marks, context))
    case 'run': {
      const { from, to } = clipOf(context.shots.breakdown, clip)
      if (stands) return after(n, ...running(n, clip, frame >= to - 1 ? from : frame, action.speed, [], context))
      if (shot.speed === action.speed) return unchanged
      return turned(action.speed, marks)
    }
    case 'mark': {
      const more = [...marks, action.mark].slice(-MOST_MARKS)
      if (stands) return after(n, standing(n, clip, frame, more, context))
      const from = here.from + framesBefore(here, frame, context)
      return after(from, ...running(from, clip, frame, shot.speed, more, context))
    }
    case 'clear':
      if (marks.length === 0) return unchanged
      return 'hold' in shot ? after(n, standing(n, clip, frame, [], context)) : turned(shot.speed, [])
  }

  /// The run goes on otherwise from its next footage frame on.
  function turned(speed: string, kept: Mark[]): readonly Stretch[] {
    if (!('run' in shot)) return unchanged
    for (let next = frame; next < shot.to; next++) {
      const from = here.from + framesBefore(here, next, context)
      if (from >= n) return after(Math.max(n, from), ...running(from, clip, next, speed, kept, context))
    }
    return unchanged
  }
}

/// A picture that is seen: a footage frame with the marks on it.
export interface Seen {
  readonly clip: string
  readonly frame: number
  readonly marks: readonly Mark[]
}

/// The stretches where, from output frame `from` on, a picture stood: it was seen although another was to come, whose frames
/// were not there in time.
export const stoodAt = (
  hands: readonly Stretch[],
  from: number,
  { clip, frame, marks }: Seen,
  context: HandContext,
): readonly Stretch[] => [...hands.filter((each) => each.from < from), standing(from, clip, frame, [...marks], context)]

/// The stretches where a run begins at output frame `from` with a picture, its marks kept.
export const ranOn = (
  hands: readonly Stretch[],
  from: number,
  { clip, frame, marks }: Seen,
  speed: string,
  context: HandContext,
): readonly Stretch[] => [...hands.filter((each) => each.from < from), ...running(from, clip, frame, speed, [...marks], context)]

/// The picture of a stretch at output frame `n`.
export const seenIn = (stretch: Stretch, n: number): Seen => ({
  clip: 'run' in stretch.shot ? stretch.shot.run : stretch.shot.hold,
  frame: frameIn(stretch, n),
  marks: stretch.shot.marks ?? [],
})

/// The output frame at which something at `samples` of the recording takes hold: the nearest.
export const outputFrameAt = (samples: number, { shots, sampleRate }: HandContext): number =>
  Math.max(0, Math.round((samples * toNumber(exact(shots.output.rate))) / sampleRate))

/// The stretch that is seen at output frame `n`.
export function stretchAt(hands: readonly Stretch[], n: number): Stretch {
  const stretch = hands.findLast(({ from }) => from <= n) ?? hands[0]
  if (!stretch) throw new RangeError('the hands hold no picture')
  return stretch
}

/// Output frame within a stretch's own shot that is painted at output frame `n`.
export const placeIn = ({ from, laid }: Stretch, n: number): number => Math.max(0, Math.min(laid.frames - 1, n - from))

/// Footage frame of a stretch at output frame `n`.
export const frameIn = (stretch: Stretch, n: number): number => stretch.laid.panels[0]?.frames[placeIn(stretch, n)] ?? 0

/// Output frames that a run lasts before a footage frame, as the film lays it; 0 for its first.
export function framesBefore({ shot }: Pick<Stretch, 'shot'>, frame: number, { shots }: HandContext): number {
  if (!('run' in shot) || frame <= shot.from) return 0
  const clip = clipOf(shots.breakdown, shot.run)
  const pace = multiply(exact(shot.speed), captureFactor(clip) ?? rational(1))
  return outputFramesOf(shots.film(clip.footage).table, shot.from, frame, pace, exact(shots.output.rate))
}

function standing(from: number, clip: string, frame: number, marks: NonNullable<Hold['marks']>, context: HandContext): Stretch {
  return stretch(from, { hold: clip, at: frame, seconds: '1', ...(marks.length > 0 ? { marks } : {}) }, context)
}

function running(
  from: number,
  clip: string,
  frame: number,
  speed: string,
  marks: NonNullable<Run['marks']>,
  context: HandContext,
): readonly Stretch[] {
  const run = stretch(
    from,
    { run: clip, from: frame, to: clipOf(context.shots.breakdown, clip).to, speed, ...(marks.length > 0 ? { marks } : {}) },
    context,
  )
  return [run, ...stoodOut(run, context)]
}

/// What follows a run that nobody stops: its last frame.
function stoodOut({ from, shot, laid }: Stretch, context: HandContext): readonly Stretch[] {
  return 'run' in shot ? [standing(from + laid.frames, shot.run, shot.to - 1, shot.marks ?? [], context)] : []
}

function stretch(from: number, shot: Run | Hold, context: HandContext): Stretch {
  const { kind, frames, panels, badges } = layShot(shot, context.shots)
  return {
    from,
    shot,
    laid: {
      paragraph: '',
      index: -1,
      shot,
      kind,
      start: from,
      frames,
      panels,
      card: null,
      eventAt: new Map(),
      badges,
      marks: shot.marks ?? [],
      title: null,
      credit: null,
    },
  }
}
