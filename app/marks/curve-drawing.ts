import { gridOf, type CurvePoint } from '../measure/curve'
import { lineStretchesOf, stretchesOf, type Laid, type SmoothPoint } from '../measure/smooth-curve'
import type { Point } from '../project/fields'
import type { CurveFigure } from './curve-figure'
import { headOf } from './curve-head'
import { PAPER, type CurvePage } from './curve-page'
import { peakLabels } from './curve-peaks'
import { plotOf, type Plot } from './curve-plot'
import { textShape } from './set-text'
import type { Colour, Shape } from './shape'
import { boxRing, discRing, strokeRings, type StrokeStyle } from './stroke'
import type { Typeface } from './typeface'

/// The figure as shapes that cover the page. Frames that were not placed leave a gap; nothing is drawn between them. Lines are told
/// apart without their colours: thin as placed, thick smoothed, dotted at the lower cut-off, dashed another clip's. Where only a range
/// can be said, the band stands alone, between thin edges.
export function drawCurve(figure: CurveFigure, typeface: Typeface, page: CurvePage = PAPER, title: string = figure.title): Shape[] {
  const head = headOf(figure, title, typeface, page)
  const plot = plotOf(figure, head.foot, typeface, page)
  return [
    box(0, 0, page.width, page.height, page.ground),
    ...head.shapes,
    ...valueGrid(plot),
    ...frameNumbers(plot),
    ...eventLines(plot),
    ...instantBand(figure, plot),
    ...otherBands(plot),
    ...placedCurve(figure, plot),
    ...otherLines(plot),
    ...figure.smooth.flatMap((piece) => smoothedPiece(piece, plot)),
    axes(plot),
    ...peakDots(figure, plot),
    ...labelsOfPeaks(figure, plot, typeface),
  ]
}

const line = (points: readonly Point[], width: number, colour: Colour, opacity = 1, more: Partial<StrokeStyle> = {}): Shape => ({
  kind: 'fill',
  rings: strokeRings(points, { width, cap: 'butt', ...more }),
  colour,
  opacity,
})

const box = (x: number, y: number, width: number, height: number, colour: Colour, opacity = 1): Shape => ({
  kind: 'fill',
  rings: [boxRing(x, y, width, height)],
  colour,
  opacity,
})

type Banded = Pick<Laid, 'frame' | 'low' | 'high'>

/// Along the upper ends of the bands and back along the lower ones.
const bandRing = (run: readonly Banded[], { x, y }: Plot): Point[] => [
  ...run.map((p): Point => [x(p.frame), y(p.high)]),
  ...[...run].reverse().map((p): Point => [x(p.frame), y(p.low)]),
]

/// The upper and the lower edge of a band.
const edgesOf = (run: readonly Banded[], { x, y }: Plot): Point[][] =>
  (['low', 'high'] as const).map((edge) => run.map((p): Point => [x(p.frame), y(p[edge])]))

/// A single frame's band, from its lower end to its upper one.
const bandOfOne = ({ frame, low, high }: Banded, { x, y, page: { stroke } }: Plot, colour: Colour): Shape =>
  line(
    [
      [x(frame), y(low)],
      [x(frame), y(high)],
    ],
    0.75 * stroke,
    colour,
  )

/// Along the values.
const wayOf = (run: readonly { readonly frame: number; readonly value: number }[], { x, y }: Plot): Point[] =>
  run.map((p): Point => [x(p.frame), y(p.value)])

const dashesOf = ({ stroke }: CurvePage): Partial<StrokeStyle> => ({ dash: [4 * stroke, 2 * stroke] })

const valueGrid = ({ page, left, y, values }: Plot): Shape[] =>
  values.flatMap(({ value, words }) => [
    line(
      [
        [left, y(value)],
        [page.right, y(value)],
      ],
      0.4 * page.stroke,
      page.grid,
    ),
    textShape(words, [left - 0.6 * page.small, y(value) + 0.35 * page.small], page.small, 400, page.soft, 'right'),
  ])

const frameNumbers = ({ page: { small, soft, right }, left, foot, first, last, x }: Plot): Shape[] => [
  ...gridOf(first, last)
    .filter(Number.isInteger)
    .map((frame) => textShape(String(frame), [x(frame), foot + 1.25 * small], small, 400, soft, 'middle')),
  textShape('footage frame', [(left + right) / 2, foot + 2.25 * small], small, 400, soft, 'middle'),
]

/// A line down from each event's name; one that found no room for it has the line alone.
const eventLines = ({ page: { small, stroke, ink }, top, foot, names, rowTop }: Plot): Shape[] =>
  names.flatMap(({ at, row, words, from }) => [
    line(
      [
        [at, row < 0 ? top : rowTop(row + 0.2)],
        [at, foot],
      ],
      0.6 * stroke,
      ink,
      0.7,
    ),
    ...(row < 0 ? [] : [textShape(words, [from, rowTop(row) + 0.95 * small], small, 400, ink)]),
  ])

/// The bracket of the instant that the measure's value is.
function instantBand({ instant }: CurveFigure, { page, top, foot, first, last, x }: Plot): Shape[] {
  if (!instant || instant.latest <= first || instant.earliest >= last) return []
  const [from, to] = [x(Math.max(first, instant.earliest)), x(Math.min(last, instant.latest))]
  return [box(from, top, Math.max(page.stroke, to - from), foot - top, page.soft, 0.25)]
}

