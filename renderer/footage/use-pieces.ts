import { useEffect, useState } from 'react'
import type { Piece } from '../../app/contract/footage-calls'
import { engine } from '../state/engine'
import { usePart } from '../state/use-project'

interface Pieces {
  /// Null: nobody has looked.
  readonly pieces: readonly Piece[] | null
  readonly looking: boolean
  /// Why there are none.
  readonly refused: string | null
  readonly look: () => void
}

/// The pieces between a film's likely cuts, once they are asked for. A job that fails or is cancelled leaves them to be asked for
/// again.
export function usePieces(footage: string): Pieces {
  const jobs = usePart('jobs')
  const [pieces, setPieces] = useState<readonly Piece[] | null>(null)
  const [asked, setAsked] = useState<{ readonly job: string | null } | null>(null)
  const [refused, setRefused] = useState<string | null>(null)
  const ask = async (): Promise<void> => {
    setRefused(null)
    setAsked((now) => now ?? { job: null })
    const answer = await engine.call('footage.pieces', { footage })
    if (answer.ok && answer.value.state === 'ready') setPieces(answer.value.pieces)
    else if (!answer.ok) setRefused(answer.error.message)
    setAsked(answer.ok && answer.value.state === 'reading' ? { job: answer.value.job } : null)
  }
  const job = jobs.find(({ id }) => id === asked?.job)
  useEffect(() => {
    if (job?.state === 'done') void ask()
    else if (job?.state === 'failed' || job?.state === 'cancelled') {
      setAsked(null)
      setRefused(job.refusal?.message ?? null)
    }
  }, [job?.state])
  return { pieces, looking: asked !== null, refused, look: () => void ask() }
}
