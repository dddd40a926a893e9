import type { Shape } from './shape'

/// Shapes that stand still from output frame `from` (included) to `to` (excluded) of a shot or film.
/// In a list, later spans lie over earlier ones.
export interface Span {
  readonly from: number
  readonly to: number
  readonly shapes: readonly Shape[]
}

/// The spans of frames [from, to), counted from `from`.
export function cutSpans(spans: readonly Span[], from: number, to: number): Span[] {
  return spans.flatMap((span) => {
    const start = Math.max(span.from, from)
    const end = Math.min(span.to, to)
    return start < end ? [{ ...span, from: start - from, to: end - from }] : []
  })
}
