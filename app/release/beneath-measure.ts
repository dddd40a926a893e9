import type { Breakdown } from '../project/breakdown'
import type { Release } from '../project/release'

/// What a measure of a version was built on, as ids (one level down). Versions that did not keep it are taken to have been
/// built as the project is now.
export function beneathMeasure(
  measure: string,
  release: Pick<Release, 'values'>,
  breakdown: Pick<Breakdown, 'measures'>,
): readonly string[] {
  const kept = release.values.find((value) => value.measure === measure)?.measures
  if (kept) return kept
  const today = breakdown.measures?.find(({ id }) => id === measure)
  return today && 'measures' in today ? today.measures : []
}

/// These measures and all that they were built on.
export function withBeneath(
  measures: readonly string[],
  release: Pick<Release, 'values'>,
  breakdown: Pick<Breakdown, 'measures'>,
): Set<string> {
  const all = new Set(measures)
  for (const id of all) for (const each of beneathMeasure(id, release, breakdown)) all.add(each)
  return all
}
