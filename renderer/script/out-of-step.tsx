import type { Thread } from '../../app/programme/threads'
import { usePart } from '../state/use-project'
import { outOfStep } from './cue-look'

/// Below a row's words: a line for each tied word that is not in step with its picture. Nothing where all are.
export function OutOfStep({ threads, paragraph }: { readonly threads: readonly Thread[]; readonly paragraph: string }) {
  const breakdown = usePart('breakdown')
  const lines = breakdown ? outOfStep(breakdown, threads, paragraph) : []
  if (lines.length === 0) return null
  return (
    <ul className="out-of-step plain" aria-label="Words out of step with their pictures">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  )
}
