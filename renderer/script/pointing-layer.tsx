import { useEffect, useRef, useState, type KeyboardEvent, type PointerEvent } from 'react'
import type { Point } from '../../app/project/fields'
import { takesOnePlace, toolWords, type Tool } from './pointing'

interface Props {
  readonly tool: Tool
  readonly width: number
  readonly height: number
  /// Where it went, canvas pixels: its one place, its two ends, or all of a path.
  readonly onDrawn: (way: readonly Point[]) => void
  readonly onEnd: () => void
  /// What the tool can take hold of, canvas pixels.
  readonly targets?: readonly Point[]
  /// False: it takes neither the focus nor a key, only what is dragged.
  readonly keys?: boolean
}

/// Lies over the picture while something is drawn on it: by dragging, or by arrow keys and Enter (a path: Enter at each
/// corner, twice at the last). Escape takes the last point back, or all of what is being
/// dragged.
export function PointingLayer({ tool, width, height, onDrawn, onEnd, targets = [], keys = true }: Props) {
  const layer = useRef<SVGSVGElement>(null)
  const [way, setWay] = useState<readonly Point[]>([])
  // What a hand draws comes quicker than it is shown.
  const drawing = useRef<Point[]>([])
  const [at, setAt] = useState<Point>([width / 2, height / 2])
  const [byKey, setByKey] = useState(false)
  useEffect(() => {
    if (keys) layer.current?.focus()
    drawing.current = []
    setWay([])
    setByKey(false)
  }, [tool, keys])

  const pointOf = (event: PointerEvent): Point => {
    const box = layer.current!.getBoundingClientRect()
    return [((event.clientX - box.left) / box.width) * width, ((event.clientY - box.top) / box.height) * height]
  }
  const end = (points: readonly Point[]): void => {
    drawing.current = []
    setWay([])
    onDrawn(points)
  }
  const set = (point: Point): void => {
    const last = way.at(-1)
    if (takesOnePlace(tool)) end([point])
    else if (!last || (tool === 'path' && (last[0] !== point[0] || last[1] !== point[1]))) setWay([...way, point])
    else if (tool !== 'path') end([last, point])
    else if (way.length > 1) end(way)
  }
  const onKey = (event: KeyboardEvent): void => {
    event.stopPropagation()
    const step = event.shiftKey ? 2 : 20
    const by = ({ ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] } as Record<string, Point>)[
      event.key
    ]
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
      // What is being dragged goes as a whole: letting go of the pointer then draws nothing.
      if (drawing.current.length > 0) {
        drawing.current = []
        setWay([])
      } else if (way.length > 0) setWay(way.slice(0, -1))
      else onEnd()
    }
  }
  return (
    <svg
      ref={layer}
      className="pointing"
      viewBox={`0 0 ${width} ${height}`}
      tabIndex={keys ? 0 : undefined}
      role="application"
      aria-label={`${toolWords[tool].name}: ${toolWords[tool].how} With keys: arrows move the cross, Enter sets a point${tool === 'path' ? ', twice at the last' : ''}, Escape ends.`}
      onKeyDown={keys ? onKey : undefined}
      onPointerDown={(event) => {
        event.preventDefault()
        layer.current?.setPointerCapture(event.pointerId)
        if (keys) layer.current?.focus()
        setByKey(false)
        const point = pointOf(event)
        setAt(point)
        if (takesOnePlace(tool)) return end([point])
        drawing.current = [point]
        setWay([point])
      }}
      onPointerMove={(event) => {
        if (drawing.current.length === 0) return
        const point = pointOf(event)
        setAt(point)
        if (tool !== 'path') return
        drawing.current.push(point)
        setWay([...drawing.current])
      }}
      onPointerUp={(event) => drawing.current.length > 0 && end([...drawing.current, pointOf(event)])}
      onPointerCancel={() => {
        drawing.current = []
        setWay([])
      }}
    >
      {targets.map(([x, y], i) => (
        <circle key={i} className="target" cx={x} cy={y} r={Math.max(5, width / 160)} />
      ))}
      {way[0] && <Draft tool={tool} way={way} end={at} />}
      {byKey && <path className="cross" d={`M${at[0] - 40} ${at[1]}H${at[0] + 40}M${at[0]} ${at[1] - 40}V${at[1] + 40}`} />}
    </svg>
  )
}

function Draft({ tool, way, end: [X, Y] }: { readonly tool: Tool; readonly way: readonly Point[]; readonly end: Point }) {
  const [x, y] = way[0] ?? [X, Y]
  if (tool === 'ring') return <circle className="draft" cx={x} cy={y} r={Math.hypot(X - x, Y - y)} />
  if (tool === 'arrow' || tool === 'line' || tool === 'path')
    return <path className="draft" d={`M${way.map((point) => point.join(' ')).join('L')}L${X} ${Y}`} />
  return <rect className="draft" x={Math.min(x, X)} y={Math.min(y, Y)} width={Math.abs(X - x)} height={Math.abs(Y - y)} />
}
