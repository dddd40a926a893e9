import { toNumber, type Rational } from '../time/rational'
import { DOWN, FlashChannel, STEP, UP, type FlashFigure } from './flash-channel'
import { BRIGHT, RED, RED_APART, RISE, SCREEN } from './flash-definition'
import { chromaticityDistance, chromaticityOf, linearChannels, luminanceOf, redShare } from './light'
import type { PictureSize } from './picture-meter'

/// Size in which a film is handed to the meter: half of that in which it fits the definition's screen.
export function flashPicture(film: PictureSize): PictureSize {
  const scale = Math.min(SCREEN.width / film.width, SCREEN.height / film.height) / STEP
  return { width: Math.max(2, Math.round(film.width * scale)), height: Math.max(2, Math.round(film.height * scale)) }
}

export interface FlashReport {
  readonly frames: number
  readonly general: FlashFigure
  readonly red: FlashFigure
}

/// 8-bit light comes in steps: 0.10 as nearly as they allow is 0.10.
const EXACT = 1e-6

/// Takes a film's frames one after the other (8-bit sRGB, row by row) in the size of `flashPicture`, and
/// tells at any time what was found so far.
export class FlashMeter {
  readonly #general: FlashChannel
  readonly #red: FlashChannel
  /// The highest and lowest luminance since the last transition.
  readonly #peak: Float32Array
  readonly #valley: Float32Array
  /// The reddest, or the least red, state since the last transition to or from red.
  readonly #u: Float32Array
  readonly #v: Float32Array
  readonly #redness: Float32Array
  /// Whether a point's last state of note was a saturated red.
  readonly #redPhase: Uint8Array
  #frame = 0

  constructor(
    readonly size: PictureSize,
    rate: Rational,
  ) {
    const second = toNumber(rate)
    this.#general = new FlashChannel(size, second)
    this.#red = new FlashChannel(size, second)
    const cells = size.width * size.height
    this.#peak = new Float32Array(cells).fill(-1)
    this.#valley = new Float32Array(cells).fill(2)
    this.#u = new Float32Array(cells)
    this.#v = new Float32Array(cells)
    this.#redness = new Float32Array(cells).fill(-1)
    this.#redPhase = new Uint8Array(cells)
  }

  /// Throws RangeError for a picture of another size.
  add(rgb: Uint8Array): void {
    const cells = this.size.width * this.size.height
    if (rgb.length !== cells * 3) throw new RangeError(`${rgb.length} bytes are no picture of ${this.size.width} × ${this.size.height}`)
    const at = this.#frame++
    this.#followLight(rgb, cells, at)
    this.#followRed(rgb, cells, at)
    this.#general.endFrame(at)
    this.#red.endFrame(at)
  }

  report(): FlashReport {
    return { frames: this.#frame, general: this.#general.figure(), red: this.#red.figure() }
  }

  #followLight(rgb: Uint8Array, cells: number, at: number): void {
    const [peaks, valleys, linear] = [this.#peak, this.#valley, linearChannels]
    for (let i = 0, p = 0; i < cells; i++, p += 3) {
      const light = luminanceOf(
        linear[rgb[p] as number] as number,
        linear[rgb[p + 1] as number] as number,
        linear[rgb[p + 2] as number] as number,
      )
      const peak = peaks[i] as number
      const valley = valleys[i] as number
      if (peak - light >= RISE - EXACT && light < BRIGHT) {
        this.#general.note(i, at, DOWN)
        peaks[i] = valleys[i] = light
      } else if (light - valley >= RISE - EXACT && valley < BRIGHT) {
        this.#general.note(i, at, UP)
        peaks[i] = valleys[i] = light
      } else if (light > peak) {
        peaks[i] = light
        if (light < valley) valleys[i] = light
      } else if (light < valley) valleys[i] = light
    }
  }

  #followRed(rgb: Uint8Array, cells: number, at: number): void {
    const [phases, redness, linear] = [this.#redPhase, this.#redness, linearChannels]
    for (let i = 0, p = 0; i < cells; i++, p += 3) {
      const r = linear[rgb[p] as number] as number
      const g = linear[rgb[p + 1] as number] as number
      const b = linear[rgb[p + 2] as number] as number
      const known = redness[i] as number
      // R/(R+G+B) ≥ 0.8 without dividing; most points never come near.
      const isRed = r >= (RED / (1 - RED)) * (g + b) && r + g + b > 0
      if (!isRed && phases[i] === 0 && known >= 0 && r >= known * (r + g + b)) continue
      this.#noteRed(i, r, g, b, known, at)
    }
  }

  #noteRed(i: number, r: number, g: number, b: number, known: number, at: number): void {
    const share = redShare(r, g, b)
    const wasRed = this.#redPhase[i] === 1
    const isRed = share >= RED
    const apart = known >= 0 && (wasRed || isRed) && chromaticityDistance(r, g, b, this.#u[i] as number, this.#v[i] as number) > RED_APART
    if (wasRed !== isRed && (apart || known < 0)) {
      if (apart) this.#red.note(i, at, isRed ? UP : DOWN)
      this.#redPhase[i] = isRed ? 1 : 0
      this.#rememberRed(i, r, g, b, share)
    } else if (known < 0 || (wasRed ? share > known : share < known)) this.#rememberRed(i, r, g, b, share)
  }

  #rememberRed(i: number, r: number, g: number, b: number, share: number): void {
    const [u, v] = chromaticityOf(r, g, b)
    this.#u[i] = u
    this.#v[i] = v
    this.#redness[i] = share
  }
}
