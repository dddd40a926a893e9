import { useState } from 'react'

/// What was sent to be kept is shown from then on; once it is answered, what is kept is shown, which is the same, or where it was
/// refused what stood before. An answer to what was sent earlier says nothing of what was sent last. `value`: what is kept.
/// `answered` resolves once it is kept or refused; where it is kept, `value` is it by then.
export function useSent<V>(value: V): readonly [shown: V, send: (value: V, answered: Promise<unknown>) => void] {
  const [sent, setSent] = useState<{ readonly value: V } | null>(null)
  const send = (next: V, answered: Promise<unknown>): void => {
    const own = { value: next }
    setSent(own)
    const done = (): void => setSent((now) => (now === own ? null : now))
    void answered.then(done, done)
  }
  return [sent ? sent.value : value, send]
}

/// The same of what is chosen with one press. All boxes and lists whose value the project keeps stand on it. `onSet` answers null
/// where there was nothing to set.
export function useChosen<V>(value: V, onSet: (value: V) => Promise<unknown> | null): readonly [shown: V, choose: (value: V) => void] {
  const [shown, send] = useSent(value)
  const choose = (next: V): void => {
    const answered = onSet(next)
    if (answered) send(next, answered)
  }
  return [shown, choose]
}
