import type { z } from 'zod'

/// One call of the window to the engine.
export interface Call<I extends z.ZodType = z.ZodType, O extends z.ZodType = z.ZodType> {
  /// What it does and what it may be refused with, for the reference in docs/contract.md.
  readonly does: string
  /// Checked at the door: a call that does not fit is refused with `call-invalid`.
  readonly input: I
  readonly output: O
  /// `engine`: answered by the engine behind every door. `shell`: answered by the desktop shell;
  /// elsewhere refused with `desktop-only`.
  readonly by: 'engine' | 'shell'
}

export function call<I extends z.ZodType, O extends z.ZodType>(input: I, output: O, does: string): Call<I, O> {
  return { input, output, does, by: 'engine' }
}

export function shellCall<I extends z.ZodType, O extends z.ZodType>(input: I, output: O, does: string): Call<I, O> {
  return { input, output, does, by: 'shell' }
}
