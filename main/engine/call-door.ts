import { calls, isCallName, type CallName, type Handlers } from '../../app/contract/calls'
import { refusalOf, type Refusal, type Reply } from '../../app/contract/refusal'
import { CodedError } from '../../app/errors/coded-error'
import { JSON_LIMIT_BYTES, readBody } from './read-body'

export interface CallDoorOptions {
  readonly handlers: Handlers<CallName>
  /// Writes down what happened unexpectedly; answers the trace id under which the log has it.
  readonly onFault: (error: unknown, call: string) => string
  /// Checks every answer against the contract as well, for tests.
  readonly checked: boolean
}

/// Answers a call: checks what was asked, hands it to its handler, and puts the answer into JSON. An
/// expected refusal is an answer with status 200; only misuse of the door has another.
export async function answerCall(name: string, request: Request, { handlers, onFault, checked }: CallDoorOptions): Promise<Response> {
  if (!isCallName(name)) return reply(404, { ok: false, error: refusalOf(new CodedError('call-unknown', { call: name.slice(0, 80) })) })
  // A form of a foreign page can send text, but not JSON under its own name.
  if (!/^application\/json(\s*;|$)/i.test(request.headers.get('content-type') ?? ''))
    return reply(415, { ok: false, error: refusalOf(new CodedError('not-allowed', { problem: 'a call is JSON' })) })
  let asked: unknown
  try {
    asked = JSON.parse((await readBody(request, JSON_LIMIT_BYTES, name)).toString('utf8'))
  } catch (error) {
    if (error instanceof CodedError) return reply(413, { ok: false, error: refusalOf(error) })
    if (error instanceof SyntaxError)
      return reply(400, {
        ok: false,
        error: refusalOf(new CodedError('call-invalid', { call: name, problems: [{ place: 'body', problem: 'is not JSON' }] })),
      })
    throw error
  }
  const parsed = calls[name].input.safeParse(asked)
  if (!parsed.success) {
    const problems = parsed.error.issues.slice(0, 20).map((issue) => ({ place: issue.path.join('.') || 'input', problem: issue.message }))
    return reply(400, { ok: false, error: refusalOf(new CodedError('call-invalid', { call: name, problems })) })
  }
  try {
    const handler = handlers[name] as (asked: unknown) => unknown
    const value = await handler(parsed.data)
    return reply(200, { ok: true, value: checked ? calls[name].output.parse(value) : value })
  } catch (error) {
    return refusedReply(error, (fault) => onFault(fault, name))
  }
}

/// A coded error as a refusal with status 200 (or `status`); anything else as an unexpected one, 500.
export function refusedReply(error: unknown, onFault: (error: unknown) => string, status = 200): Response {
  if (error instanceof CodedError) return reply(status, { ok: false, error: refusalOf(error) })
  const trace = onFault(error)
  const refusal: Refusal = refusalOf(new CodedError('unexpected', { trace }), trace)
  return reply(500, { ok: false, error: refusal })
}

export function reply(status: number, body: Reply<unknown>): Response {
  return new Response(JSON.stringify(body), { status, headers: { 'content-type': 'application/json', 'cache-control': 'no-store' } })
}
