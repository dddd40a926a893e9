import type { MeasureContext } from '../measure/context'
import { curveOf, gridOf, leftOut, type CurvePoint } from '../measure/curve'
import type { Reading } from '../measure/reading'
import type { Point } from '../project/fields'
import type { Measure } from '../project/question'
import { letteringOf } from './lettering'
import { palette } from './palette'
import { textShape, widest, wrapAtMost } from './set-text'
import type { Colour, Shape } from './shape'
import { boxRing, strokeRings } from './stroke'
import type { Typeface } from './typeface'

/// A measure's value over the frames of its clip, with its 95 % band, and the events of the clip.
export interface CurveFigure {
  readonly measure: string
  readonly title: string
  readonly points: readonly CurvePoint[]
  readonly events: readonly { readonly name: string; readonly frame: number }[]
  readonly unit: string
  readonly clip: string
  /// Frames on which it is placed as well, and which are not drawn; absent: none.
  readonly leftOut?: number
}

/// Frames with a value that a curve is drawn from; two are a comparison, not a course.
export const LEAST_POINTS = 3

/// A measure's figure; null where it has a value on fewer than three frames. `points`: where its curve is known already.
export function curveFigure(measure: Measure, context: MeasureContext, reading: Reading | undefined, points: readonly CurvePoint[] = curveOf(measure, context)): CurveFigure | null {
  if (!reading || !('clip' in measure) || measure.clip === undefined) return null
  if (points.length < LEAST_POINTS) return null
  const left = leftOut(measure, context)
  const events = context.eventsOf(measure.clip).map(({ name, earliest, latest }) => ({ name, frame: (earliest + latest) / 2 }))
  return { measure: measure.id, title: reading.plate.what, points, events, unit: reading.unit, clip: context.clip(measure.clip)?.name ?? measure.clip, ...(left > 0 ? { leftOut: left } : {}) }
}

/// Figures of every measure that has a value on three frames or more.
export const curveFigures = (measures: readonly Measure[], context: MeasureContext, readings: ReadonlyMap<string, Reading>): CurveFigure[] =>
  measures.flatMap((measure) => curveFigure(measure, context, readings.get(measure.id)) ?? [])

/// What a figure is drawn on: its size and margins in pixels, its em sizes and its colours. Between `top` and `foot` lies
/// everything that is drawn.
export interface CurvePage {
  readonly width: number
  readonly height: number
  readonly left: number
  readonly right: number
  readonly top: number
  readonly foot: number
  readonly heading: number
  readonly small: number
  /// Width of the curve's line.
  readonly stroke: number
  readonly ground: Colour
  readonly ink: Colour
  readonly soft: Colour
  readonly grid: Colour
  readonly curve: Colour
  readonly band: Colour
}

/// White paper, as figures are saved.
export const PAPER: CurvePage = {
  width: 1600, height: 900, left: 48, right: 1548, top: 40, foot: 866, heading: 40, small: 26, stroke: 4,
  ground: '#ffffff', ink: '#1d1f21', soft: '#595c60', grid: '#dddddd', curve: '#14505f', band: palette.hips,
}

/// A card of a film: its type as large as on every card, clear of the captions' zone.
export function filmPage(width: number, height: number): CurvePage {
  const { captionTop, unit } = letteringOf(width, height)
  const small = 0.0405 * Math.min(width, height)
  return {
    width, height, left: 0.07 * width, right: 0.93 * width, top: 0.08 * height, foot: captionTop - 0.3 * small, heading: 1.3 * small, small, stroke: 6 * unit,
    ground: palette.card, ink: palette.text, soft: palette.lighter, grid: '#343a40', curve: palette.hips, band: palette.hips,
  }
}

