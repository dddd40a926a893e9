import { linearChannels, luminanceOf } from './light'

/// Of a picture that is handed to a meter, pixels.
export interface PictureSize {
  readonly width: number
  readonly height: number
}

/// A stretch of frames, half open.
export interface Stretch {
  readonly from: number
  readonly to: number
}

/// Relative luminance under which a point is black, and the share of points that may be brighter in a black picture.
const BLACK = 0.004
const SPECKS = 0.005
/// Mean change of the 8-bit channels under which a picture is the one before it.
const SAME = 0.12
/// Only every so-manieth point along each side is looked at.
const EVERY = 3

/// Looks for black pictures and for pictures that stand still, frame by frame.
export class PictureMeter {
  readonly #before: Uint8Array
  #frame = 0
  readonly #black: { from: number; to: number }[] = []
  readonly #still: { from: number; to: number }[] = []

  constructor(private readonly size: PictureSize) {
    this.#before = new Uint8Array(3 * Math.ceil(size.width / EVERY) * Math.ceil(size.height / EVERY))
  }

  add(rgb: Uint8Array): void {
    const at = this.#frame++
    let [points, bright, change, k] = [0, 0, 0, 0]
    for (let y = 0; y < this.size.height; y += EVERY)
      for (let x = 0; x < this.size.width; x += EVERY, points++) {
        const p = 3 * (y * this.size.width + x)
        const [r, g, b] = [rgb[p] as number, rgb[p + 1] as number, rgb[p + 2] as number]
        if (luminanceOf(linearChannels[r] as number, linearChannels[g] as number, linearChannels[b] as number) > BLACK) bright++
        change +=
          Math.abs(r - (this.#before[k] as number)) +
          Math.abs(g - (this.#before[k + 1] as number)) +
          Math.abs(b - (this.#before[k + 2] as number))
        this.#before[k++] = r
        this.#before[k++] = g
        this.#before[k++] = b
      }
    if (bright <= SPECKS * points) extend(this.#black, at)
    if (at > 0 && change <= SAME * 3 * points) extend(this.#still, at)
  }

  /// Stretches of black pictures.
  get black(): readonly Stretch[] {
    return this.#black
  }

  /// Stretches of frames each of which shows what the one before it shows.
  get still(): readonly Stretch[] {
    return this.#still
  }
}

function extend(stretches: { from: number; to: number }[], at: number): void {
  const last = stretches.at(-1)
  if (last?.to === at) last.to = at + 1
  else stretches.push({ from: at, to: at + 1 })
}
