import { useEffect, useState } from 'react'
import type { CallName, CallOutput } from '../../app/contract/calls'
import { engine } from '../state/engine'
import { useShown } from '../state/use-project'

/// What the engine answers to a call that takes nothing, asked again whenever the project, its readings or
/// findings are others. Null until the first answer.
export function useAnswer<N extends Extract<CallName, 'claims.list' | 'references.list'>>(name: N): CallOutput<N> | null {
  const { state, readings, findings } = useShown()
  const version = state?.version
  const [answer, setAnswer] = useState<CallOutput<N> | null>(null)
  useEffect(() => {
    let stale = false
    void engine.call(name, {} as never).then((reply) => {
      if (!stale && reply.ok) setAnswer(reply.value as CallOutput<N>)
    })
    return () => {
      stale = true
    }
  }, [name, version, readings, findings])
  return answer
}