/// The figure as shapes that cover the page. Frames that were not placed leave a gap; nothing is drawn between them.
export function drawCurve(figure: CurveFigure, typeface: Typeface, page: CurvePage = PAPER, title: string = figure.title): Shape[] {
  const { small, stroke } = page
  const line = (points: readonly Point[], width: number, colour: Colour, opacity = 1): Shape => ({ kind: 'fill', rings: strokeRings(points, { width, cap: 'butt' }), colour, opacity })
  const head = headOf(figure, title, typeface, page)
  const frames = figure.points.map((p) => p.frame)
  const [first, last] = [Math.min(...frames), Math.max(...frames)]
  const [least, most] = [Math.min(...figure.points.map((p) => p.low)), Math.max(...figure.points.map((p) => p.high))]
  const pad = 0.06 * Math.max(1e-9, most - least)
  const [low, high] = [least - pad, most + pad]
  const values = gridOf(low, high).map((value) => ({ value, words: `${Number(value.toPrecision(6))}${figure.unit === '°' ? '°' : ` ${figure.unit}`}` }))
  const left = page.left + widest(typeface, values.map(({ words }) => words), small, 400) + 0.6 * small
  const x = (frame: number): number => left + ((frame - first) / Math.max(1, last - first)) * (page.right - left)
  const names = rowsOfNames(figure.events.filter(({ frame }) => frame >= first && frame <= last).map(({ name, frame }) => ({ name, at: x(frame) })), typeface, { small, left, right: page.right })
  const rows = Math.max(0, ...names.map(({ row }) => row + 1))
  const plot = { top: head.foot + rows * 1.25 * small + 0.3 * small, foot: page.foot - 2.5 * small }
  const y = (value: number): number => plot.foot - ((value - low) / Math.max(1e-9, high - low)) * (plot.foot - plot.top)

  const shapes: Shape[] = [{ kind: 'fill', rings: [boxRing(0, 0, page.width, page.height)], colour: page.ground, opacity: 1 }, ...head.shapes]
  for (const { value, words } of values) {
    shapes.push(line([[left, y(value)], [page.right, y(value)]], 0.4 * stroke, page.grid))
    shapes.push(textShape(words, [left - 0.6 * small, y(value) + 0.35 * small], small, 400, page.soft, 'right'))
  }
  for (const frame of gridOf(first, last).filter(Number.isInteger)) shapes.push(textShape(String(frame), [x(frame), plot.foot + 1.25 * small], small, 400, page.soft, 'middle'))
  shapes.push(textShape('frame of the footage', [(left + page.right) / 2, plot.foot + 2.25 * small], small, 400, page.soft, 'middle'))
  for (const { at, row, words, from } of names) {
    shapes.push(line([[at, row < 0 ? plot.top : head.foot + (row + 0.2) * 1.25 * small], [at, plot.foot]], 0.6 * stroke, page.ink, 0.7))
    if (row >= 0) shapes.push(textShape(words, [from, head.foot + row * 1.25 * small + 0.95 * small], small, 400, page.ink))
  }
  for (const run of unbroken(figure.points)) {
    if (run.length > 1) {
      const band: Point[] = [...run.map((p): Point => [x(p.frame), y(p.high)]), ...[...run].reverse().map((p): Point => [x(p.frame), y(p.low)])]
      shapes.push({ kind: 'fill', rings: [band], colour: page.band, opacity: 0.3 })
      shapes.push(line(run.map((p): Point => [x(p.frame), y(p.value)]), stroke, page.curve))
    } else for (const p of run) shapes.push(line([[x(p.frame), y(p.low)], [x(p.frame), y(p.high)]], 0.75 * stroke, page.curve), line([[x(p.frame) - 1.25 * stroke, y(p.value)], [x(p.frame) + 1.25 * stroke, y(p.value)]], 2.5 * stroke, page.curve))
  }
  shapes.push(line([[left, plot.top], [left, plot.foot], [page.right, plot.foot]], 0.6 * stroke, page.ink))
  return shapes
}

/// Title and what the band is, down to `foot`.
function headOf(figure: CurveFigure, title: string, typeface: Typeface, page: CurvePage): { readonly shapes: readonly Shape[]; readonly foot: number } {
  const { heading, small, left, right } = page
  const lines = wrapAtMost(typeface, title, heading, 700, right - left, 2)
  const note = wrapAtMost(typeface, `clip ${figure.clip}; band: our 95 % estimate${figure.leftOut === undefined ? '' : `; ${figure.leftOut} further frames are placed and not drawn`}`, small, 400, right - left, 2)
  const shapes = lines.map((words, i) => textShape(words, [left, page.top + 0.75 * heading + i * 1.14 * heading], heading, 700, page.ink))
  const under = page.top + lines.length * 1.14 * heading
  for (const [i, words] of note.entries()) shapes.push(textShape(words, [left, under + small + i * 1.25 * small], small, 400, page.soft))
  return { shapes, foot: under + 0.55 * small + note.length * 1.25 * small }
}

/// Rows that names may take above the plot; an event that finds no room keeps its line and goes unnamed.
const MOST_ROWS = 5
interface RowedName {
  readonly at: number
  readonly row: number
  /// What is written, shortened to what fits; empty: nothing.
  readonly words: string
  readonly from: number
}

/// Each name beside its line's top, in the first row where it meets no other name and no line crosses one.
function rowsOfNames(events: readonly { readonly name: string; readonly at: number }[], typeface: Typeface, { small, left, right }: { readonly small: number; readonly left: number; readonly right: number }): RowedName[] {
  const placed: { readonly at: number; readonly row: number; readonly start: number; readonly end: number; readonly from: number; readonly to: number }[] = []
  const gap = 0.35 * small
  return [...events].sort((a, b) => a.at - b.at).map(({ name, at }) => {
    const words = wrapAtMost(typeface, name, small, 400, 0.45 * (right - left), 1)[0] ?? ''
    const wide = typeface.advance(words, small, 400)
    const sides = [at + gap, at - gap - wide].filter((from) => from >= left && from + wide <= right)
    for (const [row, from] of Array.from({ length: MOST_ROWS }, (_, row) => sides.map((side) => [row, side] as const)).flat()) {
      const [start, end] = [Math.min(at, from) - gap, Math.max(at, from + wide) + gap]
      const meets = placed.some((other) => (other.row === row ? other.start < end && start < other.end : other.row < row ? from <= other.at && other.at <= from + wide : other.from <= at && at <= other.to))
      if (meets) continue
      placed.push({ at, row, start, end, from, to: from + wide })
      return { at, row, words, from }
    }
    return { at, row: -1, words: '', from: at }
  })
}

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
