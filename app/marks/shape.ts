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
