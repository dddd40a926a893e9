import type { RecordDiff } from './edit'

/// Whether changes publish a version. A version that went out is out: what adds one is passed over by undo, and stands
/// alone, so that nothing else is passed over with it.
export const publishes = (diffs: readonly RecordDiff[]): boolean => diffs.some(({ table }) => table === 'releases')

/// Why changes of published versions may not be made; null when they may. A version is added by itself, and from then
/// on it stays as it is.
export function publishingProblem(
  diffs: readonly RecordDiff[],
  steps: readonly unknown[],
): { readonly place: string; readonly problem: string } | null {
  const frozen = diffs.find(({ table, change }) => table === 'releases' && change !== 'added')
  if (frozen) return { place: `releases ${frozen.key}`, problem: 'a version that went out stays as it is; put a correction beside it' }
  if (publishes(diffs) && (diffs.length > 1 || steps.length > 0))
    return { place: 'releases', problem: 'a version is published by itself, with no other change' }
  return null
}
