import { useMemo, type PointerEvent } from 'react'
import { curveCsv, type LaidTable } from '../../app/exchange/curve-csv'
import { curveFigure } from '../../app/marks/curve-figure'
import type { MeasureContext } from '../../app/measure/context'
import { curveOf, gridOf, leftOut, MOST_FRAMES, readingOfCurve } from '../../app/measure/curve'
import { withMinus } from '../../app/measure/minus'
import type { Reading } from '../../app/measure/reading'
import { overFrames } from '../../app/measure/registry'
import { curveBeside, factorOf, measuresBeside, overlayOf, sharedEvents, type Beside, type Overlay } from '../../app/measure/curve-beside'
import { impactBreaks } from '../../app/measure/run-of-frames'
import { lineStretchesOf, peaksOf, smoothCurve, stretchesOf, type Laid } from '../../app/measure/smooth-curve'
import { valueWithError } from '../../app/measure/wording'
import type { Clip, Event } from '../../app/project/film'
import type { Measure } from '../../app/project/question'
import { useFilmTypeface } from '../player/film-typeface'
import { useSize } from '../state/use-size'
import { usePart } from '../state/use-project'
import { spreadNames } from './event-names'
import { measureNames } from './measure-names'
import { SaveCurve } from './save-curve'

interface Props {
  readonly clip: Clip
  readonly frame: number
  readonly events: readonly Event[]
  readonly measure: Measure | null
  readonly reading: Reading | undefined
  readonly context: MeasureContext | null
  /// Whose curve is to lie over it, and on which event; what cannot be had is left out.
  readonly over: { readonly beside: string; readonly on: string }
  readonly onOver: (over: { readonly beside: string; readonly on: string }) => void
  readonly onFrame: (frame: number) => void
  readonly onIntoFilm: (() => void) | null
}

/// So wide and so tall until it is measured.
const WIDE = 1348
const TALL = 188
const LEFT = 236
const RIGHT = 24
const TOP = 30
/// The line that names of events stand on.
const NAME = 14
const FOOT = 18

