import { drawnText } from './drawn-text'
import type { Point } from '../project/fields'
import type { Shape } from './shape'
import type { Typeface } from './typeface'

/// The third painter: shapes as a Scalable Vector Graphics file (W3C SVG 1.1), which any browser shows and no other
/// font is needed for: letters are the face's own outlines. A line with characters that the face lacks is written as text.
export function writeSvg(
  shapes: readonly Shape[],
  size: { readonly width: number; readonly height: number },
  typeface: Typeface,
  title: string,
): string {
  const body = shapes.map((shape) => (shape.kind === 'fill' ? fillElement(shape) : textElement(shape, typeface))).join('\n')
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${size.width}" height="${size.height}" viewBox="0 0 ${size.width} ${size.height}">
<title>${xmlText(title)}</title>
${body}
</svg>
`
}

const number = (x: number): string => String(Math.round(x * 1000) / 1000)
const point = ([x, y]: Point): string => `${number(x)} ${number(y)}`
const paint = (shape: Shape): string => `fill="${shape.colour}"${shape.opacity < 1 ? ` fill-opacity="${number(shape.opacity)}"` : ''}`

const fillElement = (shape: Extract<Shape, { kind: 'fill' }>): string =>
  `<path ${paint(shape)} d="${shape.rings
    .filter((ring) => ring.length > 2)
    .map((ring) => `M${ring.map(point).join('L')}Z`)
    .join('')}"/>`

function textElement(shape: Extract<Shape, { kind: 'text' }>, typeface: Typeface): string {
  const width = typeface.advance(shape.text, shape.size, shape.weight)
  const left = shape.at[0] - (shape.align === 'left' ? 0 : shape.align === 'middle' ? width / 2 : width)
  const outline = typeface.outline(shape.text, shape.size, shape.weight)
  if (!outline)
    return `<text x="${number(left)}" y="${number(shape.at[1])}" font-family="${xmlText(typeface.family)}, sans-serif" font-size="${number(shape.size)}" font-weight="${shape.weight}" ${paint(shape)}>${xmlText(drawnText(shape.text))}</text>`
  const place = ([x, y]: Point): string => point([x + left, y + shape.at[1]])
  const steps = outline.map((step) =>
    step.to === 'curve'
      ? `C${place(step.first)} ${place(step.second)} ${place(step.at)}`
      : `${step.to === 'move' ? 'M' : 'L'}${place(step.at)}`,
  )
  return `<path ${paint(shape)} d="${steps.join('')}"/>`
}

const xmlText = (text: string): string =>
  drawnText(text).replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;')
