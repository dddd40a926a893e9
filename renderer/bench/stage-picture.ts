import type { Affine } from '../../app/programme/affine'
import type { Size } from './stage-view'

/// The film's own picture on the stage.

/// Beneath and about it.
export const STAGE_COLOUR = '#101214'

interface PictureScene {
  readonly film: Size
  /// Stage pixels to one canvas pixel.
  readonly density: number
  /// Brightness and contrast of the picture alone, 1 as it is.
  readonly brightness: number
  readonly contrast: number
}

export function paintFilm(surface: CanvasRenderingContext2D, scene: PictureScene, picture: ImageBitmap, m: Affine, scale: number): void {
  surface.save()
  surface.transform(m.a, m.b, m.c, m.d, m.e, m.f)
  // From three times its size on, a pixel is shown as the square that it is.
  surface.imageSmoothingEnabled = scale * scene.density < 3
  // Shrunk to less than half, a picture needs more than its four nearest pixels; else that costs a step half its time for nothing.
  surface.imageSmoothingQuality = picture.width > 2 * scene.film.width * scale * scene.density ? 'medium' : 'low'
  if (scene.brightness !== 1 || scene.contrast !== 1) surface.filter = `brightness(${scene.brightness}) contrast(${scene.contrast})`
  surface.drawImage(picture, 0, 0, scene.film.width, scene.film.height)
  surface.restore()
}
