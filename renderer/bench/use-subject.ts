import { useState } from 'react'
import type { Breakdown } from '../../app/project/breakdown'

/// Whose points were placed first on a clip; null: nobody's.
export const firstSubject = (breakdown: Breakdown, clip: string): string | null =>
  breakdown.landmarks?.find((l) => l.clip === clip)?.subject ?? null

/// Whose points are in hand on a clip: the person who was chosen, else whose points stand there, else the first one named.
export function useSubject(
  breakdown: Breakdown | null,
  clip: string,
): { readonly subject: string | null; readonly choose: (subject: string) => void } {
  const [own, choose] = useState<string | null>(null)
  const subjects = breakdown?.subjects ?? []
  const chosen = subjects.some(({ id }) => id === own) ? own : null
  return { subject: chosen ?? (breakdown && firstSubject(breakdown, clip)) ?? subjects[0]?.id ?? null, choose }
}
