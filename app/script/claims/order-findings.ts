import type { Breakdown } from '../../project/breakdown'
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

/// A sentence that names the order of two things the other way round than it was measured. Only where its words name both (or
/// one, "first"), where what it rests on is resolved, and where nothing else that it rests on could be what is meant.
export function orderFindings(claim: StatedClaim, breakdown: Breakdown, readings: Readings, add: AddFinding): void {
  if (claim.classes.includes('K') || claim.classes.includes('M')) return
  const orders = measuredOrders(claim, breakdown, readings)
  if (!orders.some(({ first }) => first !== null)) return
  const text = claim.saying.bare.replaceAll(VALUE, ' ')
  if (text.includes('?') || isSupposed(statementsOf(text).flatMap(rememberedWords))) return
  const whole = rememberedWords(text)
  const near = orders.filter(({ clip }) => maySpeakOf(clip, whole, breakdown))
  for (const clause of statementsOf(text)) {
    const turned = turnedIn(clause, near)
    if (!turned) continue
    const { names, first, by, word } = turned
    const [early, late] = first === 0 ? names : [names[1], names[0]]
    add('order-reversed', `“${word}” puts ${late} before ${early}, and by what was measured ${early} came first${by}`, 'Turn the words round, or look at both events again.')
    return
  }
}

/// The order that a clause has the wrong way round; null where it has none so, or one that it might mean the right way round.
function turnedIn(clause: string, orders: readonly MeasuredOrder[]): (MeasuredOrder & { readonly word: string }) | null {
  const words = rememberedWords(clause)
  const meant = orders.flatMap((order) => {
    const things = namedApart(...order.names)
    const said = things && saidOrder(words, things)
    return said ? [{ ...order, word: said.word, turned: order.first === null ? null : order.first !== said.first }] : []
  })
  const turned = meant.filter((each) => each.turned === true)
  const others = meant.filter((each) => each.turned !== true && !turned.some(({ pair }) => pair === each.pair && each.turned === null))
  return others.length > 0 ? null : (turned.find(({ by }) => by.includes('±')) ?? turned.find(({ by }) => by !== '') ?? turned[0] ?? null)
}
