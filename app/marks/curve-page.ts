import { letteringOf } from './lettering'
import { palette } from './palette'
import type { Colour } from './shape'

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
