import { useEffect, useRef, useState, type KeyboardEvent, type PointerEvent } from 'react'
import type { Point } from '../../app/project/fields'
import { toolWords, type Tool } from './pointing'

interface Props {
  readonly tool: Tool
  readonly width: number
  readonly height: number
  readonly onDrawn: (start: Point, end: Point) => void
  readonly onEnd: () => void
}

/// Lies over the picture while something is drawn on it: by dragging, or by arrow keys and Enter. Escape takes it back.
export function PointingLayer({ tool, width, height, onDrawn, onEnd }: Props) {
  const layer = useRef<SVGSVGElement>(null)
  const [start, setStart] = useState<Point | null>(null)
  const [at, setAt] = useState<Point>([width / 2, height / 2])
  const [byKey, setByKey] = useState(false)
  useEffect(() => layer.current?.focus(), [tool])

  const pointOf = (event: PointerEvent): Point => {
    const box = layer.current!.getBoundingClientRect()
    return [((event.clientX - box.left) / box.width) * width, ((event.clientY - box.top) / box.height) * height]
  }
  const set = (point: Point): void => {
    if (tool === 'word') return onDrawn(point, point)
    if (start) {
      onDrawn(start, point)
      setStart(null)
    } else setStart(point)
  }
  const onKey = (event: KeyboardEvent): void => {
    event.stopPropagation()
    const step = event.shiftKey ? 2 : 20
    const by = ({ ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] } as Record<string, Point>)[event.key]
    if (by) {
      event.preventDefault()
      setByKey(true)
      setAt(([x, y]) => [Math.max(0, Math.min(width, x + by[0])), Math.max(0, Math.min(height, y + by[1]))])
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault()
      setByKey(true)
      set(at)
    } else if (event.key === 'Escape') {
      event.preventDefault()
      if (start) setStart(null)
      else onEnd()
    }
  }
  return (
    <svg
      ref={layer} className="pointing" viewBox={`0 0 ${width} ${height}`} tabIndex={0} role="application" aria-label={`${toolWords[tool].name}: ${toolWords[tool].how} With keys: arrows move the cross, Enter sets a point, Escape ends.`}
      onKeyDown={onKey}
      onPointerDown={(event) => {
        event.preventDefault()
        layer.current?.setPointerCapture(event.pointerId)
        layer.current?.focus()
        setByKey(false)
        const point = pointOf(event)
        setAt(point)
        if (tool === 'word') set(point)
        else setStart(point)
      }}
      onPointerMove={(event) => start && !byKey && setAt(pointOf(event))}
      onPointerUp={(event) => start && !byKey && set(pointOf(event))}
      onPointerCancel={() => setStart(null)}
    >
      {start && <Draft tool={tool} start={start} end={at} />}
      {byKey && <path className="cross" d={`M${at[0] - 40} ${at[1]}H${at[0] + 40}M${at[0]} ${at[1] - 40}V${at[1] + 40}`} />}
    </svg>
  )
}

function Draft({ tool, start: [x, y], end: [X, Y] }: { readonly tool: Tool; readonly start: Point; readonly end: Point }) {
  if (tool === 'ring') return <circle className="draft" cx={x} cy={y} r={Math.hypot(X - x, Y - y)} />
  if (tool === 'arrow' || tool === 'line') return <path className="draft" d={`M${x} ${y}L${X} ${Y}`} />
  return <rect className="draft" x={Math.min(x, X)} y={Math.min(y, Y)} width={Math.abs(X - x)} height={Math.abs(Y - y)} />
}
