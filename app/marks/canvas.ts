import type { Shape } from './shape'
import type { Typeface } from './typeface'
import { drawnText } from './drawn-text'

/// What painting needs of a 2D canvas context; a browser's `CanvasRenderingContext2D` has it.
export interface PaintContext {
  globalAlpha: number
  fillStyle: unknown
  font: string
  textAlign: 'left' | 'right' | 'center' | 'start' | 'end'
  textBaseline: 'alphabetic' | 'top' | 'hanging' | 'middle' | 'ideographic' | 'bottom'
  save(): void
  restore(): void
  beginPath(): void
  moveTo(x: number, y: number): void
  lineTo(x: number, y: number): void
  bezierCurveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void
  closePath(): void
  fill(rule?: 'nonzero' | 'evenodd'): void
  fillText(text: string, x: number, y: number): void
}

/// Paints shapes in order on a context whose units are canvas pixels. The same outlines are filled as
/// the render fills; a line with characters that the face lacks is left to the context's own fonts.
export function paintCanvas(context: PaintContext, shapes: readonly Shape[], typeface: Typeface): void {
  context.save()
  for (const shape of shapes) {
    context.globalAlpha = shape.opacity
    context.fillStyle = shape.colour
    if (shape.kind === 'text') paintText(context, shape, typeface)
    else {
      context.beginPath()
      for (const ring of shape.rings) {
        ring.forEach(([x, y], i) => (i === 0 ? context.moveTo(x, y) : context.lineTo(x, y)))
        context.closePath()
      }
      context.fill('nonzero')
    }
  }
  context.restore()
}

function paintText(context: PaintContext, shape: Extract<Shape, { kind: 'text' }>, typeface: Typeface): void {
  const width = typeface.advance(shape.text, shape.size, shape.weight)
  const left = shape.at[0] - (shape.align === 'left' ? 0 : shape.align === 'middle' ? width / 2 : width)
  const y = shape.at[1]
  const outline = typeface.outline(shape.text, shape.size, shape.weight)
  if (!outline) {
    context.font = `${shape.weight} ${shape.size}px "${typeface.family}", sans-serif`
    context.textAlign = 'left'
    context.textBaseline = 'alphabetic'
    context.fillText(drawnText(shape.text), left, y)
    return
  }
  context.beginPath()
  outline.forEach((step, i) => {
    const [atX, atY] = [left + step.at[0], y + step.at[1]]
    if (step.to === 'move') {
      if (i > 0) context.closePath()
      context.moveTo(atX, atY)
    } else if (step.to === 'line') context.lineTo(atX, atY)
    else context.bezierCurveTo(left + step.first[0], y + step.first[1], left + step.second[0], y + step.second[1], atX, atY)
  })
  context.closePath()
  context.fill('nonzero')
}
