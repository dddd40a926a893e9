import type { MeasureContext } from '../measure/context'
import { curveOf, gridOf, leftOut, readingOfCurve, type CurvePoint } from '../measure/curve'
import { curveBeside, factorOf, type Overlay } from '../measure/curve-beside'
import type { Instant } from '../measure/over-frames'
import type { Reading } from '../measure/reading'
import { overFrames } from '../measure/registry'
import { impactBreaks } from '../measure/run-of-frames'
import {
  LOWER_SHARE,
  lineStretchesOf,
  peaksOf,
  smoothCurve,
  stretchesOf,
  type Laid,
  type Peak,
  type SmoothPoint,
} from '../measure/smooth-curve'
import type { Point } from '../project/fields'
import type { Measure } from '../project/question'
import { peakLabels } from './curve-peaks'
import { letteringOf } from './lettering'
import { palette } from './palette'
import { shortened, textShape, widest, wrapAtMost } from './set-text'
import type { Colour, Shape } from './shape'
import { boxRing, discRing, strokeRings, type StrokeStyle } from './stroke'
import type { Typeface } from './typeface'

/// A measure's value over the frames of its clip, with its 95 % band, smoothed at two cut-offs, its peaks, and the events of the
/// clip; another clip's curve laid over it, with what may be said of the two.
export interface CurveFigure {
  readonly measure: string
  readonly title: string
  readonly points: readonly CurvePoint[]
  readonly events: readonly { readonly name: string; readonly frame: number }[]
  readonly unit: string
  readonly clip: string
  /// Piece by piece, nothing across contact; empty: not smoothed.
  readonly smooth: readonly (readonly SmoothPoint[])[]
  /// Of the longest pieces; with an instant the one there.
  readonly peaks: readonly Peak[]
  /// The cut-offs are Hz of real time; else of the film's, for the clip's capture factor is not known.
  readonly realTime: boolean
  /// Frames on which it is placed as well, and which are not drawn; absent: none.
  readonly leftOut?: number
  /// The instant that the measure's own value is, with its bracket: when the curve is highest.
  readonly instant?: Instant
  readonly over?: CurveOver
}

/// The other clip's curve in one's own frames, and the decision in words.
export interface CurveOver {
  readonly clip: string
  readonly points: readonly Laid[]
  readonly words: string
}

/// Frames with a value that a curve is drawn from; two are a comparison, not a course.
export const LEAST_POINTS = 3

/// Peaks that a figure shows at most.
const MOST_PEAKS = 6

/// A measure's figure; null where it has a value on fewer than three frames. `points`: where its curve is known already; `overlay`:
/// whose curve is laid over it, and on which event.
export function curveFigure(
  measure: Measure,
  context: MeasureContext,
  reading: Reading | undefined,
  {
    points = curveOf(measure, context),
    overlay = null,
  }: { readonly points?: readonly CurvePoint[]; readonly overlay?: Overlay | null } = {},
): CurveFigure | null {
  if (!reading || !('clip' in measure) || measure.clip === undefined) return null
  if (points.length < LEAST_POINTS) return null
  const left = leftOut(measure, context)
  const clip = context.clip(measure.clip)
  const table = clip && context.table(clip)
  const marked = context.eventsOf(measure.clip)
  const k = clip && factorOf(clip)
  const smooth = table ? smoothCurve(points, impactBreaks(marked), table, k) : []
  const over = overlay && overOf(measure, overlay, context)
  const named = readingOfCurve(measure, reading, points, context)
  const instant = overFrames(measure)?.instant?.(reading, context)
  // Where one instant is told, the peak there is what it is about.
  const isTold = ({ frame }: Peak): boolean => !instant || Math.abs(frame - instant.at) <= Math.max(1, instant.latest - instant.earliest)
  const peaks = peaksOf(
    points,
    [...smooth].sort((a, b) => b.length - a.length),
  )
    .filter(isTold)
    .slice(0, MOST_PEAKS)
  return {
    measure: measure.id,
    title: named.plate.what,
    points,
    events: marked.map(({ name, earliest, latest }) => ({ name, frame: (earliest + latest) / 2 })),
    unit: named.unit,
    clip: clip?.name ?? measure.clip,
    smooth,
    peaks,
    realTime: k !== null,
    ...(left > 0 ? { leftOut: left } : {}),
    ...(instant ? { instant } : {}),
    ...(over ? { over } : {}),
  }
}

