import { sideOf, storedName, withSide } from '../body/landmark-name'
import type { Measure } from '../project/question'
import type { Answer } from './answer'
import type { MeasureContext } from './context'
import type { Reading } from './reading'

/// How a measure is asked frame by frame.
export interface OverFrames {
  /// The frame that it is about: where there are too many, those around it are taken.
  readonly frame: number
  /// Frames on which it may have a value, in order.
  readonly frames: (context: MeasureContext) => readonly number[]
  /// The question about one frame: a measure of its own, which stands for no event.
  readonly on: (frame: number) => Measure
  /// Answers to all of them by frame, where one after the other would cost too much.
  readonly atOnce?: (context: MeasureContext) => ReadonlyMap<number, Answer>
  /// What the measure's own reading says of an instant within the frames, where its value is one.
  readonly instant?: (reading: Reading, context: MeasureContext) => Instant | null
}

/// An instant on a curve, with the bracket that its error leaves; in frames, may lie between two.
export interface Instant {
  readonly name: string
  readonly earliest: number
  readonly at: number
  readonly latest: number
  /// "turns fastest 0.058 s ± 0.021 s after frame 1200".
  readonly words: string
}

type OnFrame = Extract<Measure, { readonly frame: number; readonly fromFrame?: number }> & {
  readonly clip: string
  readonly subject: string
}

/// Asks the same on every frame on which one of its points is placed.
export const onPlacedFrames = (measure: OnFrame, point: string | undefined): OverFrames => ({
  frame: measure.frame,
  frames: (context) => (point === undefined ? [] : placedFrames(context, measure.clip, measure.subject, point)),
  on: (frame) => onOther(measure, frame),
})

/// The same question about another frame, which stands for no event.
export function onOther(measure: OnFrame, frame: number): Measure {
  const { event: _event, ...alone } = { event: undefined, ...measure }
  return { ...alone, frame } as Measure
}

/// Frames on which a point is placed, in order. Lead and rear are looked up frame by frame: the lead side may change within a clip, or
/// be stated for a part only.
export function placedFrames(context: MeasureContext, clip: string, subject: string, name: string): number[] {
  const side = sideOf(name)
  const track = (point: string): ReadonlyMap<number, unknown> => context.track(clip, subject, point)
  if (side === 'lead' || side === 'rear') {
    const both = new Set([...track(withSide(name, 'left')).keys(), ...track(withSide(name, 'right')).keys()])
    const isThere = (frame: number): boolean => {
      const stored = storedName(name, context.lead(clip, subject, frame))
      return stored !== null && track(stored).has(frame)
    }
    return [...both].filter(isThere).sort((a, b) => a - b)
  }
  const own = [...track(name).keys()]
  return own.length > 0 || side !== 'mid' ? own : [...track(withSide(name, 'left')).keys()]
}
