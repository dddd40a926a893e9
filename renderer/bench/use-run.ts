import { useEffect, useRef } from 'react'
import { secondsAt } from '../../app/time/frame-table'
import type { FrameTable } from '../../app/time/frame-table'

/// Runs through a clip's frames by the clock, each at its own time, until `to`; from there on again from `again`, where that is
/// not null. Whatever else moves to another frame meanwhile ends the run: it does not snap back.
export function useRun(
  speed: number,
  frame: number,
  to: number,
  table: FrameTable,
  onFrame: (frame: number) => void,
  onEnd: () => void,
  again: number | null = null,
): void {
  const now = useRef({ frame, onFrame, onEnd })
  now.current = { frame, onFrame, onEnd }
  /// The frame that the run itself went to last.
  const own = useRef(frame)
  useEffect(() => {
    if (speed === 0) return
    let started = performance.now()
    let at = now.current.frame
    own.current = at
    let from = secondsAt(table, at)
    let request = 0
    const goTo = (frame: number): void => {
      own.current = frame
      now.current.onFrame(frame)
    }
    const tick = (): void => {
      const seconds = from + ((performance.now() - started) / 1000) * speed
      while (at + 1 < to && secondsAt(table, at + 1) <= seconds) at++
      if (at !== now.current.frame) goTo(at)
      const isOver = at + 1 >= to && seconds >= secondsAt(table, at + 1)
      if (isOver && again === null) return now.current.onEnd()
      if (isOver && again !== null) {
        at = again
        started = performance.now()
        from = secondsAt(table, again)
        goTo(at)
      }
      request = requestAnimationFrame(tick)
    }
    request = requestAnimationFrame(tick)
    return () => cancelAnimationFrame(request)
  }, [speed, table, to, again])
  useEffect(() => {
    if (speed !== 0 && frame !== own.current) now.current.onEnd()
  }, [speed, frame])
}
