import type { Breakdown } from '../../project/breakdown'
import { measuresIn, type ClaimClass } from '../../project/claim'
import type { Measure } from '../../project/question'
import type { Readings } from '../spoken-form'
import { orderOf } from './measured-order'
import { measuredThings, namedIn } from './measured-things'
import { namedThing, type NamedThing } from './named-thing'
import { opennessOf } from './openness'
import type { StatedClaim } from './stated-claim'
import { comparedAs, ORDERING, wordIn } from './word-lists'

/// What a sentence states though it leaves something open: the words of its clauses that do so, or null where it is left open.

/// Words that put events in order, of a measure whose order is not resolved.
export function orderStated(claim: StatedClaim, id: string, breakdown: Breakdown, readings: Readings): string | null {
  const used = usedBy(claim, breakdown)
  const orders = used.map((measure) => ({ measure, order: orderOf(measure, readings.get(measure.id), breakdown) }))
  const firmer = orders
    .filter(({ order }) => order !== null && order.first !== null)
    .map(({ measure }) => measuredThings(measure, breakdown))
  const asked = used.find((measure) => measure.id === id)
  return statedAnyway(
    claim.saying.bare,
    asked ? measuredThings(asked, breakdown) : [],
    speaksOfOrder(claim),
    firmer,
    orders.filter(({ order }) => order?.first === null).length,
  )
}

/// The same, of events whose brackets overlap.
export const eventsStated = (claim: StatedClaim, names: readonly string[]): string | null =>
  statedAnyway(
    claim.saying.bare,
    names.flatMap((name) => namedThing(name) ?? []),
    speaksOfOrder(claim),
    [],
    1,
  )

/// Words that compare, of a comparison that cannot tell its two apart.
export function comparisonStated(claim: StatedClaim, asked: Measure, breakdown: Breakdown, readings: Readings): string | null {
  const compared = usedBy(claim, breakdown).filter(({ kind }) => kind === 'comparison')
  const open = compared.filter(({ id }) => readings.get(id)?.reasons.includes('cannot-tell'))
  const firmer = compared.filter((measure) => !open.includes(measure)).map((measure) => measuredThings(measure, breakdown))
  return statedAnyway(
    claim.saying.bare,
    measuredThings(asked, breakdown),
    (clause) => comparedAs(clause) !== null || speaksFor(claim, 'E', clause),
    firmer,
    open.length,
  )
}

/// Whether a sentence leaves open what a refused measure would have told: not where a clause that states something names what it
/// is of, and none that leaves something open does so as well.
export function isRefusalLeftOpen(text: string, measure: Measure | undefined, breakdown: Breakdown): boolean {
  const { firm, open } = opennessOf(text)
  const things = measure ? measuredThings(measure, breakdown) : []
  return open.length > 0 && mostNamed(firm, things) <= mostNamed(open, things)
}

/// The clauses that state it, as one text. `speaks`: whether a clause says such a thing at all. `firmer`: things of other readings
/// behind the sentence that do bear it, so that a clause which names those as well may rest on them. `alike`: how many readings
/// behind it bear as little; as many clauses of another case may leave it open ("in the second it is unclear").
function statedAnyway(
  text: string,
  things: readonly NamedThing[],
  speaks: (clause: string) => boolean,
  firmer: readonly (readonly NamedThing[])[],
  alike: number,
): string | null {
  const { firm, open, elsewhere } = opennessOf(text)
  if (open.length === 0) return text
  const says = firm.filter(speaks)
  if (says.length === 0 || (elsewhere.length > 0 && alike <= elsewhere.length)) return null
  const named = mostNamed(says, things)
  return mostNamed(open, things) > named || firmer.some((others) => mostNamed(says, others) >= named) ? null : says.join(' ')
}

const mostNamed = (clauses: readonly string[], things: readonly NamedThing[]): number =>
  Math.max(0, ...clauses.map((clause) => namedIn(clause, things)))

const speaksOfOrder =
  (claim: StatedClaim) =>
  (clause: string): boolean =>
    wordIn(clause, ORDERING) !== null || speaksFor(claim, 'C', clause)

const speaksFor = ({ because }: StatedClaim, letter: ClaimClass, clause: string): boolean => {
  const words = because.get(letter)
  return words !== undefined && wordIn(clause, [words.replace(/[.*+?^${}()|[\]\\]/gu, '\\$&')]) !== null
}

function usedBy(claim: StatedClaim, breakdown: Breakdown): readonly Measure[] {
  const ids = new Set([...claim.saying.values, ...claim.evidence.flatMap(measuresIn)])
  return (breakdown.measures ?? []).filter(({ id }) => ids.has(id))
}
