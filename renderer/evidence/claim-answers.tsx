import { useEffect, useState } from 'react'
import type { CallInput, CallName, CallOutput } from '../../app/contract/calls'
import { engine } from '../state/engine'
import { useShown } from '../state/use-project'

/// What the engine has answered to a call so far.
export interface Answered<T> {
  /// Null until the first answer, and while something else is asked for. Kept while the same is asked again, also in vain.
  readonly value: T | null
  /// Why the last asking was refused, in plain words; null once it is answered.
  readonly refused: string | null
  /// Asks once more.
  readonly again: () => void
}

/// What the engine answers to a call, asked again whenever it asks for something else or the project, its readings,
/// films or findings are others.
export function useAnswer<
  N extends Extract<CallName, 'claims.list' | 'references.list' | 'corrections.due' | 'uses.find' | 'release.kept' | 'release.notes'>,
>(name: N, input: CallInput<N>): Answered<CallOutput<N>> {
  const { state, readings, films, findings } = useShown()
  const version = state?.version
  const asked = JSON.stringify(input)
  const [answer, setAnswer] = useState<{ readonly to: string; readonly value: CallOutput<N> } | null>(null)
  const [refusal, setRefusal] = useState<{ readonly to: string; readonly message: string } | null>(null)
  const [times, setTimes] = useState(0)
  useEffect(() => {
    let stale = false
    void engine.call(name, JSON.parse(asked) as CallInput<N>).then((reply) => {
      if (stale) return
      if (reply.ok) setAnswer({ to: asked, value: reply.value })
      setRefusal(reply.ok ? null : { to: asked, message: reply.error.message })
    })
    return () => {
      stale = true
    }
  }, [name, asked, version, readings, films, findings, times])
  return {
    value: answer?.to === asked ? answer.value : null,
    refused: refusal?.to === asked ? refusal.message : null,
    again: () => setTimes((before) => before + 1),
  }
}

/// That something could not be asked, why, and the way to ask again; nothing where it was answered. `what`: what is not
/// shown, as the beginning of a sentence: "What the script claims".
export function NotAnswered({ what, of: { value, refused, again } }: { readonly what: string; readonly of: Answered<unknown> }) {
  if (refused === null) return null
  return (
    <p className="refusal" role="alert">
      {what} {value === null ? 'cannot be shown.' : 'is shown as it was last read; it could not be read again.'} {refused}{' '}
      <button type="button" onClick={again}>
        Ask again
      </button>
    </p>
  )
}
