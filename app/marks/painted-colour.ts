import type { Colour } from './shape'

/// ffmpeg's `ass` filter turns colours into Y'CbCr by BT.601's matrix whatever the film's own (measured on builds of 2018 and 2022;
/// from 7.1 on it goes by the frame's tag). A film coded by BT.709 would show every colour shifted.
export type Matrix = 'bt601' | 'bt709'

const WEIGHTS: Readonly<Record<Matrix, readonly [number, number]>> = { bt601: [0.299, 0.114], bt709: [0.2126, 0.0722] }

/// The colour to ask a BT.601 painter for, so that a film coded by `matrix` shows `colour`. What lies outside
/// the painter's range is brought to its edge.
export function paintedColour(colour: Colour, matrix: Matrix): Colour {
  if (matrix === 'bt601') return colour
  const [r, g, b] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16)) as [number, number, number]
  const [kr, kb] = WEIGHTS[matrix]
  const y = kr * r + (1 - kr - kb) * g + kb * b
  const [cb, cr] = [(b - y) / (2 - 2 * kb), (r - y) / (2 - 2 * kr)]
  const [pr, pb] = WEIGHTS.bt601
  const [red, blue] = [y + (2 - 2 * pr) * cr, y + (2 - 2 * pb) * cb]
  const green = (y - pr * red - pb * blue) / (1 - pr - pb)
  const hex = (c: number): string =>
    Math.round(Math.min(255, Math.max(0, c)))
      .toString(16)
      .padStart(2, '0')
  return `#${hex(red)}${hex(green)}${hex(blue)}`
}
