import { useCallback, useState } from 'react'

/// What a run goes over again and again, frames: from one on that was chosen (`to` null: its end is not chosen yet).
interface Loop {
  readonly from: number
  readonly to: number | null
}

/// The loop of a clip's run. One key begins it, ends it, and takes it away.
export function useLoop() {
  const [loop, setLoop] = useState<Loop | null>(null)
  return {
    /// What a run goes over; null while there is none, or only its beginning.
    whole: loop !== null && loop.to !== null ? { from: loop.from, to: loop.to } : null,
    state: loop === null ? ('none' as const) : loop.to === null ? ('begun' as const) : ('whole' as const),
    clear: useCallback((): void => setLoop(null), []),
    /// Answers what is said, and where to go.
    next(frame: number): { readonly words: string; readonly go: number | null } {
      if (loop === null) {
        setLoop({ from: frame, to: null })
        return { words: `Over and over from frame ${frame}: press O again where it ends.`, go: null }
      }
      if (loop.to === null && frame > loop.from) {
        setLoop({ from: loop.from, to: frame + 1 })
        return { words: `Runs over and over from frame ${loop.from} to ${frame}.`, go: loop.from }
      }
      setLoop(null)
      return { words: 'Runs to the clip’s end.', go: null }
    },
  }
}
