/// Grey levels of one frame, row by row from the top left, 0 to 255. Points are in pixels of the picture: (0, 0) is its
/// top-left corner, pixel centres lie at + 0.5.
export interface GreyPicture {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array | Float32Array
}

/// Grey of RGBA bytes: 0.299 R + 0.587 G + 0.114 B (ITU-R BT.601's luma weights). The weights only decide what contrast the
/// tracker sees, so one set serves every film.
export function greyOf(rgba: Uint8ClampedArray, width: number, height: number): GreyPicture {
  const data = new Uint8Array(width * height)
  for (let i = 0, k = 0; i < data.length; i++, k += 4) data[i] = (rgba[k]! * 77 + rgba[k + 1]! * 150 + rgba[k + 2]! * 29 + 128) >> 8
  return { width, height, data }
}

/// A square cut out of a picture and halved again and again. Level l's pixel (i, j) lies on level 0's (i·2ˡ, j·2ˡ);
/// `left` and `top` are level 0's first pixel in the picture. What lies beyond the picture repeats its edge.
export interface Region {
  readonly left: number
  readonly top: number
  readonly levels: readonly Level[]
}

/// A square of grey levels, row by row.
export interface Level {
  readonly side: number
  readonly data: Float32Array
}

/// The region of `2·reach` pixels around a point. `reach` is a multiple of 2^(levels − 1).
export function regionAround(picture: GreyPicture, x: number, y: number, reach: number, levels: number): Region {
  const left = Math.floor(x) - reach
  const top = Math.floor(y) - reach
  const side = 2 * reach
  const base = new Float32Array(side * side)
  const { width, height, data } = picture
  const inside = left >= 0 && left + side <= width
  for (let j = 0; j < side; j++) {
    const row = Math.min(height - 1, Math.max(0, top + j)) * width
    if (inside) for (let i = 0, k = j * side, from = row + left; i < side; i++) base[k + i] = data[from + i]!
    else for (let i = 0, k = j * side; i < side; i++) base[k + i] = data[row + Math.min(width - 1, Math.max(0, left + i))]!
  }
  const made: Level[] = [{ side, data: base }]
  for (let level = 1; level < levels; level++) made.push(halved(made[level - 1]!))
  return { left, top, levels: made }
}

/// Half the size, each pixel the (1 2 1)/4 mean across and down of those around it.
function halved({ side, data }: Level): Level {
  const half = side >> 1
  const across = new Float32Array(half * side)
  for (let j = 0; j < side; j++) {
    const row = j * side
    across[j * half] = 0.75 * data[row]! + 0.25 * data[row + 1]!
    for (let i = 1; i < half; i++)
      across[j * half + i] = 0.25 * (data[row + 2 * i - 1]! + data[row + 2 * i + 1]!) + 0.5 * data[row + 2 * i]!
  }
  const out = new Float32Array(half * half)
  for (let j = 0; j < half; j++) {
    const above = Math.max(0, 2 * j - 1) * half
    const here = 2 * j * half
    const below = here + half
    for (let i = 0; i < half; i++) out[j * half + i] = 0.25 * (across[above + i]! + across[below + i]!) + 0.5 * across[here + i]!
  }
  return { side: half, data: out }
}

/// Grey levels of a square patch of `2·radius + 1` about (x, y), which are pixel indices of `level` and may lie between
/// pixels; written to `into`, and their mean answered. Beyond the level its edge repeats.
export function patchAt(level: Level, x: number, y: number, radius: number, into: Float32Array): number {
  const { side, data } = level
  const size = 2 * radius + 1
  const x0 = Math.floor(x) - radius
  const y0 = Math.floor(y) - radius
  const fx = x - Math.floor(x)
  const fy = y - Math.floor(y)
  const [w00, w10, w01, w11] = [(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy]
  let sum = 0
  if (x0 >= 0 && y0 >= 0 && x0 + size < side && y0 + size < side) {
    for (let j = 0, k = 0; j < size; j++) {
      let at = (y0 + j) * side + x0
      let a = data[at]!
      let c = data[at + side]!
      for (let i = 0; i < size; i++, k++) {
        at++
        const b = data[at]!
        const d = data[at + side]!
        const value = w00 * a + w10 * b + w01 * c + w11 * d
        into[k] = value
        sum += value
        a = b
        c = d
      }
    }
  } else {
    const top = side - 1
    for (let j = 0, k = 0; j < size; j++) {
      const r0 = Math.min(top, Math.max(0, y0 + j)) * side
      const r1 = Math.min(top, Math.max(0, y0 + j + 1)) * side
      for (let i = 0; i < size; i++, k++) {
        const c0 = Math.min(top, Math.max(0, x0 + i))
        const c1 = Math.min(top, Math.max(0, x0 + i + 1))
        const value = w00 * data[r0 + c0]! + w10 * data[r0 + c1]! + w01 * data[r1 + c0]! + w11 * data[r1 + c1]!
        into[k] = value
        sum += value
      }
    }
  }
  return sum / (size * size)
}