/// The clip's time: its events as brackets, the chosen measure's curve with its 95 % band, and the frame that is shown.
/// Press it to go there.
export function TimeStrip({ clip, frame, events, measure, reading, context, over, onOver, onFrame, onIntoFilm }: Props) {
  const curve = useMemo(() => (measure && context ? curveOf(measure, context) : []), [measure, context])
  const typeface = useFilmTypeface()
  const [strip, { width, height }] = useSize()
  const size = { width: width || WIDE, height: height || TALL }
  const readings = usePart('readings')
  const table = context?.table(clip) ?? null
  // Nothing is smoothed across contact.
  const smooth = useMemo(() => (table ? smoothCurve(curve, impactBreaks(events), table, factorOf(clip)) : []), [curve, events, table, clip])
  const peaks = useMemo(() => peaksOf(curve, smooth), [curve, smooth])
  const others = useMemo(() => (measure && context ? measuresBeside(measure, context) : []), [measure, context])
  const overlay = useMemo(() => (measure && context ? overlayOf(measure, over, context) : null), [measure, context, over])
  const figure = useMemo(
    () => (measure && context ? curveFigure(measure, context, reading, { points: curve, overlay }) : null),
    [measure, context, reading, curve, overlay],
  )
  const other = overlay?.measure ?? null
  const names = useMemo(() => (context ? measureNames(others, context, readings) : new Map<string, string>()), [others, context, readings])
  const shared = useMemo(() => (measure && other && context ? sharedEvents(measure, other, context) : []), [measure, other, context])
  const event = overlay?.on ?? ''
  const laid = useMemo(
    () => (measure && overlay && context ? curveBeside(measure, overlay.measure, overlay.on, context) : null),
    [measure, overlay, context],
  )
  const named = useMemo(
    () => (measure && context && reading ? readingOfCurve(measure, reading, curve, context) : reading),
    [measure, context, reading, curve],
  )
  const instant = useMemo(
    () => (measure && context && reading ? (overFrames(measure)?.instant?.(reading, context) ?? null) : null),
    [measure, context, reading],
  )
  const left = useMemo(() => (measure && context ? leftOut(measure, context) : 0), [measure, context])
  const wide = Math.max(1, size.width - LEFT - RIGHT)
  const x = (at: number): number => LEFT + (wide * (at + 0.5 - clip.from)) / (clip.to - clip.from)
  const all = [...curve, ...(laid?.points ?? [])]
  const low = Math.min(...all.map((p) => p.low))
  const high = Math.max(...all.map((p) => p.high))
  const y = (value: number): number => TOP + ((size.height - TOP - FOOT) * (high - value)) / Math.max(1e-9, high - low)
  const bandOf = (run: readonly Pick<Laid, 'frame' | 'low' | 'high'>[]): string =>
    `M${[...run.map((p) => `${x(p.frame)},${y(p.low)}`), ...run.toReversed().map((p) => `${x(p.frame)},${y(p.high)}`)].join('L')}Z`
  const go = (event: PointerEvent<SVGSVGElement>): void => {
    if (event.buttons !== 1) return
    const at = event.clientX - event.currentTarget.getBoundingClientRect().left
    onFrame(Math.max(clip.from, Math.min(clip.to - 1, Math.round(clip.from - 0.5 + ((at - LEFT) / wide) * (clip.to - clip.from)))))
  }
  const unit = named?.unit === '°' ? '°' : ''
  const hasLine = curve.some(({ range }) => !range)
  return (
    <div className="time-strip" ref={strip}>
      <div className="strip-words">
        {measure && reading && named ? (
          <>
            <strong>
              {named.plate.what}
              {instant && `, ${instant.words}`}
            </strong>
            {laid ? (
              <span role="status" className="at-most-three" title={laid.words}>
                {laid.words}
              </span>
            ) : (
              <span>
                {curve.length > 1
                  ? `${unit === '°' || named.unit === '' ? '' : `in ${named.unit}; `}band: 95 %${!hasLine ? '; a range only' : smooth.length > 0 ? '; dotted: a lower cut-off' : '; not smoothed'}`
                  : curve.length === 1
                    ? 'placed on one frame'
                    : 'no curve'}
              </span>
            )}
            {others.length > 0 && (
              <select
                aria-label="Lay another clip’s curve over it"
                value={other?.id ?? ''}
                onChange={({ target }) => onOver({ beside: target.value, on: event })}
              >
                <option value="">beside: none</option>
                {others.map(({ id }) => (
                  <option key={id} value={id}>
                    {names.get(id)}
                  </option>
                ))}
              </select>
            )}
            {shared.length > 1 && (
              <select aria-label="Lay it over on" value={event} onChange={({ target }) => onOver({ ...over, on: target.value })}>
                {shared.map((name) => (
                  <option key={name}>{name}</option>
                ))}
              </select>
            )}
            {left > 0 && (
              <span>
                {MOST_FRAMES} of {MOST_FRAMES + left} frames, around frame {overFrames(measure)?.frame ?? frame}
              </span>
            )}
            {figure && typeface && table && (
              <SaveCurve
                typeface={typeface}
                csv={curveCsv(curve, smooth, table, named.unit, laidTable(clip, overlay, laid, context))}
                figure={figure}
                onIntoFilm={onIntoFilm}
              />
            )}
          </>
        ) : (
          <span>{events.length === 0 ? 'No event is marked yet: E' : 'Choose a measure to see its curve: M'}</span>
        )}
      </div>
      <svg width={size.width} height={size.height} onPointerDown={go} onPointerMove={go} aria-hidden="true">
        {curve.length > 0 &&
          gridOf(low, high).map((value) => (
            <g key={value}>
              <line x1={LEFT} x2={size.width - RIGHT} y1={y(value)} y2={y(value)} className="grid" />
              <text x={LEFT - 12} y={y(value) + 4} textAnchor="end">
                {withMinus(String(Number(value.toPrecision(6))))}
                {unit}
              </text>
            </g>
          ))}
        {namedEvents([...events, ...(instant ? [{ ...instant, id: '' }] : [])], x, size.width).map(({ event, mid, name }) => (
          <g key={event.id}>
            <rect
              x={x(event.earliest) - 4}
              width={Math.max(8, x(event.latest) - x(event.earliest) + 8)}
              y={TOP}
              height={size.height - TOP - FOOT}
              className={event.id === '' ? 'event-band instant' : 'event-band'}
            />
            <line x1={name} x2={mid} y1={NAME + 4} y2={TOP} className="event-lead" />
            <text x={name} y={NAME} textAnchor="middle" className="event-name">
              {event.name}
            </text>
          </g>
        ))}
        {stretchesOf(laid?.points ?? [], ({ there }) => there).map((run) => (
          <g key={run[0]?.there}>
            <path d={bandOf(run)} className="band beside" />
            {run.length === 1 &&
              run.map((p) => <line key={p.there} x1={x(p.frame)} x2={x(p.frame)} y1={y(p.low)} y2={y(p.high)} className="bar-95 beside" />)}
          </g>
        ))}
        {stretchesOf(curve, ({ frame }) => frame).map((run) => (
          <g key={run[0]?.frame}>
            <path d={bandOf(run)} className="band" />
            {lineStretchesOf(run, (p) => p.frame).map((valued) => (
              <path key={valued[0]?.frame} d={`M${valued.map((p) => `${x(p.frame)},${y(p.value)}`).join('L')}`} className="curve" />
            ))}
            {(['low', 'high'] as const).map((edge) =>
              stretchesOf(
                run.filter(({ range }) => range),
                (p) => p.frame,
              ).map((ranged) => (
                <path
                  key={`${edge} ${ranged[0]?.frame}`}
                  d={`M${ranged.map((p) => `${x(p.frame)},${y(p[edge])}`).join('L')}`}
                  className="curve edge"
                />
              )),
            )}
            {run.length === 1 &&
              run.map((p) => (
                <g key={p.frame}>
                  <line x1={x(p.frame)} x2={x(p.frame)} y1={y(p.low)} y2={y(p.high)} className="bar-95" />
                  {!p.range && <circle cx={x(p.frame)} cy={y(p.value)} r={4} className="dot" />}
                </g>
              ))}
          </g>
        ))}
        {smooth.map((piece) => (
          <g key={piece[0]?.frame}>
            <path d={`M${piece.map((p) => `${x(p.frame)},${y(p.value)}`).join('L')}`} className="curve smooth" />
            <path d={`M${piece.map((p) => `${x(p.frame)},${y(p.lower)}`).join('L')}`} className="curve lower" />
          </g>
        ))}
        {lineStretchesOf(laid?.points ?? [], ({ there }) => there).map((run) => (
          <path key={run[0]?.there} d={`M${run.map((p) => `${x(p.frame)},${y(p.value)}`).join('L')}`} className="curve beside" />
        ))}
        {peaks.map((peak) => (
          <g key={`${peak.frame} ${peak.way}`}>
            <circle cx={x(peak.frame)} cy={y(peak.value)} r={4} className="dot" />
            <text x={x(peak.frame)} y={y(peak.value) + (peak.way === 'highest' ? -8 : 18)} textAnchor="middle" className="event-name">
              {valueWithError(peak.value, peak.half, named?.unit ?? '')}
            </text>
          </g>
        ))}
        <line x1={x(frame)} x2={x(frame)} y1={TOP - 10} y2={size.height - 4} className="cursor" />
      </svg>
      <input
        type="range"
        className="spoken-only"
        min={clip.from}
        max={clip.to - 1}
        value={frame}
        onChange={(event) => onFrame(Number(event.target.value))}
        aria-label="Frame of the clip"
      />
    </div>
  )
}

/// The curve that is laid over, as its values are saved.
function laidTable(clip: Clip, overlay: Overlay | null, laid: Beside | null, context: MeasureContext | null): LaidTable | null {
  const other = overlay && context?.clip(overlay.measure.clip ?? '')
  const table = other && context?.table(other)
  return overlay && laid && laid.points.length > 0 && table
    ? { clips: [clip.name ?? clip.id, other.name ?? other.id], on: overlay.on, points: laid.points, table }
    : null
}

type Bracketed = Pick<Event, 'id' | 'name' | 'earliest' | 'latest'>

/// Events in the order of time, each with the middle of its bracket and where its name stands, pixels.
function namedEvents(
  events: readonly Bracketed[],
  x: (frame: number) => number,
  right: number,
): { readonly event: Bracketed; readonly mid: number; readonly name: number }[] {
  const inOrder = events.map((event) => ({ event, mid: (x(event.earliest) + x(event.latest)) / 2 })).sort((a, b) => a.mid - b.mid)
  const names = spreadNames(
    inOrder.map(({ event, mid }) => ({ mid, half: event.name.length * 3.4 + 6 })),
    LEFT,
    right,
  )
  return inOrder.map((each, i) => ({ ...each, name: names[i]! }))
}
