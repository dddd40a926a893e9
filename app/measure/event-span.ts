import type { Answer, Words } from './answer'
import type { MeasureContext } from './context'

/// A span from one event to another is told as what lies between them, with the one that came first where that is not the one asked
/// from. Its value keeps the sign, for what is reckoned from it.

/// "plant to contact", from the events' names; an event that is not there goes by its id.
export function eventWords(context: MeasureContext, from: string, to: string): Words {
  const what = `${eventName(context, from)} to ${eventName(context, to)}`
  return { what, short: what }
}

const eventName = (context: MeasureContext, id: string): string => context.event(id)?.name || id

/// Behind a span that runs the other way round: ", contact first".
export const cameFirst = (name: string): string => `, ${name} first`

/// Which event to name as the first: `to`, where all of the interval lies below zero. Null where `from` was first, and where
/// either may have been: the span then keeps its sign.
export const firstNamed = (context: MeasureContext, to: string, interval: NonNullable<Answer['interval']>): string | null =>
  interval[1] < 0 ? eventName(context, to) : null
