import { useEffect, useRef } from 'react'
import { secondsAt } from '../../app/time/frame-table'
import type { FrameTable } from '../../app/time/frame-table'

/// Runs through a clip's frames by the clock, each at its own time, until `to`; from there on again from `again`, where that is
/// not null.
export function useRun(speed: number, frame: number, to: number, table: FrameTable, onFrame: (frame: number) => void, onEnd: () => void, again: number | null = null): void {
  const now = useRef({ frame, onFrame, onEnd })
  now.current = { frame, onFrame, onEnd }
  useEffect(() => {
    if (speed === 0) return
    let started = performance.now()
    let from = secondsAt(table, now.current.frame)
    let at = now.current.frame
    let request = 0
    const tick = (): void => {
      const seconds = from + ((performance.now() - started) / 1000) * speed
      while (at + 1 < to && secondsAt(table, at + 1) <= seconds) at++
      if (at !== now.current.frame) now.current.onFrame(at)
      const isOver = at + 1 >= to && seconds >= secondsAt(table, at + 1)
      if (isOver && again === null) return now.current.onEnd()
      if (isOver && again !== null) {
        at = again
        started = performance.now()
        from = secondsAt(table, again)
        now.current.onFrame(at)
      }
      request = requestAnimationFrame(tick)
    }
    request = requestAnimationFrame(tick)
    return () => cancelAnimationFrame(request)
  }, [speed, table, to, again])
}
