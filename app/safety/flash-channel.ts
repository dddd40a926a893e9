import { FLASH_AREA, TRANSITIONS, WINDOW } from './flash-definition'
import type { PictureSize } from './picture-meter'

/// Pixels of the definition's screen that one point of a measured picture stands for, along one side.
export const STEP = 2

/// Which way a point's light, or its red, went.
export const [DOWN, UP] = [1, 2] as const

/// One kind of flash over a whole film.
export interface FlashFigure {
  readonly exceeded: boolean
  /// The largest part of any window on which more than three flashes fell within one second, 0–1.
  readonly share: number
  /// Frames at whose end the limit stood exceeded, as half-open stretches, each with the largest part within it.
  readonly stretches: readonly { readonly from: number; readonly to: number; readonly share: number }[]
}

/// One kind of transition: when the last ones were at every point, and how large a part of a window had too many.
export class FlashChannel {
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
        const sum =
          (this.#sums[(y + h) * row + x + w] as number) -
          (this.#sums[y * row + x + w] as number) -
          (this.#sums[(y + h) * row + x] as number) +
          (this.#sums[y * row + x] as number)
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
    for (let y = 0; y <= Math.max(0, this.#rows - 4); y++)
      for (let x = 0; x <= Math.max(0, this.#columns - 4); x++) this.#windows.push({ x, y, last: 0, times: [], share: [] })
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
          if (window.times.length === TRANSITIONS && at - (window.times[0] as number) <= this.second)
            most = Math.max(most, Math.min(1, ...window.share))
        }
      }
    this.#noted = 0
    for (const counts of this.#now) counts.fill(0)
    return most
  }

  #sum(x: number, y: number, way: 1 | 2): number {
    const counts = this.#now[way - 1] as Float64Array
    let sum = 0
    for (let row = y; row < Math.min(this.#rows, y + 4); row++)
      for (let column = x; column < Math.min(this.#columns, x + 4); column++) sum += counts[row * this.#columns + column] as number
    return sum
  }
}
