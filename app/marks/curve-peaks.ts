import type { Peak } from '../measure/smooth-curve'
import { valueWithError } from '../measure/wording'
import type { Point } from '../project/fields'
import { intersection, type Box } from './box'
import { textBounds, textShape } from './set-text'
import type { Colour, Shape } from './shape'
import { boxRing } from './stroke'
import type { Typeface } from './typeface'

/// A peak and where it lies on the page.
export interface PlacedPeak extends Pick<Peak, 'value' | 'half' | 'way'> {
  readonly at: Point
}

export interface PeakPage {
  readonly unit: string
  /// Em size of the labels.
  readonly size: number
  readonly ink: Colour
  readonly ground: Colour
  readonly typeface: Typeface
  /// Where labels may lie.
  readonly room: Box
  /// Upright lines that none may cross, by their x.
  readonly lines: readonly number[]
  /// Points of curves that labels keep clear of where they can.
  readonly drawn: readonly Point[]
}

/// Each peak's value with its error, beyond its curve where there is room, else where it covers least; one that finds no place clear
/// of the other labels and of the lines has none.
export function peakLabels(peaks: readonly PlacedPeak[], page: PeakPage): Shape[] {
  const { typeface, size, room, ink } = page
  const taken: Box[] = []
  return peaks.flatMap(({ value, half, way, at }): Shape[] => {
    const words = valueWithError(value, half, page.unit)
    const away = way === 'highest' ? -1 : 1
    const found = [1, 1.8, 2.8, -1, -1.8, -2.8, 4, -4].flatMap((up) =>
      [0, 0.5, -0.5, 1, -1, 1.6, -1.6].map((aside) => {
        const shape = textShape(
          words,
          [at[0] + aside * typeface.advance(words, size, 400), at[1] + up * away * size + 0.35 * size],
          size,
          400,
          ink,
          'middle',
        )
        return { shape, box: textBounds(shape, typeface), far: Math.abs(up) + Math.abs(aside) + (up < 0 ? 1 : 0) }
      }),
    )
    const free = found.filter(
      ({ box }) =>
        isIn(box, room) &&
        !page.lines.some((x) => x >= box.x - 2 && x <= box.x + box.width + 2) &&
        taken.every((other) => !intersection(box, other)),
    )
    const cost = ({ box, far }: (typeof found)[number]): number => far + 3 * covered(box, page.drawn)
    const best = free.reduce<(typeof found)[number] | null>(
      (least, each) => (least === null || cost(each) < cost(least) ? each : least),
      null,
    )
    if (!best) return []
    taken.push(best.box)
    const { x, y, width, height } = best.box
    return [
      ...(covered(best.box, page.drawn) > 0
        ? [{ kind: 'fill' as const, rings: [boxRing(x, y, width, height)], colour: page.ground, opacity: 0.75 }]
        : []),
      best.shape,
    ]
  })
}

const isIn = (box: Box, room: Box): boolean =>
  box.x >= room.x && box.y >= room.y && box.x + box.width <= room.x + room.width && box.y + box.height <= room.y + room.height

const covered = (box: Box, points: readonly Point[]): number =>
  points.filter(([x, y]) => x >= box.x && x <= box.x + box.width && y >= box.y && y <= box.y + box.height).length
