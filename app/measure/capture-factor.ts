import type { Clip } from '../project/film'
import { exact } from '../project/fields'
import { toNumber } from '../time/rational'
import type { MeasureContext } from './context'

/// A clip's capture factor as measures use it: k = file duration / real duration.
export interface CaptureFactor {
  readonly k: number
  /// 1 σ of k.
  readonly u: number
  /// What its error is constant over.
  readonly key: string
}

/// A factor known to no better than this is warned of.
export const UNCERTAIN_SHARE = 0.2

/// Null while the factor is unknown: times, speeds and rates are then refused.
export function captureFactor(_context: MeasureContext, clip: Clip): CaptureFactor | null {
  if (clip.capture === 'unknown') return null
  return { k: toNumber(exact(clip.capture.factor)), u: clip.capture.u, key: `capture:${clip.id}` }
}
