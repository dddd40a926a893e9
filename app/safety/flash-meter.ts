import { toNumber, type Rational } from '../time/rational'
import { chromaticityDistance, chromaticityOf, linearChannels, luminanceOf, redShare } from './light'

/// Flashes after W3C's definition "general flash and red flash thresholds" (WCAG 2.x, success criterion 2.3.1).
/// A transition is the change between neighbouring peaks and valleys of a point's light over time; two
/// opposing ones are a flash. A general flash changes relative luminance by 0.10 or more, the darker state below
/// 0.80. A red flash goes to or from a state whose R/(R+G+B) is 0.8 or more, more than 0.2 away in the CIE 1976
/// chromaticity diagram (the working definition of WCAG 2.2, after ISO 9241-391). Too much: more than three flashes
/// within any one second on more than a quarter of any 341 × 256 pixels of a screen of 1024 × 768.

/// The share of the window that may flash.
export const FLASH_AREA = 0.25
/// Flashes allowed within any one second.
export const FLASHES_ALLOWED = 3
const SCREEN = { width: 1024, height: 768 }
const WINDOW = { width: 341, height: 256 }
const RISE = 0.1
const BRIGHT = 0.8
const RED = 0.8
const RED_APART = 0.2
/// Pixels of the screen that one point of the meter stands for, along one side.
const STEP = 2
/// Opposing transitions that make one flash more than allowed.
const TRANSITIONS = 2 * (FLASHES_ALLOWED + 1)

export interface PictureSize {
  readonly width: number
  readonly height: number
}

/// Size in which a film is handed to the meter: half of that in which it fits the definition's screen.
export function flashPicture(film: PictureSize): PictureSize {
  const scale = Math.min(SCREEN.width / film.width, SCREEN.height / film.height) / STEP
  return { width: Math.max(2, Math.round(film.width * scale)), height: Math.max(2, Math.round(film.height * scale)) }
}

/// One kind of flash over a whole film.
export interface FlashFigure {
  readonly exceeded: boolean
  /// The largest part of any window on which more than three flashes fell within one second, 0–1.
  readonly share: number
  /// Frames at whose end the limit stood exceeded, as half-open stretches, each with the largest part within it.
  readonly stretches: readonly { readonly from: number; readonly to: number; readonly share: number }[]
}

export interface FlashReport {
  readonly frames: number
  readonly general: FlashFigure
  readonly red: FlashFigure
}

/// Takes a film's frames one after the other (8-bit sRGB, row by row) in the size of `flashPicture`, and
/// tells at any time what was found so far.
export class FlashMeter {
  readonly #general: Channel
  readonly #red: Channel
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
    this.#general = new Channel(size, second)
    this.#red = new Channel(size, second)
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
      const light = luminanceOf(linear[rgb[p] as number] as number, linear[rgb[p + 1] as number] as number, linear[rgb[p + 2] as number] as number)
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

/// 8-bit light comes in steps: 0.10 as nearly as they allow is 0.10.
const EXACT = 1e-6
const [DOWN, UP] = [1, 2] as const

/// One kind of transition: when the last ones were at every point, and how large a part of a window had too many.
class Channel {
  readonly #times: Float64Array
  readonly #count: Uint8Array
  readonly #last: Uint8Array
  readonly #over: Uint8Array
  readonly #sums: Int32Array
  readonly #window: { readonly width: number; readonly height: number; readonly area: number }
  readonly #tiles: Tiles
  #news = 0
  #share = 0
  readonly #stretches: { from: number; to: number; share: number }[] = []
  #until = -1

  constructor(
    private readonly size: PictureSize,
    private readonly second: number,
  ) {
    const cells = size.width * size.height
    this.#times = new Float64Array(cells * TRANSITIONS).fill(-Infinity)
    this.#count = new Uint8Array(cells)
    this.#last = new Uint8Array(cells)
    this.#over = new Uint8Array(cells)
    this.#sums = new Int32Array((size.width + 1) * (size.height + 1))
    this.#window = {
      width: Math.min(size.width, Math.ceil(WINDOW.width / STEP)),
      height: Math.min(size.height, Math.ceil(WINDOW.height / STEP)),
      area: (WINDOW.width * WINDOW.height) / STEP ** 2,
    }
    this.#tiles = new Tiles(size, this.#window, second)
  }

