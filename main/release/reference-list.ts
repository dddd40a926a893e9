import type { Breakdown } from '../../app/project/breakdown'
import type { ReportedReference } from '../../app/release/reported-reference'
import { referenceTexts } from '../references/reference-text'

/// The references of a film in the order of the project, as they are printed.
export function referenceList(breakdown: Breakdown): ReportedReference[] {
  const texts = new Map(referenceTexts(breakdown.references ?? []).map((printed) => [printed.id, printed]))
  return (breakdown.references ?? []).map((reference) => ({
    id: reference.id,
    text: texts.get(reference.id)?.text ?? reference.id,
    runs: texts.get(reference.id)?.runs ?? [{ text: reference.id, as: [] }],
    finding: reference.finding ?? '',
    population: reference.population ?? '',
    limits: reference.limits ?? '',
    setting: reference.setting ?? [],
  }))
}