function overOf(measure: Measure, { measure: other, on }: Overlay, context: MeasureContext): CurveOver {
  const clip = other.clip ?? ''
  return { clip: context.clip(clip)?.name ?? clip, ...curveBeside(measure, other, on, context) }
}

/// Figures of every measure that has a value on three frames or more.
export const curveFigures = (
  measures: readonly Measure[],
  context: MeasureContext,
  readings: ReadonlyMap<string, Reading>,
): CurveFigure[] => measures.flatMap((measure) => curveFigure(measure, context, readings.get(measure.id)) ?? [])

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
  /// Of another clip's curve; its dashes tell it apart as well.
  readonly other: Colour
  /// For who watches and has little time: no cut-offs in figures, and no line as placed beside the smoothed one.
  readonly brief: boolean
}

/// White paper, as figures are saved.
export const PAPER: CurvePage = {
  width: 1600,
  height: 900,
  left: 48,
  right: 1548,
  top: 40,
  foot: 866,
  heading: 40,
  small: 26,
  stroke: 4,
  ground: '#ffffff',
  ink: '#1d1f21',
  soft: '#595c60',
  grid: '#dddddd',
  curve: '#14505f',
  band: palette.hips,
  other: '#8f4a00',
  brief: false,
}

/// A card of a film: its type as large as on every card, clear of the captions' zone.
export function filmPage(width: number, height: number): CurvePage {
  const { captionTop, unit } = letteringOf(width, height)
  const small = 0.0405 * Math.min(width, height)
  return {
    width,
    height,
    left: 0.07 * width,
    right: 0.93 * width,
    top: 0.08 * height,
    foot: captionTop - 0.3 * small,
    heading: 1.3 * small,
    small,
    stroke: 6 * unit,
    ground: palette.card,
    ink: palette.text,
    soft: palette.lighter,
    grid: '#343a40',
    curve: palette.hips,
    band: palette.hips,
    other: palette.shoulders,
    brief: true,
  }
}

/// How far a frame that was reckoned from times may be off by their rounding.
const ROUNDING = 1e-6
/// The plot takes this share of the page at least; names of events go without a row before it takes less.
const LEAST_PLOT = 0.15