  note(i: number, at: number, way: 1 | 2): void {
    // A rise behind a rise is still the same way up: only opposing changes count.
    if (this.#last[i] === way) return
    this.#last[i] = way
    const slot = this.#count[i] as number
    this.#times[i * TRANSITIONS + slot] = at
    this.#count[i] = (slot + 1) % TRANSITIONS
    this.#tiles.note(i, way)
    // The slot that comes next holds the earliest of the last eight.
    if (at - (this.#times[i * TRANSITIONS + ((slot + 1) % TRANSITIONS)] as number) <= this.second) this.#news++
  }

  endFrame(at: number): void {
    if (this.#news > 0) {
      this.#news = 0
      this.#exceed(this.#largestShare(at), at)
    }
    this.#exceed(this.#tiles.endFrame(at), at)
  }

  figure(): FlashFigure {
    return { exceeded: this.#stretches.length > 0, share: this.#share, stretches: this.#stretches }
  }

  #exceed(share: number, at: number): void {
    this.#share = Math.max(this.#share, share)
    if (share <= FLASH_AREA) return
    const last = this.#stretches.at(-1)
    if (last && at <= this.#until + this.second) {
      last.to = at + 1
      last.share = Math.max(last.share, share)
    } else this.#stretches.push({ from: at, to: at + 1, share })
    this.#until = at
  }

  /// The largest part of any window whose points each had too many flashes in the second up to `at`.
  #largestShare(at: number): number {
    const { width, height } = this.size
    const times = this.#times
    let any = 0
    for (let i = 0; i < this.#over.length; i++) {
      const over = at - (times[i * TRANSITIONS + (this.#count[i] as number)] as number) <= this.second ? 1 : 0
      this.#over[i] = over
      any += over
    }
    if (any === 0) return 0
    const row = width + 1
    for (let y = 0; y < height; y++) {
      let line = 0
      for (let x = 0; x < width; x++) {
        line += this.#over[y * width + x] as number
        this.#sums[(y + 1) * row + x + 1] = (this.#sums[y * row + x + 1] as number) + line
      }
    }
    let most = 0
    const { width: w, height: h, area } = this.#window
    for (let y = 0; y + h <= height; y++)
      for (let x = 0; x + w <= width; x++) {
        const sum = (this.#sums[(y + h) * row + x + w] as number) - (this.#sums[y * row + x + w] as number) - (this.#sums[(y + h) * row + x] as number) + (this.#sums[y * row + x] as number)
        if (sum > most) most = sum
      }
    return Math.min(1, most / area)
  }
}

/// Catches flashing that wanders: transitions of a quarter of a window at once, whichever points they are, counted like
/// those of one point. Windows lie a quarter of their size apart.
class Tiles {
  readonly #columns: number
  readonly #rows: number
  readonly #tile: { readonly width: number; readonly height: number }
  readonly #now: readonly [Float64Array, Float64Array]
  readonly #windows: { readonly x: number; readonly y: number; last: number; readonly times: number[]; share: number[] }[] = []
  readonly #area: number
  #noted = 0

  constructor(
    private readonly size: PictureSize,
    window: { readonly width: number; readonly height: number; readonly area: number },
    private readonly second: number,
  ) {
    this.#tile = { width: window.width / 4, height: window.height / 4 }
    this.#columns = Math.ceil(size.width / this.#tile.width)
    this.#rows = Math.ceil(size.height / this.#tile.height)
    this.#now = [new Float64Array(this.#columns * this.#rows), new Float64Array(this.#columns * this.#rows)]
    this.#area = window.area
    for (let y = 0; y <= Math.max(0, this.#rows - 4); y++) for (let x = 0; x <= Math.max(0, this.#columns - 4); x++) this.#windows.push({ x, y, last: 0, times: [], share: [] })
  }

  note(i: number, way: 1 | 2): void {
    const x = Math.floor((i % this.size.width) / this.#tile.width)
    const y = Math.floor(Math.floor(i / this.size.width) / this.#tile.height)
    const counts = this.#now[way - 1] as Float64Array
    const tile = y * this.#columns + x
    counts[tile] = (counts[tile] as number) + 1
    this.#noted++
  }

  /// The part of a window that has changed at once more often than allowed within a second; 0 when none has.
  endFrame(at: number): number {
    if (this.#noted === 0) return 0
    let most = 0
    if (this.#noted > FLASH_AREA * this.#area)
      for (const window of this.#windows) {
        for (const way of [DOWN, UP]) {
          const share = this.#sum(window.x, window.y, way) / this.#area
          if (share <= FLASH_AREA || window.last === way) continue
          window.last = way
          window.times.push(at)
          window.share.push(share)
          if (window.times.length > TRANSITIONS) {
            window.times.shift()
            window.share.shift()
          }
          if (window.times.length === TRANSITIONS && at - (window.times[0] as number) <= this.second) most = Math.max(most, Math.min(1, ...window.share))
        }
      }
    this.#noted = 0
    for (const counts of this.#now) counts.fill(0)
    return most
  }

  #sum(x: number, y: number, way: 1 | 2): number {
    const counts = this.#now[way - 1] as Float64Array
    let sum = 0
    for (let row = y; row < Math.min(this.#rows, y + 4); row++) for (let column = x; column < Math.min(this.#columns, x + 4); column++) sum += counts[row * this.#columns + column] as number
    return sum
  }
}
