import { useEffect, useState } from 'react'
import type { CallInput, CallName, CallOutput } from '../../app/contract/calls'
import { engine } from '../state/engine'
import { useShown } from '../state/use-project'

/// What the engine answers to a call, asked again whenever it asks for something else or the project, its readings,
/// films or findings are others. Null until the first answer, and while it asks for something else.
export function useAnswer<N extends Extract<CallName, 'claims.list' | 'references.list' | 'corrections.due' | 'uses.find' | 'release.kept' | 'release.notes'>>(name: N, input: CallInput<N>): CallOutput<N> | null {
  const { state, readings, films, findings } = useShown()
  const version = state?.version
  const asked = JSON.stringify(input)
  const [answer, setAnswer] = useState<{ readonly to: string; readonly value: CallOutput<N> } | null>(null)
  useEffect(() => {
    let stale = false
    void engine.call(name, JSON.parse(asked) as CallInput<N>).then((reply) => {
      if (!stale && reply.ok) setAnswer({ to: asked, value: reply.value })
    })
    return () => {
      stale = true
    }
  }, [name, asked, version, readings, films, findings])
  return answer?.to === asked ? answer.value : null
}
