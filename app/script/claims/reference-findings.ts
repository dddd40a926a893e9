import type { Breakdown } from '../../project/breakdown'
import { shortName } from '../reference-name'
import type { StatedClaim } from './stated-claim'
import type { AddFinding } from './strength-findings'

/// References that a sentence names: in its words, or as stated behind it; each once.
export const referencesOf = ({ saying, evidence }: StatedClaim): string[] => [
  ...new Set([...saying.cites, ...evidence.flatMap((each) => (each !== 'opinion' && 'reference' in each ? [each.reference] : []))]),
]

/// What of the references that a sentence leans on is not there: the reference itself, or in whom it was found and how far
/// it holds, without which nobody can tell whether the sentence says more than it.
export function referenceFindings(claim: StatedClaim, breakdown: Breakdown, add: AddFinding): void {
  for (const id of referencesOf(claim)) {
    const reference = breakdown.references?.find((each) => each.id === id)
    if (!reference) {
      add(
        'reference-gone',
        `it cites the reference ${id}, which is not there`,
        'Cite another reference in its place, or take the cite out of the words or away from what the sentence rests on.',
      )
      continue
    }
    const blank = [isBlank(reference.population) ? 'in whom it was found' : '', isBlank(reference.limits) ? 'how far it holds' : ''].filter(
      Boolean,
    )
    if (blank.length > 0)
      add(
        'reference-blank',
        `it leans on ${shortName(reference)}, of which it is not noted ${blank.join(' and ')}`,
        'Note it under References, and say no more than both allow.',
      )
  }
}

const isBlank = (text: string | undefined): boolean => text === undefined || text.trim() === ''
