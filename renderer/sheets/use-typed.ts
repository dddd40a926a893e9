import { useRef, useState } from 'react'
import { answered, setBy, shownIn, takenBack, typing, untouched, type Typed } from './typed'

interface Field {
  /// What is kept.
  readonly value: string
  /// Resolves once it is answered, kept or refused; where it is kept, `value` is it by then.
  readonly onSet: (value: string) => Promise<unknown>
  /// Null: it may stand; else why not.
  readonly judge?: ((value: string) => string | null) | undefined
  /// The text as it would be kept: without blanks around it, where nothing else is said.
  readonly clean?: (text: string) => string
  /// What is set is added elsewhere: `value` stays, and is shown at once.
  readonly adds?: boolean
}

/// A field's text. All fields whose value is set by Enter or as the hand leaves stand on it.
export function useTyped({ value, onSet, judge, clean = trimmed, adds = false }: Field) {
  const [typed, setTyped] = useState(untouched)
  // A hand that leaves by a key does two things before the field is drawn anew: the second stands on the first.
  const now = useRef(typed)
  const put = (next: Typed): void => {
    now.current = next
    setTyped(next)
  }
  const { draft } = typed
  const wrong = draft === null || clean(draft) === value ? null : (judge?.(clean(draft)) ?? null)
  return {
    text: shownIn(typed, value),
    /// Why what is typed may not stand; null: it may.
    wrong,
    write: (text: string): void => put(typing(now.current, text)),
    set: (): void => {
      const next = setBy(now.current, value, (text) => (judge?.(text) ?? null) === null, clean)
      const { turn } = next.typed
      put(adds ? answered(next.typed, turn) : next.typed)
      if (next.send === null) return
      const done = (): void => put(answered(now.current, turn))
      void onSet(next.send).then(done, done)
    },
    takeBack: (): void => put(takenBack(now.current)),
  }
}

const trimmed = (text: string): string => text.trim()
