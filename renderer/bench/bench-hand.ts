import type { Side } from '../../app/body/landmark-name'
import type { Clip } from '../../app/project/film'
import type { Suggested } from './use-suggesting'

/// What the Bench has in hand, for its sheets.
export interface BenchHand {
  readonly clip: Clip | null
  readonly subject: string | null
  readonly frame: number
  readonly lead: Side | null
  /// Pixels that a blur is taken for while its length is not stated.
  readonly assumedBlur: number
  /// The measure whose curve is shown.
  readonly chosen: string | null
  /// What a model suggests on this frame, and nobody has accepted yet.
  readonly suggested: Suggested | null
  /// The event that is being marked a second time: what tells its first bracket is hidden.
  readonly blind: string | null
  setBlind(event: string | null): void
  choose(measure: string): void
  go(frame: number): void
  /// Begins a guided placing of these points.
  place(points: readonly string[]): void
  /// Follows the background, so that the camera's own motion is known.
  followHall(): void
  /// The stored points that a measure needs: lead and rear named by left and right, middles by both sides.
  placed(measure: { readonly points: readonly string[] }): string[]
}