/// The figure as shapes that cover the page. Frames that were not placed leave a gap; nothing is drawn between them. Lines are told
/// apart without their colours: thin as placed, thick smoothed, dotted at the lower cut-off, dashed another clip's. Where only a range
/// can be said, the band stands alone, between thin edges.
export function drawCurve(figure: CurveFigure, typeface: Typeface, page: CurvePage = PAPER, title: string = figure.title): Shape[] {
  const { small, stroke } = page
  const line = (points: readonly Point[], width: number, colour: Colour, opacity = 1, more: Partial<StrokeStyle> = {}): Shape => ({
    kind: 'fill',
    rings: strokeRings(points, { width, cap: 'butt', ...more }),
    colour,
    opacity,
  })
  const head = headOf(figure, title, typeface, page)
  const frames = figure.points.map((p) => p.frame)
  const [first, last] = [Math.min(...frames), Math.max(...frames)]
  const laid = (figure.over?.points ?? []).filter(({ frame }) => frame >= first - ROUNDING && frame <= last + ROUNDING)
  const [least, most] = [
    Math.min(...[...figure.points, ...laid].map((p) => p.low)),
    Math.max(...[...figure.points, ...laid].map((p) => p.high)),
  ]
  const pad = 0.06 * Math.max(1e-9, most - least)
  const [low, high] = [least - pad, most + pad]
  const values = gridOf(low, high).map((value) => ({
    value,
    words: `${String(Number(value.toPrecision(6))).replace('-', '−')}${figure.unit === '°' ? '°' : ''}`,
  }))
  const left =
    page.left +
    widest(
      typeface,
      values.map(({ words }) => words),
      small,
      400,
    ) +
    0.6 * small
  const x = (frame: number): number => left + ((frame - first) / Math.max(1, last - first)) * (page.right - left)
  const foot = page.foot - 2.5 * small
  const mostRows = Math.max(
    1,
    Math.min(MOST_ROWS, Math.floor((foot - head.foot - 0.3 * small - LEAST_PLOT * page.height) / (1.25 * small))),
  )
  const { instant } = figure
  const named = [...figure.events, ...(instant ? [{ name: instant.name, frame: instant.at }] : [])]
  const names = rowsOfNames(
    named.filter(({ frame }) => frame >= first && frame <= last).map(({ name, frame }) => ({ name, at: x(frame) })),
    typeface,
    { small, left, right: page.right, mostRows },
  )
  const rows = Math.max(0, ...names.map(({ row }) => row + 1))
  const plot = { top: head.foot + rows * 1.25 * small + 0.3 * small, foot }
  const y = (value: number): number => plot.foot - ((value - low) / Math.max(1e-9, high - low)) * (plot.foot - plot.top)
  const bandOf = (run: readonly Pick<Laid, 'frame' | 'low' | 'high'>[]): Point[] => [
    ...run.map((p): Point => [x(p.frame), y(p.high)]),
    ...[...run].reverse().map((p): Point => [x(p.frame), y(p.low)]),
  ]
  const wayOf = (run: readonly { readonly frame: number; readonly value: number }[]): Point[] =>
    run.map((p): Point => [x(p.frame), y(p.value)])

  const shapes: Shape[] = [
    { kind: 'fill', rings: [boxRing(0, 0, page.width, page.height)], colour: page.ground, opacity: 1 },
    ...head.shapes,
  ]
  for (const { value, words } of values) {
    shapes.push(
      line(
        [
          [left, y(value)],
          [page.right, y(value)],
        ],
        0.4 * stroke,
        page.grid,
      ),
    )
    shapes.push(textShape(words, [left - 0.6 * small, y(value) + 0.35 * small], small, 400, page.soft, 'right'))
  }
  for (const frame of gridOf(first, last).filter(Number.isInteger))
    shapes.push(textShape(String(frame), [x(frame), plot.foot + 1.25 * small], small, 400, page.soft, 'middle'))
  shapes.push(textShape('footage frame', [(left + page.right) / 2, plot.foot + 2.25 * small], small, 400, page.soft, 'middle'))
  for (const { at, row, words, from } of names) {
    shapes.push(
      line(
        [
          [at, row < 0 ? plot.top : head.foot + (row + 0.2) * 1.25 * small],
          [at, plot.foot],
        ],
        0.6 * stroke,
        page.ink,
        0.7,
      ),
    )
    if (row >= 0) shapes.push(textShape(words, [from, head.foot + row * 1.25 * small + 0.95 * small], small, 400, page.ink))
  }
  if (instant && instant.latest > first && instant.earliest < last) {
    const [from, to] = [x(Math.max(first, instant.earliest)), x(Math.min(last, instant.latest))]
    shapes.push({
      kind: 'fill',
      rings: [boxRing(from, plot.top, Math.max(stroke, to - from), plot.foot - plot.top)],
      colour: page.soft,
      opacity: 0.25,
    })
  }
  const dashed = { dash: [4 * stroke, 2 * stroke] } as const
  for (const run of stretchesOf(laid, ({ there }) => there)) {
    const ends: Shape[] =
      run.length > 1
        ? []
        : run.map((p) =>
            line(
              [
                [x(p.frame), y(p.low)],
                [x(p.frame), y(p.high)],
              ],
              0.75 * stroke,
              page.other,
            ),
          )
    if (run.length > 1) {
      shapes.push({ kind: 'fill', rings: [bandOf(run)], colour: page.other, opacity: 0.16 })
      for (const edge of ['low', 'high'] as const)
        shapes.push(
          line(
            run.map((p): Point => [x(p.frame), y(p[edge])]),
            0.25 * stroke,
            page.other,
            0.6,
            dashed,
          ),
        )
    }
    shapes.push(...ends)
  }
  const tickAt = (p: CurvePoint): Shape =>
    line(
      [
        [x(p.frame) - 1.25 * stroke, y(p.value)],
        [x(p.frame) + 1.25 * stroke, y(p.value)],
      ],
      2.5 * stroke,
      page.curve,
    )
  const runs = stretchesOf(
    [...figure.points].sort((a, b) => a.frame - b.frame),
    ({ frame }) => frame,
  )
  const smoothed = new Set(figure.smooth.flat().map(({ frame }) => frame))
  for (const run of runs) {
    if (run.length > 1) {
      shapes.push({ kind: 'fill', rings: [bandOf(run)], colour: page.band, opacity: 0.3 })
      for (const range of stretchesOf(
        run.filter(({ range }) => range),
        ({ frame }) => frame,
      ))
        for (const edge of ['low', 'high'] as const)
          shapes.push(
            line(
              range.map((p): Point => [x(p.frame), y(p[edge])]),
              0.5 * stroke,
              page.curve,
            ),
          )
      for (const valued of lineStretchesOf(run, ({ frame }) => frame)) {
        const isSmoothed = valued.every(({ frame }) => smoothed.has(frame))
        if (valued.length > 1 && (!isSmoothed || !(page.brief || valued[0]!.lower)))
          shapes.push(line(wayOf(valued), isSmoothed ? 0.3 * stroke : stroke, page.curve, isSmoothed ? 0.9 : 1))
        else if (valued.length === 1) shapes.push(...valued.map(tickAt))
      }
    } else
      for (const p of run)
        shapes.push(
          line(
            [
              [x(p.frame), y(p.low)],
              [x(p.frame), y(p.high)],
            ],
            0.75 * stroke,
            page.curve,
          ),
          ...(p.range ? [] : [tickAt(p)]),
        )
  }
  for (const run of lineStretchesOf(laid, ({ there }) => there))
    if (run.length > 1) shapes.push(line(wayOf(run), 0.8 * stroke, page.other, 1, dashed))
  for (const piece of figure.smooth) {
    // Beneath the other: it shows where the two cut-offs part.
    shapes.push(
      line(
        piece.map((p): Point => [x(p.frame), y(p.lower)]),
        0.7 * stroke,
        page.ink,
        1,
        { dash: [0.8 * stroke, 0.8 * stroke] },
      ),
    )
    shapes.push(line(wayOf(piece), stroke, page.curve))
  }
  shapes.push(
    line(
      [
        [left, plot.top],
        [left, plot.foot],
        [page.right, plot.foot],
      ],
      0.6 * stroke,
      page.ink,
    ),
  )
  for (const peak of figure.peaks)
    shapes.push({ kind: 'fill', rings: [discRing([x(peak.frame), y(peak.value)], 1.6 * stroke)], colour: page.ink, opacity: 1 })
  const drawn = [...wayOf(figure.points.filter(({ range }) => !range)), ...figure.smooth.flatMap(wayOf), ...wayOf(laid)]
  return [
    ...shapes,
    ...peakLabels(
      figure.peaks.map((peak) => ({ ...peak, at: [x(peak.frame), y(peak.value)] })),
      {
        unit: figure.unit,
        size: small,
        ink: page.ink,
        ground: page.ground,
        typeface,
        room: { x: left + 0.3 * small, y: plot.top, width: page.right - left - 0.3 * small, height: plot.foot - plot.top - 0.2 * small },
        lines: names.map(({ at }) => at),
        drawn,
      },
    ),
  ]
}

