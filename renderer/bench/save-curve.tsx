import { paintCanvas } from '../../app/marks/canvas'
import { writeSvg } from '../../app/marks/svg'
import type { Typeface } from '../../app/marks/typeface'
import { drawCurve, FIGURE, type CurveFigure } from '../../app/release/curve-figure'

interface Props {
  readonly figure: CurveFigure
  readonly typeface: Typeface
  readonly csv: string
}

/// Saves the curve as outlines, as a picture, or as values.
export function SaveCurve({ figure, typeface, csv }: Props) {
  const name = `curve-${figure.measure}`
  const svg = (): Blob => new Blob([writeSvg(drawCurve(figure), FIGURE, typeface, figure.title)], { type: 'image/svg+xml' })
  const png = async (): Promise<Blob> => {
    const canvas = new OffscreenCanvas(FIGURE.width, FIGURE.height)
    const surface = canvas.getContext('2d', { alpha: false })
    if (!surface) throw new Error('there is no canvas')
    paintCanvas(surface, drawCurve(figure), typeface)
    return canvas.convertToBlob({ type: 'image/png' })
  }
  return (
    <span className="save-curve">
      <button type="button" onClick={() => save(svg(), `${name}.svg`)} aria-label="Save the curve as SVG">SVG</button>
      <button type="button" onClick={() => void png().then((file) => save(file, `${name}.png`))} aria-label="Save the curve as PNG">PNG</button>
      <button type="button" onClick={() => save(new Blob([csv], { type: 'text/csv' }), `${name}.csv`)} aria-label="Save the curve as CSV">CSV</button>
    </span>
  )
}

function save(file: Blob, name: string): void {
  const address = URL.createObjectURL(file)
  Object.assign(document.createElement('a'), { href: address, download: name }).click()
  setTimeout(() => URL.revokeObjectURL(address), 10_000)
}
