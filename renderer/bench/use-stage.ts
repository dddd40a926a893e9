import { useEffect, useRef, useState, type PointerEvent, type RefObject } from 'react'
import type { Point } from '../../app/project/fields'
import { panBy, wholeView, zoomAbout, type Size, type StageView } from './stage-view'

/// The stage's size, and how the picture lies on it: whole until it is zoomed or moved.
/// `roomOf`: the part of the stage, from its left, in which it lies.
export function useStage(
  picture: Size,
  roomOf: (stage: Size) => Size,
): {
  readonly ref: RefObject<HTMLDivElement | null>
  readonly stage: Size
  readonly view: StageView
  readonly setView: (change: ((view: StageView) => StageView) | null) => void
} {
  const ref = useRef<HTMLDivElement>(null)
  const [stage, setStage] = useState<Size>({ width: 1348, height: 660 })
  const [own, setOwn] = useState<StageView | null>(null)
  const whole = wholeView(picture, roomOf(stage))
  const now = useRef(whole)
  now.current = whole
  useEffect(() => {
    const element = ref.current
    if (!element) return
    const size = new ResizeObserver(() => setStage({ width: element.clientWidth, height: element.clientHeight }))
    size.observe(element)
    // React's own wheel listener may not hold the page back from scrolling.
    const onWheel = (event: WheelEvent): void => {
      event.preventDefault()
      const at = pointOf(event, element)
      setOwn((view) => zoomAbout(view ?? now.current, at, Math.exp(-event.deltaY * (event.deltaMode === 0 ? 0.0015 : 0.05))))
    }
    element.addEventListener('wheel', onWheel, { passive: false })
    return () => {
      size.disconnect()
      element.removeEventListener('wheel', onWheel)
    }
  }, [])
  return { ref, stage, view: own ?? whole, setView: (change) => setOwn((view) => (change ? change(view ?? now.current) : null)) }
}

export const pointOf = (event: { readonly clientX: number; readonly clientY: number }, element: Element): Point => {
  const box = element.getBoundingClientRect()
  return [event.clientX - box.left, event.clientY - box.top]
}

interface Gestures {
  /// A press: answers the name of what is dragged from there, `pan` to move the picture, or null when the press was all.
  readonly press: (at: Point, event: PointerEvent) => string | null
  readonly hover: (at: Point) => void
  /// A drag under way, and its end. `moved` is in stage pixels since the press; null: it was given up.
  readonly drag: (what: string, moved: Point) => void
  readonly drop: (what: string, moved: Point | null) => void
  readonly setView: (change: (view: StageView) => StageView) => void
}

/// Presses and drags on the stage. One gesture ends in one drop.
export function useGestures({ press, hover, drag, drop, setView }: Gestures) {
  const held = useRef<{ readonly what: string; readonly from: Point; last: Point } | null>(null)
  return {
    onPointerDown(event: PointerEvent<HTMLDivElement>): void {
      if (event.target instanceof Element && event.target.closest('button, form, select, .sheet, .guide')) return
      const at = pointOf(event, event.currentTarget)
      const what = event.button === 1 ? 'pan' : event.button === 0 ? press(at, event) : null
      if (what === null) return
      event.currentTarget.setPointerCapture(event.pointerId)
      held.current = { what, from: at, last: at }
    },
    onPointerMove(event: PointerEvent<HTMLDivElement>): void {
      const at = pointOf(event, event.currentTarget)
      if (!held.current) return hover(at)
      const { what, from, last } = held.current
      held.current.last = at
      if (what === 'pan') setView((view) => panBy(view, at[0] - last[0], at[1] - last[1]))
      else drag(what, [at[0] - from[0], at[1] - from[1]])
    },
    onPointerUp(event: PointerEvent<HTMLDivElement>): void {
      const { current } = held
      held.current = null
      if (!current || current.what === 'pan') return
      const at = pointOf(event, event.currentTarget)
      drop(current.what, [at[0] - current.from[0], at[1] - current.from[1]])
    },
    onPointerCancel(): void {
      const { current } = held
      held.current = null
      if (current && current.what !== 'pan') drop(current.what, null)
    },
    /// Escape gives a drag up.
    giveUp(): boolean {
      const { current } = held
      held.current = null
      if (!current || current.what === 'pan') return false
      drop(current.what, null)
      return true
    },
  }
}
