import { useState } from 'react'

/// What is chosen with one press where an answer decides whether it is kept: shown from the press on; once it is answered, what is
/// kept is shown, which is the same, or where it was refused what stood before. An answer to an earlier choice says nothing of the
/// last one. All boxes and lists whose value the project keeps stand on it. `value`: what is kept. `onSet` resolves once it is
/// answered; where it is kept, `value` is it by then. Null: there was nothing to set.
export function useChosen<V>(value: V, onSet: (value: V) => Promise<unknown> | null): readonly [shown: V, choose: (value: V) => void] {
  const [sent, setSent] = useState<{ readonly value: V } | null>(null)
  const choose = (next: V): void => {
    const answered = onSet(next)
    if (answered === null) return
    const choice = { value: next }
    setSent(choice)
    const done = (): void => setSent((now) => (now === choice ? null : now))
    void answered.then(done, done)
  }
  return [sent ? sent.value : value, choose]
}
