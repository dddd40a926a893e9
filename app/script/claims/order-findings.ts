import type { Breakdown } from '../../project/breakdown'
import type { ClaimClass } from '../../project/claim'
import type { Readings } from '../spoken-form'
import { measuredOrders, type MeasuredOrder } from './measured-order'
import { namedApart } from './named-thing'
import { statementsOf } from './openness'
import { rememberedWords } from './remembered-words'
import { isSupposed, saidOrder } from './said-order'
import { VALUE } from './saying'
import { maySpeakOf } from './speaks-of'
import type { StatedClaim } from './stated-claim'
import type { AddFinding } from './strength-findings'

/// Whether a sentence advises, speaks of an earlier film, or of this film alone and nothing of class `letter`.
export const isOfNoCase = ({ classes }: StatedClaim, letter: ClaimClass): boolean =>
  classes.includes('K') || classes.includes('M') || (classes.includes('L') && !classes.includes(letter))

/// A sentence that names the order of two things the other way round than it was measured. Only where its words name both (or
/// one, "first"), where what it rests on is resolved, and where nothing else that it rests on could be what is meant.
export function orderFindings(claim: StatedClaim, breakdown: Breakdown, readings: Readings, add: AddFinding): void {
  if (isOfNoCase(claim, 'C')) return
  const orders = measuredOrders(claim, breakdown, readings)
  if (!orders.some(({ first }) => first !== null)) return
  const text = claim.saying.bare.replaceAll(VALUE, ' ')
  const statements = statementsOf(text)
  const whole = statements.flatMap(rememberedWords)
  if (text.includes('?') || isSupposed(whole)) return
  const near = orders.filter(({ clip }) => maySpeakOf(clip, whole, breakdown))
  for (const clause of statements) {
    const turned = turnedIn(clause, near, statements.length === 1 && new Set(orders.map(({ pair }) => pair)).size === 1)
    if (!turned) continue
    const { names, first, by, word } = turned
    const [early, late] = first === 0 ? names : [names[1], names[0]]
    add(
      'order-reversed',
      `“${word}” puts ${late} before ${early}, and by what was measured ${early} came first${by}`,
      'Turn the words round, or look at both events again.',
    )
    return
  }
}

/// The order that a clause has the wrong way round; null where it has none so, or one that it might mean the right way round. `isAllThereIs`: it
/// is all that the sentence states, and two things all that it rests on, so that "first" of one of them says it of both.
function turnedIn(
  clause: string,
  orders: readonly MeasuredOrder[],
  isAllThereIs: boolean,
): (MeasuredOrder & { readonly word: string }) | null {
  const words = rememberedWords(clause)
  const meant = orders.flatMap((order) => {
    const things = namedApart(...order.names)
    const said = things && saidOrder(words, things)
    return said && (!said.alone || isAllThereIs)
      ? [{ ...order, word: said.word, turned: order.first === null ? null : order.first !== said.first }]
      : []
  })
  const turned = meant.filter((each) => each.turned === true)
  const others = meant.filter((each) => each.turned !== true && !turned.some(({ pair }) => pair === each.pair && each.turned === null))
  return others.length > 0 ? null : (turned.find(({ by }) => by.includes('±')) ?? turned.find(({ by }) => by !== '') ?? turned[0] ?? null)
}
