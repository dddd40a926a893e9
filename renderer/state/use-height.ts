import { useCallback, useState, type RefCallback } from 'react'

/// How tall an element is, px, followed as it changes; 0 while there is none.
export function useHeight(): readonly [RefCallback<HTMLElement>, number] {
  const [height, setHeight] = useState(0)
  const ref = useCallback((element: HTMLElement | null) => {
    if (!element) return
    const size = new ResizeObserver(() => setHeight(element.getBoundingClientRect().height))
    size.observe(element)
    return () => {
      size.disconnect()
      setHeight(0)
    }
  }, [])
  return [ref, height]
}
