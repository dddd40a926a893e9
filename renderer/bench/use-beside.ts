import { useCallback, useMemo, useState } from 'react'
import type { MeasureContext } from '../../app/measure/context'
import type { Clip } from '../../app/project/film'
import { frameBeside, locksOf, offsetHolding } from './beside'

/// The clip beside the one on the Bench: which, locked on which event, and how far it was stepped alone.
export function useBeside(clip: Clip, frame: number, measures: MeasureContext | null) {
  const [chosen, setChosen] = useState<string | null>(null)
  const [by, setBy] = useState(0)
  const [event, setEvent] = useState<string | null>(null)
  const locks = useMemo(() => (measures ? locksOf(clip, measures, event) : []), [measures, clip, event])
  const lock = locks.find((each) => each.clip.id === chosen) ?? null
  const there = lock ? frameBeside(lock, frame, by) : null
  return {
    lock,
    there,
    by,
    /// The next clip that shares an event; after the last none. Answers whether there is any.
    next(): boolean {
      const next = lock === null ? locks[0] : locks[locks.indexOf(lock) + 1]
      setBy(0)
      setChosen(next?.clip.id ?? null)
      return locks.length > 0
    },
    none: useCallback((): void => setChosen(null), []),
    step: (frames: number): void => setBy(by + frames),
    /// The own clip goes to a frame, and the other stays where it is.
    hold(frame: number): void {
      if (lock && there !== null) setBy(offsetHolding(lock, frame, there))
    },
    lockOn(name: string): void {
      setBy(0)
      setEvent(name)
    },
  }
}
