import { ok, refused, type Result } from '../result'
import type { MeasureOf } from './kind'

/// How near counts as similar: written down before the second value is measured.

/// 1.645: the one-sided 95 % point of the normal distribution (two one-sided tests).
export const ONE_SIDED = 1.6448536269514722

/// The smallest margin that this precision could ever show, at no observed difference at all:
/// 1.645·√(u1² + u2²). While the second value is not measured, its u is taken to be the first's.
export const leastMargin = (u1: number, u2: number = u1): number => ONE_SIDED * Math.hypot(u1, u2)

export type MarginRefusal = { readonly code: 'margin-too-small'; readonly least: number }
type Comparison = MeasureOf['comparison']

/// Writes down a margin. Refused below what the precision can show; a margin set or changed once the
/// second value is known is kept, marked so, with those that it replaced.
export function stateMargin(
  comparison: Comparison,
  delta: number,
  known: { readonly u1: number; readonly u2: number | null },
): Result<Comparison, MarginRefusal> {
  const least = leastMargin(known.u1, known.u2 ?? known.u1)
  if (delta < least) return refused({ code: 'margin-too-small', least })
  const old = comparison.margin
  const before = known.u2 === null
  if (!old || (before && old.before)) return ok({ ...comparison, margin: { delta, before } })
  if (old.delta === delta) return ok(comparison)
  return ok({ ...comparison, margin: { delta, before: false, earlier: [...(old.earlier ?? []), old.delta] } })
}
