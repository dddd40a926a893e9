import { gridOf } from '../measure/curve'
import { withMinus } from '../measure/minus'
import type { Laid } from '../measure/smooth-curve'
import type { CurveFigure } from './curve-figure'
import { MOST_ROWS, rowsOfNames, type RowedName } from './curve-names'
import type { CurvePage } from './curve-page'
import { widest } from './set-text'
import type { Typeface } from './typeface'

/// Where a figure's frames and values lie on its page, and the events' names above them.
export interface Plot {
  readonly page: CurvePage
  readonly left: number
  readonly top: number
  readonly foot: number
  /// The frames that the figure's own curve begins and ends on.
  readonly first: number
  readonly last: number
  /// Where a frame lies across the page, and a value down it.
  readonly x: (frame: number) => number
  readonly y: (value: number) => number
  /// Values of the grid, as they are written beside it.
  readonly values: readonly { readonly value: number; readonly words: string }[]
  readonly names: readonly RowedName[]
  /// Upper edge of a row of names.
  readonly rowTop: (row: number) => number
  /// Of the other clip's curve what lies between the first frame and the last.
  readonly laid: readonly Laid[]
}

/// How far a frame that was reckoned from times may be off by their rounding.
const ROUNDING = 1e-6
/// The plot takes this share of the page at least; names of events go without a row before it takes less.
const LEAST_PLOT = 0.15

/// The plot between the figure's head, which ends at `headFoot`, and the foot of the page.
export function plotOf(figure: CurveFigure, headFoot: number, typeface: Typeface, page: CurvePage): Plot {
  const { small, right } = page
  const frames = figure.points.map((p) => p.frame)
  const [first, last] = [Math.min(...frames), Math.max(...frames)]
  const laid = (figure.over?.points ?? []).filter(({ frame }) => frame >= first - ROUNDING && frame <= last + ROUNDING)
  const [low, high] = rangeOf([...figure.points, ...laid])
  const values = gridOf(low, high).map((value) => ({
    value,
    words: `${withMinus(String(Number(value.toPrecision(6))))}${figure.unit === '°' ? '°' : ''}`,
  }))
  const valuesWords = values.map(({ words }) => words)
  const left = page.left + widest(typeface, valuesWords, small, 400) + 0.6 * small
  const x = (frame: number): number => left + ((frame - first) / Math.max(1, last - first)) * (right - left)
  const foot = page.foot - 2.5 * small
  const roomForRows = foot - headFoot - 0.3 * small - LEAST_PLOT * page.height
  const mostRows = Math.max(1, Math.min(MOST_ROWS, Math.floor(roomForRows / (1.25 * small))))
  const { instant } = figure
  const named = [...figure.events, ...(instant ? [{ name: instant.name, frame: instant.at }] : [])]
  const names = rowsOfNames(
    named.filter(({ frame }) => frame >= first && frame <= last).map(({ name, frame }) => ({ name, at: x(frame) })),
    typeface,
    { small, left, right, mostRows },
  )
  const rows = Math.max(0, ...names.map(({ row }) => row + 1))
  const top = headFoot + rows * 1.25 * small + 0.3 * small
  const y = (value: number): number => foot - ((value - low) / Math.max(1e-9, high - low)) * (foot - top)
  return { page, left, top, foot, first, last, x, y, values, names, rowTop: (row) => headFoot + row * 1.25 * small, laid }
}

/// From the least to the greatest end of the bands, with a little room beyond.
function rangeOf(points: readonly { readonly low: number; readonly high: number }[]): readonly [number, number] {
  const [least, most] = [Math.min(...points.map((p) => p.low)), Math.max(...points.map((p) => p.high))]
  const pad = 0.06 * Math.max(1e-9, most - least)
  return [least - pad, most + pad]
}
