import type { Shape } from './shape'

/// Shapes that stand still from output frame `from` (included) to `to` (excluded) of a shot or film.
/// In a list, later spans lie over earlier ones.
export interface Span {
  readonly from: number
  readonly to: number
  readonly shapes: readonly Shape[]
}