/// The bands of the other clip's curve, between dashed edges.
function otherBands(plot: Plot): Shape[] {
  const { page, laid } = plot
  return stretchesOf(laid, ({ there }) => there).flatMap((run): Shape[] =>
    run.length > 1
      ? [
          { kind: 'fill', rings: [bandRing(run, plot)], colour: page.other, opacity: 0.16 },
          ...edgesOf(run, plot).map((edge) => line(edge, 0.25 * page.stroke, page.other, 0.6, dashesOf(page))),
        ]
      : run.map((p) => bandOfOne(p, plot, page.other)),
  )
}

/// The other clip's curve, where a value can be said.
function otherLines(plot: Plot): Shape[] {
  const { page, laid } = plot
  return lineStretchesOf(laid, ({ there }) => there)
    .filter((run) => run.length > 1)
    .map((run) => line(wayOf(run, plot), 0.8 * page.stroke, page.other, 1, dashesOf(page)))
}

/// The curve as it was placed, with its band, unbroken run by unbroken run.
function placedCurve({ points, smooth }: CurveFigure, plot: Plot): Shape[] {
  const smoothed = new Set(smooth.flat().map(({ frame }) => frame))
  const inOrder = [...points].sort((a, b) => a.frame - b.frame)
  return stretchesOf(inOrder, ({ frame }) => frame).flatMap((run): Shape[] =>
    run.length > 1 ? placedRun(run, smoothed, plot) : run.flatMap((p) => placedAlone(p, plot)),
  )
}

function placedRun(run: readonly CurvePoint[], smoothed: ReadonlySet<number>, plot: Plot): Shape[] {
  const { page } = plot
  const ranges = stretchesOf(
    run.filter(({ range }) => range),
    ({ frame }) => frame,
  )
  return [
    { kind: 'fill', rings: [bandRing(run, plot)], colour: page.band, opacity: 0.3 },
    ...ranges.flatMap((range) => edgesOf(range, plot).map((edge) => line(edge, 0.5 * page.stroke, page.curve))),
    ...lineStretchesOf(run, ({ frame }) => frame).flatMap((valued) => placedLine(valued, smoothed, plot)),
  ]
}

/// Thin where a smoothed line lies over it; not drawn there at all where there is little time to read it, or where its kind low-passes
/// by itself, so that both lines are one.
function placedLine(valued: readonly CurvePoint[], smoothed: ReadonlySet<number>, plot: Plot): Shape[] {
  const { page } = plot
  if (valued.length < 2) return valued.map((p) => tickAt(p, plot))
  const way = wayOf(valued, plot)
  if (!valued.every(({ frame }) => smoothed.has(frame))) return [line(way, page.stroke, page.curve)]
  return page.brief || valued[0]!.lower ? [] : [line(way, 0.3 * page.stroke, page.curve, 0.9)]
}

const placedAlone = (p: CurvePoint, plot: Plot): Shape[] => [bandOfOne(p, plot, plot.page.curve), ...(p.range ? [] : [tickAt(p, plot)])]

/// A value with no other beside it.
const tickAt = ({ frame, value }: CurvePoint, { x, y, page: { stroke, curve } }: Plot): Shape =>
  line(
    [
      [x(frame) - 1.25 * stroke, y(value)],
      [x(frame) + 1.25 * stroke, y(value)],
    ],
    2.5 * stroke,
    curve,
  )

/// The lower cut-off's line beneath the other: it shows where the two part.
const smoothedPiece = (piece: readonly SmoothPoint[], plot: Plot): Shape[] => {
  const { stroke, ink, curve } = plot.page
  const lower = piece.map(({ frame, lower: value }) => ({ frame, value }))
  return [line(wayOf(lower, plot), 0.7 * stroke, ink, 1, { dash: [0.8 * stroke, 0.8 * stroke] }), line(wayOf(piece, plot), stroke, curve)]
}

const axes = ({ page, left, top, foot }: Plot): Shape =>
  line(
    [
      [left, top],
      [left, foot],
      [page.right, foot],
    ],
    0.6 * page.stroke,
    page.ink,
  )

const peakDots = ({ peaks }: CurveFigure, plot: Plot): Shape[] =>
  wayOf(peaks, plot).map((at) => ({ kind: 'fill', rings: [discRing(at, 1.6 * plot.page.stroke)], colour: plot.page.ink, opacity: 1 }))

/// The peaks' values, clear of the events' lines, and of every curve where they can be.
function labelsOfPeaks({ peaks, points, smooth, unit }: CurveFigure, plot: Plot, typeface: Typeface): Shape[] {
  const { page, left, top, foot, x, y, names, laid } = plot
  const { small, right, ink, ground } = page
  return peakLabels(
    peaks.map((peak) => ({ ...peak, at: [x(peak.frame), y(peak.value)] })),
    {
      unit,
      size: small,
      ink,
      ground,
      typeface,
      room: { x: left + 0.3 * small, y: top, width: right - left - 0.3 * small, height: foot - top - 0.2 * small },
      lines: names.map(({ at }) => at),
      drawn: [points.filter(({ range }) => !range), ...smooth, laid].flatMap((run) => wayOf(run, plot)),
    },
  )
}