/// Title, the instant that is told, what may be said of two curves, and what the lines and the band are, down to `foot`.
function headOf(
  figure: CurveFigure,
  title: string,
  typeface: Typeface,
  page: CurvePage,
): { readonly shapes: readonly Shape[]; readonly foot: number } {
  const { heading, small, left, right } = page
  const lines = wrapAtMost(typeface, title, heading, 700, right - left, 2)
  const note = wrapAtMost(typeface, noteOf(figure, page.brief), small, 400, right - left, 4)
  const said = [figure.instant?.words, figure.over?.words].flatMap((words) =>
    words === undefined ? [] : wrapAtMost(typeface, words, small, 700, right - left, 2),
  )
  const shapes = lines.map((words, i) => textShape(words, [left, page.top + 0.75 * heading + i * 1.14 * heading], heading, 700, page.ink))
  const under = page.top + lines.length * 1.14 * heading
  for (const [i, words] of said.entries()) shapes.push(textShape(words, [left, under + small + i * 1.25 * small], small, 700, page.ink))
  for (const [i, words] of note.entries())
    shapes.push(textShape(words, [left, under + small + (said.length + i) * 1.25 * small], small, 400, page.soft))
  return { shapes, foot: under + 0.55 * small + (said.length + note.length) * 1.25 * small }
}

