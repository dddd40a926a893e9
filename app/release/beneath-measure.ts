import type { Breakdown } from '../project/breakdown'
import type { Release } from '../project/release'

/// What a measure of a version was built on, as ids (one level down): from the project, for versions that did not keep it.
export function beneathMeasure(measure: string, _release: Release, breakdown: Pick<Breakdown, 'measures'>): readonly string[] {
  const today = breakdown.measures?.find(({ id }) => id === measure)
  return today && 'measures' in today ? today.measures : []
}
