import type { Breakdown } from '../project/breakdown'
import type { Paragraph } from '../project/picture'
import { toNumber } from '../time/rational'
import { secondsOf } from '../time/ticks'
import { eventFrame } from './event-frame'
import type { LaidShot, Programme } from './programme'

/// The thread from a cue's word to the picture of its event.
export interface Thread {
  readonly paragraph: string
  readonly event: string
  readonly word: string
  /// Output frame, counted from the film's start and not rounded, at which the word begins.
  readonly said: number
  /// Output frame at which the event is on screen: where it is reached on a moving picture, or the frame nearest to
  /// the word while it stands still. Null: the paragraph's pictures never show it.
  readonly shown: number | null
  /// Whole output frames that the word comes after its picture (negative: before it); 0: in step.
  readonly late: number
}

/// A word and its frame that are this close are in step, seconds: one frame at 25 a second, inside what viewers of
/// broadcasts notice (+45 ms and −125 ms, ITU-R BT.1359-1).
const IN_STEP = 0.04

/// The threads of every cue, in the script's order. `cueSeconds`: seconds from the start of the paragraph's words to the
/// word bound to the event, as the programme was laid out with; null leaves the cue out.
export function threadsOf(
  breakdown: Breakdown,
  programme: Programme,
  cueSeconds: (paragraph: Paragraph, event: string) => number | null,
): Thread[] {
  const rate = toNumber(programme.rate)
  return breakdown.script.flatMap((row) => {
    if ('chapter' in row) return []
    const laid = programme.paragraphs.find((p) => p.id === row.id)
    if (!laid) return []
    const shots = programme.shots.filter((shot) => shot.paragraph === row.id)
    return row.text.flatMap((piece): Thread[] => {
      if (typeof piece === 'string' || !('cue' in piece)) return []
      const seconds = cueSeconds(row, piece.cue)
      if (seconds === null) return []
      const said = (toNumber(secondsOf(laid.words.from)) + seconds) * rate
      const shown = nearest(
        shots.flatMap((shot) => onScreen(breakdown, shot, piece.cue, said)),
        said,
      )
      const late = shown === null || Math.abs(said - shown) <= Math.max(1, IN_STEP * rate) ? 0 : Math.round(said - shown)
      return [{ paragraph: row.id, event: piece.cue, word: piece.word, said, shown, late }]
    })
  })
}

/// When one shot shows an event: one output frame of a moving picture; of a standing one the frame nearest to `said`.
function onScreen(breakdown: Breakdown, shot: LaidShot, id: string, said: number): number[] {
  const event = breakdown.events?.find((e) => e.id === id)
  const panel = event && shot.panels.find((p) => p.clip === event.clip)
  if (!panel) return []
  const frame = eventFrame(event)
  const from = panel.frames.findIndex((f, i) => f === frame || (i > 0 && f > frame && (panel.frames[i - 1] as number) < frame))
  if (from < 0) return []
  const last = panel.frames.lastIndexOf(panel.frames[from] as number)
  return [shot.start + Math.max(from, Math.min(last, Math.floor(said) - shot.start))]
}

const nearest = (frames: readonly number[], to: number): number | null =>
  frames.reduce<number | null>((best, at) => (best === null || Math.abs(at - to) < Math.abs(best - to) ? at : best), null)
