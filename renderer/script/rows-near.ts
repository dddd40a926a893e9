import { useLayoutEffect, useMemo, useState, type RefObject } from 'react'
import type { RowBox } from './row-boxes'

/// Rows drawn above and below what is in sight, in heights of the screen.
const BEYOND = 1

/// The rows in sight and a screen above and below, of those given from top to bottom: only they are drawn. `columns`:
/// what the rows lie in.
export function useRowsNear(rows: readonly RowBox[], columns: RefObject<HTMLElement | null>): readonly RowBox[] {
  const [[first, end], setSpan] = useState<readonly [number, number]>([0, 0])
  useLayoutEffect(() => {
    const area = columns.current
    const scroll = area?.closest('.room-body')
    if (!area || !scroll) return
    const look = (): void => {
      const beyond = scroll.clientHeight * BEYOND
      const top = scroll.getBoundingClientRect().top - area.getBoundingClientRect().top
      const next = [
        Math.max(
          0,
          rows.findIndex((row) => row.top + row.height > top - beyond),
        ),
        rows.findLastIndex((row) => row.top < top + scroll.clientHeight + beyond) + 1,
      ] as const
      setSpan((now) => (now[0] === next[0] && now[1] === next[1] ? now : next))
    }
    look()
    scroll.addEventListener('scroll', look, { passive: true })
    const size = new ResizeObserver(look)
    size.observe(scroll)
    return () => {
      scroll.removeEventListener('scroll', look)
      size.disconnect()
    }
  }, [rows, columns])
  return useMemo(() => rows.slice(first, end), [rows, first, end])
}
