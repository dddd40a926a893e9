import type { Breakdown } from '../project/breakdown'
import { sayingsOf, type Saying } from '../script/claims/saying'
import { statedClaims } from '../script/claims/stated-claim'
import type { Readings } from '../script/spoken-form'

/// One use of a value, an event or a reference in the film as it stands.
export interface Use {
  readonly as: 'sentence' | 'caption' | 'take' | 'label' | 'evidence' | 'measure'
  /// As the document has it.
  readonly place: string
  readonly paragraph: string
  readonly words: string
}

/// Where a measure's value is used: sentences (each is a caption too), the takes that speak them, labels on
/// the picture, evidence of other sentences, measures that build on it.
export function usesOfMeasure(id: string, breakdown: Breakdown, readings: Readings): Use[] {
  const uses: Use[] = []
  for (const saying of sayingsOf(breakdown, readings)) if (saying.values.includes(id)) uses.push(...spoken(saying, breakdown))
  breakdown.script.forEach((row, i) => {
    if (!('text' in row)) return
    row.shots?.forEach((shot, j) => {
      if ('card' in shot && shot.card === 'curve' && shot.measure === id) uses.push({ as: 'label', place: `script[${i}].shots[${j}]`, paragraph: row.id, words: 'its curve, on a card' })
      for (const mark of 'marks' in shot ? (shot.marks ?? []) : [])
        if (mark === id || (typeof mark === 'object' && 'plate' in mark && mark.plate === id)) uses.push({ as: 'label', place: `script[${i}].shots[${j}]`, paragraph: row.id, words: readings.get(id)?.plate.value ?? '' })
    })
  })
  for (const { saying, evidence } of statedClaims(breakdown, readings).claims) {
    const named = evidence.some((each) => each !== 'opinion' && (('reading' in each && each.reading === id) || ('readings' in each && each.readings.includes(id)) || ('count' in each && each.count === id)))
    if (named) uses.push({ as: 'evidence', place: saying.place, paragraph: saying.paragraph, words: saying.shown })
  }
  breakdown.measures?.forEach((measure, i) => {
    if ('measures' in measure && (measure.measures as readonly string[]).includes(id)) uses.push({ as: 'measure', place: `measures[${i}]`, paragraph: '', words: measure.label ?? measure.id })
  })
  return uses
}

/// Where a reference is cited: sentences with a cite of it, and claims that rest on it.
export function usesOfReference(id: string, breakdown: Breakdown, readings: Readings): Use[] {
  return statedClaims(breakdown, readings).claims.flatMap(({ saying, evidence }): Use[] => {
    if (saying.cites.includes(id)) return [{ as: 'sentence', place: saying.place, paragraph: saying.paragraph, words: saying.shown }]
    const named = evidence.some((each) => each !== 'opinion' && 'reference' in each && each.reference === id)
    return named ? [{ as: 'evidence', place: saying.place, paragraph: saying.paragraph, words: saying.shown }] : []
  })
}

function spoken(saying: Saying, breakdown: Breakdown): Use[] {
  const at = { place: saying.place, paragraph: saying.paragraph, words: saying.shown }
  const row = breakdown.script.find((each) => 'text' in each && each.id === saying.paragraph)
  const take = row && 'text' in row ? row.take : undefined
  return [{ as: 'sentence', ...at }, { as: 'caption', ...at }, ...(take === undefined ? [] : [{ as: 'take' as const, ...at, place: take }])]
}
