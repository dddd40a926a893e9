import { paintCanvas } from '../../app/marks/canvas'
import { drawCurve } from '../../app/marks/curve-drawing'
import type { CurveFigure } from '../../app/marks/curve-figure'
import { PAPER } from '../../app/marks/curve-page'
import { writeSvg } from '../../app/marks/svg'
import type { Typeface } from '../../app/marks/typeface'

interface Props {
  readonly figure: CurveFigure
  readonly typeface: Typeface
  readonly csv: string
  /// Puts the curve into the film as a card; null where nothing may be changed.
  readonly onIntoFilm: (() => void) | null
}

/// Saves the curve as outlines, as a picture, or as values, or puts it into the film.
export function SaveCurve({ figure, typeface, csv, onIntoFilm }: Props) {
  const name = `curve-${figure.measure}`
  const svg = (): Blob => new Blob([writeSvg(drawCurve(figure, typeface), PAPER, typeface, figure.title)], { type: 'image/svg+xml' })
  const png = async (): Promise<Blob> => {
    const canvas = new OffscreenCanvas(PAPER.width, PAPER.height)
    const surface = canvas.getContext('2d', { alpha: false })
    if (!surface) throw new Error('there is no canvas')
    paintCanvas(surface, drawCurve(figure, typeface), typeface)
    return canvas.convertToBlob({ type: 'image/png' })
  }
  return (
    <span className="save-curve">
      <button type="button" onClick={() => save(svg(), `${name}.svg`)} aria-label="Save the curve as SVG">
        SVG
      </button>
      <button type="button" onClick={() => void png().then((file) => save(file, `${name}.png`))} aria-label="Save the curve as PNG">
        PNG
      </button>
      <button type="button" onClick={() => save(new Blob([csv], { type: 'text/csv' }), `${name}.csv`)} aria-label="Save the curve as CSV">
        CSV
      </button>
      {onIntoFilm && (
        <button
          type="button"
          onClick={onIntoFilm}
          title="put the curve into the film, as a card: F"
          aria-label="Put the curve into the film"
        >
          Film
        </button>
      )}
    </span>
  )
}

function save(file: Blob, name: string): void {
  const address = URL.createObjectURL(file)
  Object.assign(document.createElement('a'), { href: address, download: name }).click()
  setTimeout(() => URL.revokeObjectURL(address), 10_000)
}
