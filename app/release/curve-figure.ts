import { palette } from '../marks/palette'
import { shortened, textShape } from '../marks/set-text'
import type { Shape } from '../marks/shape'
import { boxRing, strokeRings } from '../marks/stroke'
import { curveOf, gridOf, type CurvePoint } from '../measure/curve'
import type { MeasureContext } from '../measure/context'
import type { Reading } from '../measure/reading'
import type { Point } from '../project/fields'
import type { Measure } from '../project/question'

/// A measure's value over the frames of its clip, with its 95 % band, and the events of the clip.
export interface CurveFigure {
  readonly measure: string
  readonly title: string
  readonly points: readonly CurvePoint[]
  readonly events: readonly { readonly name: string; readonly frame: number }[]
  readonly unit: string
  readonly clip: string
}

/// Size of a figure in pixels.
export const FIGURE = { width: 1600, height: 900 } as const

/// Figures of every measure that has a value on three frames or more.
export function curveFigures(measures: readonly Measure[], context: MeasureContext, readings: ReadonlyMap<string, Reading>): CurveFigure[] {
  return measures.flatMap((measure) => {
    const points = curveOf(measure, context)
    const reading = readings.get(measure.id)
    if (points.length < 3 || !reading || !('clip' in measure) || measure.clip === undefined) return []
    const events = (context.breakdown.events ?? []).filter((event) => event.clip === measure.clip).map((event) => ({ name: event.name, frame: (event.earliest + event.latest) / 2 }))
    return [{ measure: measure.id, title: reading.plate.what, points, events, unit: reading.unit, clip: measure.clip }]
  })
}

/// The figure as shapes on white paper. Frames that were not placed leave a gap; nothing is drawn between them.
export function drawCurve(figure: CurveFigure): Shape[] {
  const { width, height } = FIGURE
  const plot = { left: 150, right: width - 60, top: 150, foot: height - 120 }
  const frames = figure.points.map((p) => p.frame)
  const [first, last] = [Math.min(...frames), Math.max(...frames)]
  const pad = 0.06 * Math.max(1e-9, Math.max(...figure.points.map((p) => p.high)) - Math.min(...figure.points.map((p) => p.low)))
  const [low, high] = [Math.min(...figure.points.map((p) => p.low)) - pad, Math.max(...figure.points.map((p) => p.high)) + pad]
  const x = (frame: number): number => plot.left + ((frame - first) / Math.max(1, last - first)) * (plot.right - plot.left)
  const y = (value: number): number => plot.foot - ((value - low) / Math.max(1e-9, high - low)) * (plot.foot - plot.top)
  const line = (points: readonly Point[], stroke: number, colour: `#${string}`, opacity = 1): Shape => ({ kind: 'fill', rings: strokeRings(points, { width: stroke, cap: 'butt' }), colour, opacity })
  const shapes: Shape[] = [{ kind: 'fill', rings: [boxRing(0, 0, width, height)], colour: '#ffffff', opacity: 1 }]
  shapes.push(textShape(shortened(figure.title, 80), [plot.left, 70], 40, 700, INK))
  shapes.push(textShape(`clip ${figure.clip}; band: our 95 % estimate; frames that were not placed are left out`, [plot.left, 112], 26, 400, SOFT))
  for (const value of gridOf(low, high)) {
    shapes.push(line([[plot.left, y(value)], [plot.right, y(value)]], 1.5, '#dddddd'))
    shapes.push(textShape(`${Number(value.toPrecision(6))}${figure.unit === '°' ? '°' : ` ${figure.unit}`}`, [plot.left - 16, y(value) + 9], 26, 400, SOFT, 'right'))
  }
  for (const frame of gridOf(first, last).filter(Number.isInteger)) shapes.push(textShape(String(frame), [x(frame), plot.foot + 44], 26, 400, SOFT, 'middle'))
  shapes.push(textShape('frame of the footage', [(plot.left + plot.right) / 2, plot.foot + 90], 26, 400, SOFT, 'middle'))
  for (const run of unbroken(figure.points)) {
    if (run.length > 1) {
      const band: Point[] = [...run.map((p): Point => [x(p.frame), y(p.high)]), ...[...run].reverse().map((p): Point => [x(p.frame), y(p.low)])]
      shapes.push({ kind: 'fill', rings: [band], colour: palette.hips, opacity: 0.3 })
      shapes.push(line(run.map((p): Point => [x(p.frame), y(p.value)]), 4, CURVE))
    } else for (const p of run) shapes.push(line([[x(p.frame), y(p.low)], [x(p.frame), y(p.high)]], 3, CURVE), line([[x(p.frame) - 5, y(p.value)], [x(p.frame) + 5, y(p.value)]], 10, CURVE))
  }
  figure.events
    .filter(({ frame }) => frame >= first && frame <= last)
    .forEach(({ name, frame }, i) => {
      shapes.push(line([[x(frame), plot.top], [x(frame), plot.foot]], 2.5, INK, 0.7))
      const right = x(frame) > (plot.left + plot.right) / 2
      const words = shortened(name, 40)
      const wide = 14 * words.length
      const left = right ? x(frame) - 14 - wide : x(frame) + 6
      shapes.push({ kind: 'fill', rings: [boxRing(left, plot.top + 2 + 32 * (i % 3), wide + 8, 30)], colour: '#ffffff', opacity: 0.85 })
      shapes.push(textShape(words, [x(frame) + (right ? -10 : 10), plot.top + 26 + 32 * (i % 3)], 26, 400, INK, right ? 'right' : 'left'))
    })
  shapes.push(line([[plot.left, plot.top], [plot.left, plot.foot], [plot.right, plot.foot]], 2.5, INK))
  return shapes
}

const INK = '#1d1f21'
const SOFT = '#595c60'
const CURVE = '#14505f'

/// Runs of neighbouring frames.
function unbroken(points: readonly CurvePoint[]): CurvePoint[][] {
  const runs: CurvePoint[][] = []
  for (const point of [...points].sort((a, b) => a.frame - b.frame)) {
    const last = runs.at(-1)
    if (last && point.frame === (last.at(-1) as CurvePoint).frame + 1) last.push(point)
    else runs.push([point])
  }
  return runs
}
