import { wrapped } from '../geometry/angle'
import type { Measure } from '../project/question'
import type { Answer } from './answer'
import { bracketU, frameBracket } from './bracket'
import type { MeasureContext } from './context'
import type { ReasonCode } from './reason'

/// A value that stands for an event changes while the event's bracket lasts:
/// u_event = |change a frame|·(bracket in frames)/√12 (a uniform distribution's σ).

/// How many frames away a placing may lie to tell the change.
const REACH = 3

type Ask = (measure: Measure, context: MeasureContext) => Answer

/// Adds the event's part to an answer on a frame that names its event.
export function withEvent(measure: Measure, answer: Answer, context: MeasureContext, ask: Ask): Answer {
  if (!('event' in measure) || measure.event === undefined || answer.value === null) return answer
  const event = context.event(measure.event)
  const refuse = (code: ReasonCode): Answer => ({ ...answer, value: null, effects: [], reasons: [code, ...answer.reasons] })
  if (!event) return refuse('event-missing')
  if (event.clip !== measure.clip) return refuse('across-clips')
  if (event.earliest > event.latest) return refuse('event-reversed')
  const reasons: ReasonCode[] = [...answer.reasons]
  if (measure.frame < event.earliest || measure.frame > event.latest) reasons.push('event-elsewhere')
  const near = (way: 1 | -1): { frame: number; value: number } | null => {
    for (let step = 1; step <= REACH; step++) {
      const other = ask({ ...measure, frame: measure.frame + way * step }, context)
      if (other.value !== null) return { frame: measure.frame + way * step, value: other.value }
    }
    return null
  }
  const [before, after] = [near(-1), near(1)]
  const here = { frame: measure.frame, value: answer.value }
  const slope = (a: typeof here, b: typeof here): number =>
    (answer.unit === '°' ? wrapped(b.value - a.value) : b.value - a.value) / (b.frame - a.frame)
  const slopes = [...(before ? [slope(before, here)] : []), ...(after ? [slope(here, after)] : [])]
  if (slopes.length === 0) return { ...answer, reasons: [...reasons, 'event-motion-unknown'] }
  const steepest = Math.max(...slopes.map(Math.abs))
  const shift = steepest * bracketU(frameBracket(event))
  const widened =
    answer.interval &&
    ([
      answer.value - Math.hypot(answer.value - answer.interval[0], 1.96 * shift),
      answer.value + Math.hypot(answer.interval[1] - answer.value, 1.96 * shift),
    ] as const)
  const u = answer.u
  return {
    ...answer,
    reasons,
    effects: [...answer.effects, { key: `event:${event.id}`, part: 'event', shift: [shift] }],
    ...(widened ? { interval: widened } : {}),
    ...(u === undefined ? {} : { u: Math.hypot(u, shift) }),
  }
}
