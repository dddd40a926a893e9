/// The answer of a verb that may be refused in the ordinary course of work.
/// A refusal is a value; only wrong use throws.
export type Result<T, E> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: E }

export function ok<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value }
}

export function refused<E>(error: E): { readonly ok: false; readonly error: E } {
  return { ok: false, error }
}
