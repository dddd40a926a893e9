import { exact } from '../project/fields'
import type { Hold, Run, Shot } from '../project/picture'
import { divide, formatRational, rational } from '../time/rational'
import { layShot } from './lay-shot'
import { framesBefore, frameIn, type HandContext, type Stretch } from './talk-over'

/// A talk-over said in ordinary shots: what was seen, tidied, as long as the sound.

/// No output frame shows a picture that was not seen within this many output frames of it.
export const SEEN_WITHIN = 2
/// Whether a run has to wait at output frame `n`; `last` is the last one at which its picture was there in time. `missing`:
/// the picture of `n` cannot be painted, and an older one is seen on `n` as well. Else it may be: then only the output frames
/// between the two have shown an older one.
export const mustWait = (n: number, last: number, missing: boolean): boolean => n - last > SEEN_WITHIN + (missing ? 0 : 1)
/// A picture that stood for no more output frames than this is left out where that keeps `SEEN_WITHIN`.
const PASSING = 2
/// Runs may lie this much beside what was seen: the stand behind one can come another output frame early.
const RUN_WITHIN = 1

/// A piece of what was seen: from which output frame, to which.
type Piece = { readonly shot: Run | Hold; readonly from: number; readonly to: number }

/// The shots of a talk-over of `frames` output frames, as many in all. Runs of one speed that follow one another are
/// joined, stands that nobody can have meant (a key held down) are left out, a stand of the same frame is one hold; within
/// a shot the picture never runs backwards. `hands` must begin at 0; what lies behind `frames` was not recorded.
export function talkShots(hands: readonly Stretch[], frames: number, context: HandContext): readonly Shot[] {
  const pieces = hands.flatMap((each, i) => piecesOf(each, hands[i + 1], frames, context))
  const made: { shot: Run | Hold; frames: number }[] = []
  let at = 0
  pieces.forEach((piece, i) => {
    const { shot } = piece
    const last = made.at(-1)
    if ('run' in shot) {
      const whole = last && joined(last.shot, shot, last.frames, context)
      const length = whole && framesBefore({ shot: whole }, whole.to, context)
      if (whole && length && Math.abs(at - last.frames + length - piece.to) <= RUN_WITHIN) {
        at += length - last.frames
        made[made.length - 1] = { shot: whole, frames: length }
      } else {
        const own = framesBefore({ shot }, shot.to, context)
        made.push({ shot, frames: own })
        at += own
      }
      return
    }
    const length = piece.to - at
    if (last && 'hold' in last.shot && last.shot.hold === shot.hold && last.shot.at === shot.at && sameMarks(last.shot, shot))
      last.frames += length
    else if (length <= 0 || isPassing(piece, at, pieces[i + 1])) return
    else made.push({ shot, frames: length })
    at = piece.to
  })
  return fitted(made, frames, context).map(({ shot, frames: length }) =>
    'run' in shot ? shot : { ...shot, seconds: formatRational(divide(rational(length), exact(context.shots.output.rate))) },
  )
}

/// What was seen of one stretch: of a run its whole footage frames, and the last one standing as far as it came.
function piecesOf(stretch: Stretch, next: Stretch | undefined, frames: number, context: HandContext): Piece[] {
  const { from, shot } = stretch
  const to = Math.min(frames, next?.from ?? frames)
  if (to <= from) return []
  if ('hold' in shot) return [{ shot, from, to }]
  const goesOn =
    next && next.from === to && (('run' in next.shot && next.shot.run === shot.run) || ('hold' in next.shot && next.shot.hold === shot.run))
  const follows = goesOn ? ('run' in next.shot ? next.shot.from : next.shot.at) : null
  if (follows !== null && follows > shot.from && from + framesBefore(stretch, follows, context) === to)
    return [{ shot: { ...shot, to: follows }, from, to }]
  const last = frameIn(stretch, to - 1)
  const standsFrom = last > shot.from ? from + framesBefore(stretch, last, context) : from
  const { run, marks } = shot
  const stand: Hold = { hold: run, at: last, seconds: '1', ...(marks ? { marks } : {}) }
  return [...(last > shot.from ? [{ shot: { ...shot, to: last }, from, to: standsFrom }] : []), { shot: stand, from: standsFrom, to }]
}

/// One run that shows both; null where they do not go on from one another, or where, footage frames being skipped, it
/// would show others than the second one did.
function joined(a: Run | Hold, b: Run, lasted: number, context: HandContext): Run | null {
  if (!('run' in a) || a.run !== b.run || a.speed !== b.speed || a.to !== b.from || !sameMarks(a, b)) return null
  const whole = { ...a, to: b.to }
  const shown = new Set(layShot(b, context.shots).panels[0]?.frames)
  return layShot(whole, context.shots)
    .panels[0]?.frames.subarray(lasted)
    .every((frame) => shown.has(frame))
    ? whole
    : null
}

function isPassing({ shot, from, to }: Piece, at: number, next: Piece | undefined): boolean {
  if (!next || to - from > PASSING || to - at > ('run' in next.shot ? RUN_WITHIN : SEEN_WITHIN)) return false
  const kept = (next.shot.marks ?? []).map((mark) => JSON.stringify(mark))
  return (shot.marks ?? []).every((mark) => kept.includes(JSON.stringify(mark)))
}

const sameMarks = (a: Run | Hold, b: Run | Hold): boolean => JSON.stringify(a.marks ?? []) === JSON.stringify(b.marks ?? [])

/// Exactly so many output frames: what lies beyond them goes, what is missing stands.
function fitted(
  made: readonly { shot: Run | Hold; frames: number }[],
  frames: number,
  context: HandContext,
): { shot: Run | Hold; frames: number }[] {
  const fit: { shot: Run | Hold; frames: number }[] = []
  let at = 0
  for (const { shot, frames: length } of made) {
    if (at >= frames) break
    let [kept, keptFrames] = [shot, length]
    while ('run' in kept && at + keptFrames > frames && kept.to > kept.from + 1) {
      kept = { ...kept, to: kept.to - 1 }
      keptFrames = framesBefore({ shot: kept }, kept.to, context)
    }
    if ('run' in kept && at + keptFrames > frames)
      kept = { hold: kept.run, at: kept.from, seconds: '1', ...(kept.marks ? { marks: kept.marks } : {}) }
    if ('hold' in kept) keptFrames = Math.min(keptFrames, frames - at)
    fit.push({ shot: kept, frames: keptFrames })
    at += keptFrames
  }
  const last = fit.at(-1)
  if (!last || at >= frames) return fit
  if ('hold' in last.shot) return [...fit.slice(0, -1), { ...last, frames: last.frames + frames - at }]
  const { run, marks } = last.shot
  const stood = layShot(last.shot, context.shots).panels[0]?.frames.at(-1) ?? last.shot.from
  return [...fit, { shot: { hold: run, at: stood, seconds: '1', ...(marks ? { marks } : {}) }, frames: frames - at }]
}
