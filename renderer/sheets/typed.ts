/// What stands in a field while a hand types in it and what it set is on its way: a value that arrives never takes the place of
/// what was typed since, and what was refused stands no longer than its answer takes.

export interface Typed {
  /// What is typed and not set yet; null: nothing since it was set last, or taken back.
  readonly draft: string | null
  /// What was set last, until it is answered; null: nothing is on its way.
  readonly sent: string | null
  /// Counts what was set: an answer to what was set earlier says nothing of what was set last.
  readonly turn: number
}

export const untouched: Typed = { draft: null, sent: null, turn: 0 }

/// What the field shows; `value`: what is kept.
export const shownIn = ({ draft, sent }: Typed, value: string): string => draft ?? sent ?? value

/// `text` stands in the field, not set yet.
export const typing = (typed: Typed, text: string): Typed => ({ ...typed, draft: text })

/// What is typed is taken back: to what is kept, or will be once it is answered.
export const takenBack = (typed: Typed): Typed => ({ ...typed, draft: null })

/// What is typed is set, by Enter or as the hand leaves. `send`: what is to be kept; null where that is kept or on its way
/// already, and where `mayStand` says no: then it is taken back. `clean`: the text as it would be kept.
export function setBy(
  typed: Typed,
  value: string,
  mayStand: (text: string) => boolean,
  clean: (text: string) => string,
): { readonly typed: Typed; readonly send: string | null } {
  const { draft, sent, turn } = typed
  if (draft === null) return { typed, send: null }
  const text = clean(draft)
  if (text === clean(sent ?? value) || !mayStand(text)) return { typed: takenBack(typed), send: null }
  return { typed: { draft: null, sent: draft, turn: turn + 1 }, send: text }
}

/// What was set at `turn` is answered: kept or refused, the field shows what is kept, or what was typed since.
export const answered = (typed: Typed, turn: number): Typed => (typed.turn === turn ? { ...typed, sent: null } : typed)
