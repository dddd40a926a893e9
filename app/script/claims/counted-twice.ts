import { clipsShare, type SharedByFilm } from '../../project/shared-pictures'
import type { Breakdown } from '../../project/breakdown'
import { measuresIn } from '../../project/claim'
import type { FindingDraft } from './finding'
import type { StatedClaim } from './stated-claim'

/// Sentences whose count takes two clips for two cases though both seem to show the same pictures. The likeness is a guess,
/// so it holds no film back. Clips of one bout count once already.
export function countedTwice(claim: StatedClaim, breakdown: Breakdown, shared: SharedByFilm): FindingDraft[] {
  if (shared.size === 0) return []
  const { saying } = claim
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const counts = new Set([...saying.values, ...claim.evidence.flatMap(measuresIn)])
  return (breakdown.measures ?? []).flatMap((measure): FindingDraft[] => {
    if (measure.kind !== 'count' || !counts.has(measure.id)) return []
    const cases = [...new Set(measure.cases.map(({ clip }) => clip))].flatMap((id) => clips.get(id) ?? [])
    const pair = cases.flatMap((b, i) =>
      cases
        .slice(0, i)
        .filter((a) => !(a.bout && a.bout === b.bout) && clipsShare(a, b, shared, breakdown))
        .map((a) => [a, b] as const),
    )[0]
    if (!pair) return []
    const [a, b] = pair.map((clip) => clip.name ?? clip.id)
    return [
      {
        code: 'counted-twice',
        place: saying.place,
        paragraph: saying.paragraph,
        sentence: saying.shown,
        problem: `“${a}” and “${b}” look like the same pictures, and the count takes them for two`,
        wayOut: 'Give both clips the same bout, take one out of the count, or say on the shelf that they are not the same.',
        on: saying.on,
      },
    ]
  })
}
