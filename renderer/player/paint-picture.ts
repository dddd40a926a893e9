import { paintCanvas } from '../../app/marks/canvas'
import type { DrawContext } from '../../app/marks/draw-context'
import { drawFrame } from '../../app/marks/frame-drawing'
import type { Picture } from '../../app/programme/programme'
import type { FilmFrames } from './film-frames'

/// The canvas behind pictures and behind cards, as in the render.
const CANVAS_COLOUR = '#101214'
const CARD_COLOUR = '#14181b'

/// Paints a picture of the programme, panels and marks, in one task. `framesFor` gives a panel's film. Answers whether
/// every panel was there, and whether all were whole pictures; nothing is painted when one is missing.
export function paintPicture(
  surface: CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D,
  picture: Picture,
  context: DrawContext,
  framesFor: (footage: string) => FilmFrames | null,
  moving: boolean,
): 'missing' | 'small' | 'full' {
  const panels = picture.panels.map((panel) => ({
    panel,
    film: framesFor(panel.footage),
    taken: framesFor(panel.footage)?.take(panel.frame) ?? null,
  }))
  if (panels.some(({ taken }) => taken === null)) return 'missing'
  surface.setTransform(1, 0, 0, 1, 0, 0)
  surface.globalAlpha = 1
  surface.fillStyle = picture.panels.length > 0 ? CANVAS_COLOUR : CARD_COLOUR
  surface.fillRect(0, 0, context.width, context.height)
  surface.imageSmoothingEnabled = true
  surface.imageSmoothingQuality = moving || panels.some(({ taken }) => taken?.detail === 'small') ? 'low' : 'high'
  for (const { panel, film, taken } of panels) {
    if (!film || !taken) continue
    const [x, y, width, height] = panel.place
    const { a, b, c, d, e, f } = panel.toCanvas
    surface.save()
    surface.beginPath()
    surface.rect(x, y, width, height)
    surface.clip()
    surface.globalAlpha = panel.opacity
    surface.setTransform(a, b, c, d, e, f)
    surface.drawImage(taken.picture, 0, 0, film.width, film.height)
    surface.restore()
  }
  paintCanvas(surface, drawFrame(picture, context), context.typeface)
  return panels.every(({ taken }) => taken?.detail === 'full') ? 'full' : 'small'
}
