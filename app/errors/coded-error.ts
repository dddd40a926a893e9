import { messages, type ErrorCode, type ErrorParameters } from './messages'

/// An error a person can act on: a code, typed parameters, and the message from the one table.
/// What the machine said (stderr, stack) travels as `cause` and stays in the log.
export class CodedError<C extends ErrorCode = ErrorCode> extends Error {
  override readonly name = 'CodedError'
  constructor(
    readonly code: C,
    readonly parameters: ErrorParameters[C],
    options?: { cause?: unknown },
  ) {
    super(messages[code](parameters), options)
  }
}
