import type { Effect } from './effect'
import type { Reading } from './reading'
import type { ReasonCode } from './reason'

/// What a kind of measure answers before it is worded: the value with its sources of error.
export interface Answer {
  /// In `unit`; null when refused.
  readonly value: number | null
  readonly effects: readonly Effect[]
  /// The 95 % interval, where it is not value ± 1.96 u.
  readonly interval?: readonly [low: number, high: number]
  /// 1 σ, where the effects are not the whole of it (bounded and sampled kinds).
  readonly u?: number
  readonly unit: string
  readonly plane: Reading['plane']
  readonly reasons: readonly ReasonCode[]
  /// The value's possible ends: an interval never leaves them (an interior angle: 0–180).
  readonly bounds?: readonly [least: number, most: number]
  readonly words: Words
  /// Of a kind that low-passes by itself: its value at a cut-off 30 % lower, and its own cut-off, Hz.
  readonly lower?: { readonly value: number; readonly cutoff_hz: number }
}

/// How a reading of this kind is worded.
export interface Words {
  /// What is measured, in front of the value: "apparent rear knee angle, image plane".
  readonly what: string
  /// The shorter name in a refusal: "rear knee angle".
  readonly short: string
  /// The kind's own wording of its value, where "value ± U unit" does not say it; `plate` stands
  /// alone large, `spoken` is said.
  readonly own?: { readonly plate: string; readonly spoken: string }
  /// How a range is qualified: "estimate, side camera".
  readonly range?: string
}

/// A refusal with its reasons.
export const noAnswer = (unit: string, plane: Reading['plane'], words: Words, reasons: readonly ReasonCode[]): Answer => ({
  value: null,
  effects: [],
  unit,
  plane,
  reasons,
  words,
})
