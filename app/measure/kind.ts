import type { Measure, MeasureKind } from '../project/question'
import type { Answer } from './answer'
import type { MeasureContext } from './context'
import type { PartName } from './effect'
import type { OverFrames } from './over-frames'
import type { ReasonCode } from './reason'

/// The records of each kind.
export type MeasureOf = { readonly [K in MeasureKind]: Extract<Measure, { kind: K }> }

/// One kind of measure: what it asks for, how it answers, and all that a reader must know to
/// judge the answer. `docs/measurement.md` tells the same; a test holds the two together.
export interface Kind<K extends MeasureKind = MeasureKind> {
  readonly kind: K
  /// What must be placed, marked or stated.
  readonly inputs: string
  readonly formula: string
  /// Where the formula is from: paper, standard, handbook; or "geometry".
  readonly source: string
  readonly budget: readonly PartName[]
  /// The codes with which this kind warns, gives a range only, or refuses.
  readonly limits: readonly ReasonCode[]
  /// The shape of its label.
  readonly wording: string
  readonly answer: (measure: MeasureOf[K], context: MeasureContext) => Answer
  /// How a value of it is followed over frames; absent: it is no value of a single frame, or what an analyst states about one frame
  /// holds for that frame alone.
  readonly over?: (measure: MeasureOf[K]) => OverFrames
}

/// Codes that every kind reading points on a frame can answer with.
export const POINT_LIMITS = [
  'clip-missing',
  'outside-clip',
  'outside-film',
  'landmark-missing',
  'no-sample-on-frame',
  'lead-side-unknown',
  'off-frame',
  'points-coincide',
  'figure-too-small',
  'figure-small',
  'occluded',
  'suggested-point',
  'single-click',
  'lens-edge',
  'figure-height-unknown',
  'not-computable',
] as const satisfies readonly ReasonCode[]

/// Codes that every kind reading events can answer with.
export const EVENT_LIMITS = [
  'clip-missing',
  'event-missing',
  'across-clips',
  'event-reversed',
  'outside-clip',
  'outside-film',
  'bracket-wide',
  'markings-apart',
  'not-computable',
] as const satisfies readonly ReasonCode[]
