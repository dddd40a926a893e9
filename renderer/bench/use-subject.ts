import { useEffect, useMemo, useState } from 'react'
import type { Breakdown } from '../../app/project/breakdown'
import { goTo, placeNow } from '../state/place'
import { isOnClip, subjectInHand } from './subject-in-hand'

/// Whose points are in hand on a clip that was opened on `frame`: the person who was chosen, else who comes in hand there, else the
/// first one named.
export function useSubject(
  breakdown: Breakdown | null,
  clip: string,
  frame: number,
): { readonly subject: string | null; readonly choose: (subject: string) => void } {
  const [own, choose] = useState<string | null>(null)
  // Nobody else comes in hand by a step to another frame.
  const [opened] = useState(() => ({ frame, last: placeNow().subject }))
  const subjects = breakdown?.subjects ?? []
  const chosen = subjects.some(({ id }) => id === own) ? own : null
  const found = useMemo(() => breakdown && subjectInHand(breakdown, clip, opened.frame, opened.last), [breakdown, clip, opened])
  const subject = chosen ?? found ?? subjects[0]?.id ?? null
  // Who stands there only for want of another was not taken in hand.
  const isInHand = subject !== null && (chosen !== null || (breakdown !== null && isOnClip(breakdown, clip, subject)))
  useEffect(() => {
    if (isInHand) goTo({ subject })
  }, [isInHand, subject])
  return { subject, choose }
}
