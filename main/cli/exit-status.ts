import { CodedError } from '../../app/errors/coded-error'
import type { ErrorCode } from '../../app/errors/messages'

/// What a command's exit status means.
export const FINE = 0
/// The work was done, and there is something to look at.
export const FINDINGS = 1
/// Wrong use or bad input: nothing was written.
export const BAD_INPUT = 2
/// Something failed on the way.
export const FAILED = 3

const FAILURES: ReadonlySet<ErrorCode> = new Set<ErrorCode>([
  'ffmpeg-missing',
  'ffmpeg-failed',
  'disk-full',
  'cancelled',
  'render-check-failed',
])

export function exitStatusOf(error: unknown): number {
  if (!(error instanceof CodedError)) return FAILED
  if (error.code === 'held-back') return FINDINGS
  return FAILURES.has(error.code) ? FAILED : BAD_INPUT
}
