import type { Claim } from '../../project/claim'
import { classesInWords } from './class-words'
import type { FindingDraft } from './finding'
import type { StatedClaims } from './stated-claim'

/// Claims whose words are gone while words that nobody stated stand where they stood: most likely a sentence was typed
/// over as a whole. What it was stated as is not carried over, for the new words may claim less, or more; it is said. Where
/// one such sentence stands there, the finding is on it; where several do, on their paragraph. A claim whose place is
/// gone, or says nothing unstated, has none.
export function goneClaimFindings({ claims, lost }: StatedClaims): FindingDraft[] {
  return lost.flatMap((claim): FindingDraft[] => {
    const unstated = claims.filter(
      ({ saying, records }) => records.length === 0 && saying.on.part === claim.on.part && saying.on.paragraph === claim.on.paragraph,
    )
    const [first, ...more] = unstated
    if (!first) return []
    const { place, paragraph, shown, on } = first.saying
    const at = more.length === 0 ? { sentence: shown, on } : { sentence: '', on: null }
    return [
      {
        code: 'claim-gone',
        place,
        paragraph,
        ...at,
        problem: wording(claim, more.length > 0),
        wayOut: 'State the sentence that stands there now, give it what the old one had, or let the old claim go.',
      },
    ]
  })
}

function wording({ on, classes, state, evidence }: Claim, several: boolean): string {
  const words = on.words.length > 160 ? `${on.words.slice(0, 159)}…` : on.words
  const what = `${state === 'confirmed' ? 'was confirmed as' : 'was stated as'} ${classesInWords(classes)}${evidence && evidence.length > 0 ? ', with what it rests on' : ''}`
  return `“${words}” ${what}; ${several ? 'these words are gone from the paragraph' : 'other words stand in its place'}, and nothing of that stands for them`
}
