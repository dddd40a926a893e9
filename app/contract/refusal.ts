import { z } from 'zod'
import { CodedError } from '../errors/coded-error'
import { messages, type ErrorCode, type ErrorParameters } from '../errors/messages'
import type { Result } from '../result'

/// A code of the one table of messages.
export const RefusalCode = z.enum(Object.keys(messages) as [ErrorCode, ...ErrorCode[]])

/// What a call was refused with, as it travels: the code to act on, the message to show, the
/// parameters that the message was made from. `trace` is there only when something unexpected
/// happened: the engine's log tells more under it.
export const Refusal = z.strictObject({
  code: RefusalCode,
  message: z.string(),
  parameters: z.record(z.string(), z.unknown()),
  trace: z.string().optional(),
})
export type Refusal = z.infer<typeof Refusal>

/// Every answer of a call: its value, or what it was refused with.
export type Reply<T> = Result<T, Refusal>

/// A coded error as it travels. Its cause and stack stay behind.
export function refusalOf(error: CodedError, trace?: string): Refusal {
  const refusal: Refusal = { code: error.code, message: error.message, parameters: { ...error.parameters } }
  return trace === undefined ? refusal : { ...refusal, trace }
}

/// A refusal from the one table of messages.
export function refusalWith<C extends ErrorCode>(code: C, parameters: ErrorParameters[C]): Refusal {
  return refusalOf(new CodedError(code, parameters))
}

/// Reads an answer from the wire. Whatever is no answer of ours reads as `engine-gone`: something
/// else speaks at that address.
export function readReply(value: unknown): Reply<unknown> {
  const answer = Answer.safeParse(value)
  if (!answer.success) return { ok: false, error: refusalWith('engine-gone', {}) }
  return answer.data.ok ? { ok: true, value: answer.data.value } : { ok: false, error: answer.data.error }
}

const Answer = z.discriminatedUnion('ok', [
  z.strictObject({ ok: z.literal(true), value: z.unknown() }),
  z.strictObject({ ok: z.literal(false), error: Refusal }),
])