/// "clip first evening; band: our 95 % estimate; smoothed at 10 Hz, dotted at 7 Hz, thin: as placed"; brief: "…; dotted: smoothed more".
function noteOf({ clip, unit, points, smooth, realTime, leftOut: left, over }: CurveFigure, brief: boolean): string {
  const cutoffs = smooth.flat().map(({ cutoff_hz }) => cutoff_hz)
  const hz = (share: number): string =>
    [...new Set([Math.min(...cutoffs), Math.max(...cutoffs)].map((each) => String(Number((share * each).toPrecision(2)))))].join('–')
  return [
    ...(unit === '°' || unit === '' ? [] : [`in ${unit}`]),
    `clip ${shortened(clip, 40)}`,
    ...(over && over.points.length > 0 ? [`dashed: clip ${shortened(over.clip, 40)}`] : []),
    over && over.points.length > 0 ? 'bands: our 95 % estimates' : 'band: our 95 % estimate',
    ...(points.some(({ range }) => range) ? ['no line: range only'] : []),
    ...(points.every(({ range }) => range)
      ? []
      : [
          cutoffs.length === 0
            ? 'not smoothed'
            : brief
              ? 'dotted: smoothed more'
              : `smoothed at ${hz(1)} Hz, dotted at ${hz(LOWER_SHARE)} Hz${realTime ? '' : ' of film time'}${points.some(({ lower }) => lower) ? '' : ', thin: as placed'}`,
        ]),
    ...(left === undefined ? [] : [`${left} further frames are placed and not drawn`]),
  ].join('; ')
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
function rowsOfNames(
  events: readonly { readonly name: string; readonly at: number }[],
  typeface: Typeface,
  { small, left, right, mostRows }: { readonly small: number; readonly left: number; readonly right: number; readonly mostRows: number },
): RowedName[] {
  const placed: {
    readonly at: number
    readonly row: number
    readonly start: number
    readonly end: number
    readonly from: number
    readonly to: number
  }[] = []
  const gap = 0.35 * small
  return [...events]
    .sort((a, b) => a.at - b.at)
    .map(({ name, at }) => {
      const words = wrapAtMost(typeface, name, small, 400, 0.45 * (right - left), 1)[0] ?? ''
      const wide = typeface.advance(words, small, 400)
      const sides = [at + gap, at - gap - wide].filter((from) => from >= left && from + wide <= right)
      for (const [row, from] of Array.from({ length: mostRows }, (_, row) => sides.map((side) => [row, side] as const)).flat()) {
        const [start, end] = [Math.min(at, from) - gap, Math.max(at, from + wide) + gap]
        const meets = placed.some((other) =>
          other.row === row
            ? other.start < end && start < other.end
            : other.row < row
              ? from <= other.at && other.at <= from + wide
              : other.from <= at && at <= other.to,
        )
        if (meets) continue
        placed.push({ at, row, start, end, from, to: from + wide })
        return { at, row, words, from }
      }
      return { at, row: -1, words: '', from: at }
    })
}
