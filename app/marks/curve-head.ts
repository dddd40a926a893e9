import { LOWER_SHARE } from '../measure/smooth-curve'
import type { CurveFigure } from './curve-figure'
import type { CurvePage } from './curve-page'
import { shortened, textShape, wrapAtMost } from './set-text'
import type { Shape } from './shape'
import type { Typeface } from './typeface'

/// Title, the instant that is told, what may be said of two curves, and what the lines and the band are, down to `foot`.
export function headOf(
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
function noteOf(figure: CurveFigure, brief: boolean): string {
  const { clip, unit, points, leftOut, over } = figure
  const isCompared = over !== undefined && over.points.length > 0
  return [
    ...(unit === '°' || unit === '' ? [] : [`in ${unit}`]),
    `clip ${shortened(clip, 40)}`,
    ...(isCompared ? [`dashed: clip ${shortened(over.clip, 40)}`] : []),
    isCompared ? 'bands: our 95 % estimates' : 'band: our 95 % estimate',
    ...(points.some(({ range }) => range) ? ['no line: range only'] : []),
    ...(points.every(({ range }) => range) ? [] : [smoothingOf(figure, brief)]),
    ...(leftOut === undefined ? [] : [`${leftOut} further frames are placed and not drawn`]),
  ].join('; ')
}

/// How the line that is drawn was smoothed.
function smoothingOf({ points, smooth, realTime }: CurveFigure, brief: boolean): string {
  const cutoffs = smooth.flat().map(({ cutoff_hz }) => cutoff_hz)
  if (cutoffs.length === 0) return 'not smoothed'
  if (brief) return 'dotted: smoothed more'
  const hz = (share: number): string =>
    [...new Set([Math.min(...cutoffs), Math.max(...cutoffs)].map((each) => String(Number((share * each).toPrecision(2)))))].join('–')
  const time = realTime ? '' : ' of film time'
  const asPlaced = points.some(({ lower }) => lower) ? '' : ', thin: as placed'
  return `smoothed at ${hz(1)} Hz, dotted at ${hz(LOWER_SHARE)} Hz${time}${asPlaced}`
}
