import type { Point } from '../project/fields'

/// What is drawn on a finished frame, in canvas pixels. Two painters take this and nothing else:
/// one writes ASS events for the render, one draws on a canvas for the window. So that both fill
/// the same outlines, strokes are already polygons here.
export type Shape =
  /// Filled polygons (non-zero winding), each a closed ring of points.
  | { readonly kind: 'fill'; readonly rings: readonly (readonly Point[])[]; readonly colour: Colour; readonly opacity: number }
  /// One line of text. `at` is the left, middle or right end of its baseline by `align`;
  /// `size` is the em size in pixels.
  | {
      readonly kind: 'text'
      readonly text: string
      readonly at: Point
      readonly align: 'left' | 'middle' | 'right'
      readonly size: number
      readonly weight: 400 | 700
      readonly colour: Colour
      readonly opacity: number
    }

/// "#rrggbb".
export type Colour = `#${string}`

/// Whether two lists of shapes draw the same, point by point.
export const sameShapes = (a: readonly Shape[], b: readonly Shape[]): boolean =>
  a.length === b.length && a.every((shape, i) => sameShape(shape, b[i] as Shape))

function sameShape(a: Shape, b: Shape): boolean {
  if (a === b) return true
  if (a.colour !== b.colour || a.opacity !== b.opacity) return false
  if (a.kind === 'text')
    return (
      b.kind === 'text' && samePoint(a.at, b.at) && a.text === b.text && a.size === b.size && a.weight === b.weight && a.align === b.align
    )
  return (
    b.kind === 'fill' &&
    a.rings.length === b.rings.length &&
    a.rings.every((ring, i) => {
      const other = b.rings[i] as readonly Point[]
      return ring === other || (ring.length === other.length && ring.every((p, k) => samePoint(p, other[k] as Point)))
    })
  )
}

const samePoint = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1]
