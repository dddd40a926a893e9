import { useMemo, type PointerEvent } from 'react'
import type { MeasureContext } from '../../app/measure/context'
import type { Reading } from '../../app/measure/reading'
import type { Clip, Event } from '../../app/project/film'
import type { Measure } from '../../app/project/question'
import { curveOf, gridOf, type CurvePoint } from './curve'
import type { Size } from './stage-view'

interface Props {
  readonly clip: Clip
  readonly frame: number
  readonly events: readonly Event[]
  readonly measure: Measure | null
  readonly reading: Reading | undefined
  readonly context: MeasureContext | null
  readonly size: Size
  readonly onFrame: (frame: number) => void
}

const LEFT = 190
const RIGHT = 24
const TOP = 26
const FOOT = 18

/// The clip's time: its events as brackets, the chosen measure's curve with its 95 % band, and the frame that is shown.
/// Press it to go there.
export function TimeStrip({ clip, frame, events, measure, reading, context, size, onFrame }: Props) {
  const curve = useMemo(() => (measure && context ? curveOf(measure, context) : []), [measure, context])
  const wide = Math.max(1, size.width - LEFT - RIGHT)
  const x = (at: number): number => LEFT + (wide * (at + 0.5 - clip.from)) / (clip.to - clip.from)
  const low = Math.min(...curve.map((p) => p.low))
  const high = Math.max(...curve.map((p) => p.high))
  const y = (value: number): number => TOP + ((size.height - TOP - FOOT) * (high - value)) / Math.max(1e-9, high - low)
  const go = (event: PointerEvent<SVGSVGElement>): void => {
    if (event.buttons !== 1) return
    const at = event.clientX - event.currentTarget.getBoundingClientRect().left
    onFrame(Math.max(clip.from, Math.min(clip.to - 1, Math.round(clip.from - 0.5 + ((at - LEFT) / wide) * (clip.to - clip.from)))))
  }
  const unit = reading?.unit === '°' ? '°' : ''
  return (
    <div className="time-strip">
      <div className="strip-words">
        {measure && reading ? (
          <>
            <strong>{reading.plate.what}</strong>
            <span>{curve.length > 1 ? 'band: 95 %' : curve.length === 1 ? 'placed on one frame' : 'no curve'}</span>
            {curve.length > 1 && <span>as placed, not smoothed</span>}
          </>
        ) : (
          <span>{events.length === 0 ? 'No event is marked yet: E' : 'Choose a measure to see its curve: M'}</span>
        )}
      </div>
      <svg width={size.width} height={size.height} onPointerDown={go} onPointerMove={go} aria-hidden="true">
        {curve.length > 0 && gridOf(low, high).map((value) => (
          <g key={value}>
            <line x1={LEFT} x2={size.width - RIGHT} y1={y(value)} y2={y(value)} className="grid" />
            <text x={LEFT - 12} y={y(value) + 4} textAnchor="end">{Number(value.toPrecision(6))}{unit}</text>
          </g>
        ))}
        {spread(events, x).map(({ event, label }) => (
          <g key={event.id}>
            <rect x={x(event.earliest) - 4} width={Math.max(8, x(event.latest) - x(event.earliest) + 8)} y={TOP - 6} height={size.height - TOP - FOOT + 6} className="event-band" />
            <text x={label} y={14} textAnchor="middle" className="event-name">{event.name}</text>
          </g>
        ))}
        {stretches(curve).map((run) => (
          <g key={run[0]?.frame}>
            <path d={`M${[...run.map((p) => `${x(p.frame)},${y(p.low)}`), ...run.toReversed().map((p) => `${x(p.frame)},${y(p.high)}`)].join('L')}Z`} className="band" />
            <path d={`M${run.map((p) => `${x(p.frame)},${y(p.value)}`).join('L')}`} className="curve" />
            {run.length === 1 && run.map((p) => (
              <g key={p.frame}>
                <line x1={x(p.frame)} x2={x(p.frame)} y1={y(p.low)} y2={y(p.high)} className="bar-95" />
                <circle cx={x(p.frame)} cy={y(p.value)} r={4} className="dot" />
              </g>
            ))}
          </g>
        ))}
        <line x1={x(frame)} x2={x(frame)} y1={TOP - 10} y2={size.height - 4} className="cursor" />
      </svg>
      <input type="range" className="spoken-only" min={clip.from} max={clip.to - 1} value={frame} onChange={(event) => onFrame(Number(event.target.value))} aria-label="Frame of the clip" />
    </div>
  )
}

/// Pieces without a missing frame between.
function stretches(curve: readonly CurvePoint[]): CurvePoint[][] {
  const runs: CurvePoint[][] = []
  for (const point of curve) {
    const run = runs.at(-1)
    if (run && point.frame - (run.at(-1)?.frame ?? 0) <= 1) run.push(point)
    else runs.push([point])
  }
  return runs
}

/// Names moved apart where events lie close together.
function spread(events: readonly Event[], x: (frame: number) => number): { event: Event; label: number }[] {
  let end = -Infinity
  return [...events]
    .sort((a, b) => a.earliest - b.earliest)
    .map((event) => {
      const half = event.name.length * 3.4 + 6
      const label = Math.max((x(event.earliest) + x(event.latest)) / 2, end + half)
      end = label + half
      return { event, label }
    })
}
