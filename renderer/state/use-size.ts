import { useCallback, useState, type RefCallback } from 'react'

interface Size {
  readonly width: number
  readonly height: number
}

const NONE: Size = { width: 0, height: 0 }

/// How large an element is, px, followed as it changes; 0 by 0 while there is none.
export function useSize(): readonly [RefCallback<HTMLElement>, Size] {
  const [size, setSize] = useState(NONE)
  const ref = useCallback((element: HTMLElement | null) => {
    if (!element) return
    const watch = new ResizeObserver(() => {
      const { width, height } = element.getBoundingClientRect()
      setSize({ width, height })
    })
    watch.observe(element)
    return () => {
      watch.disconnect()
      setSize(NONE)
    }
  }, [])
  return [ref, size]
}
