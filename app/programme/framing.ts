import type { Rectangle } from '../project/fields'

/// Which part of a source picture is shown, and where it lies on the canvas.

export interface Size {
  readonly width: number
  readonly height: number
}

const even = (x: number): number => Math.round(x / 2) * 2

/// `wanted` brought inside the picture, on whole even pixels (what a 4:2:0 picture can be cut at).
/// Absent: the whole picture.
export function shownRectangle(wanted: Rectangle | undefined, picture: Size): Rectangle {
  if (!wanted) return [0, 0, picture.width, picture.height]
  const width = Math.max(2, Math.min(even(wanted[2]), picture.width - (picture.width % 2)))
  const height = Math.max(2, Math.min(even(wanted[3]), picture.height - (picture.height % 2)))
  const clamp = (at: number, size: number, whole: number): number => Math.max(0, Math.min(even(at), whole - (whole % 2) - size))
  return [clamp(wanted[0], width, picture.width), clamp(wanted[1], height, picture.height), width, height]
}

/// The smallest rectangle of shape width:height that holds `inner`, about its centre, moved (and if
/// need be shrunk) to lie inside the picture. Not rounded: a moving frame is cut between pixels.
export function reshaped(inner: Rectangle, shape: Size, picture: Size): Rectangle {
  const ratio = shape.width / shape.height
  let width = Math.max(inner[2], inner[3] * ratio)
  let height = width / ratio
  const shrink = Math.min(1, picture.width / width, picture.height / height)
  width *= shrink
  height *= shrink
  const clamp = (at: number, size: number, whole: number): number => Math.max(0, Math.min(at, whole - size))
  return [
    clamp(inner[0] + inner[2] / 2 - width / 2, width, picture.width),
    clamp(inner[1] + inner[3] / 2 - height / 2, height, picture.height),
    width,
    height,
  ]
}

/// The largest place of the shape of `shown` in the middle of `cell`, on whole even pixels.
export function fittedInto(shown: Rectangle, cell: Rectangle): Rectangle {
  const scale = Math.min(cell[2] / shown[2], cell[3] / shown[3])
  const width = Math.min(cell[2], Math.max(2, even(shown[2] * scale)))
  const height = Math.min(cell[3], Math.max(2, even(shown[3] * scale)))
  return [cell[0] + even((cell[2] - width) / 2), cell[1] + even((cell[3] - height) / 2), width, height]
}

/// Cells of `count` panels on a canvas: side by side or one above the other, a gap of four pixels between.
export function cellsOf(count: number, layout: 'beside' | 'above' | 'over', canvas: Size): Rectangle[] {
  const whole: Rectangle = [0, 0, canvas.width, canvas.height]
  if (layout === 'over') return Array.from({ length: count }, () => whole)
  const gap = 4
  const length = layout === 'beside' ? canvas.width : canvas.height
  const size = Math.floor((length - gap * (count - 1)) / count / 2) * 2
  return Array.from({ length: count }, (_, i) => {
    const at = i * (size + gap)
    return layout === 'beside' ? [at, 0, size, canvas.height] : [0, at, canvas.width, size]
  })
}

/// How far a move has come at `at` of `frames` frames: 0 to 1, slow at both ends.
export function moveProgress(at: number, frames: number): number {
  const p = frames <= 1 ? 0 : at / (frames - 1)
  return p * p * (3 - 2 * p)
}

/// The rectangle shown on the way between two.
export function betweenRectangles(first: Rectangle, last: Rectangle, progress: number): Rectangle {
  const mix = (i: 0 | 1 | 2 | 3): number => first[i] + (last[i] - first[i]) * progress
  return [mix(0), mix(1), mix(2), mix(3)]
}
