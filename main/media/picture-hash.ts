/// What a picture looks like, in 64 bits: the signs of its coarse waves. Coding, scaling and brightness hardly move them;
/// another picture moves about half of them.
/// Source: the DCT hash of C. Zauner, "Implementation and Benchmarking of Perceptual Image Hash Functions" (2010): a
/// cosine transform of 32 × 32 grey pixels, 8 × 8 low frequencies without the constant ones, against their median.

/// Side of the grey picture that is hashed.
export const HASHED_SIDE = 32
const KEPT = 8
/// Mean size of the waves under which a picture has no shape that could be told from coding noise, grey levels.
const LEAST_SHAPE = 1.2

export interface PictureHash {
  readonly high: number
  readonly low: number
  /// Of the same picture as in a mirror.
  readonly mirroredHigh: number
  readonly mirroredLow: number
  /// Nothing is seen in it: black, white, one colour.
  readonly blank: boolean
}

/// `basis[u]` is the wave of frequency u + 1 over the side.
const basis: readonly Float64Array[] = Array.from({ length: KEPT }, (_, u) =>
  Float64Array.from(
    { length: HASHED_SIDE },
    (_pixel, x) => Math.cos(((2 * x + 1) * (u + 1) * Math.PI) / (2 * HASHED_SIDE)) * Math.sqrt(2 / HASHED_SIDE),
  ),
)

/// The hash of a grey picture of `HASHED_SIDE` × `HASHED_SIDE` pixels, row by row.
export function pictureHash(grey: Uint8Array): PictureHash {
  const rows = new Float64Array(HASHED_SIDE * KEPT)
  for (let y = 0; y < HASHED_SIDE; y++)
    for (let u = 0; u < KEPT; u++) {
      let sum = 0
      for (let x = 0; x < HASHED_SIDE; x++) sum += grey[y * HASHED_SIDE + x]! * basis[u]![x]!
      rows[y * KEPT + u] = sum
    }
  const waves = new Float64Array(KEPT * KEPT)
  const mirrored = new Float64Array(KEPT * KEPT)
  let size = 0
  for (let v = 0; v < KEPT; v++)
    for (let u = 0; u < KEPT; u++) {
      let sum = 0
      for (let y = 0; y < HASHED_SIDE; y++) sum += rows[y * KEPT + u]! * basis[v]![y]!
      waves[v * KEPT + u] = sum
      // A mirror turns the odd waves about; frequency 1 is u = 0.
      mirrored[v * KEPT + u] = u % 2 === 0 ? -sum : sum
      size += Math.abs(sum)
    }
  const [high, low] = signs(waves)
  const [mirroredHigh, mirroredLow] = signs(mirrored)
  // A wave of one grey level has a size of half the side.
  return { high, low, mirroredHigh, mirroredLow, blank: size / waves.length < LEAST_SHAPE * (HASHED_SIDE / 16) }
}

function signs(waves: Float64Array): readonly [number, number] {
  const sorted = Float64Array.from(waves).sort()
  const median = (sorted[31]! + sorted[32]!) / 2
  let [high, low] = [0, 0]
  for (let i = 0; i < 32; i++) {
    if (waves[i]! > median) high |= 1 << i
    if (waves[32 + i]! > median) low |= 1 << i
  }
  return [high >>> 0, low >>> 0]
}

/// In how many of 64 bits two hashes differ.
export function bitsApart(highA: number, lowA: number, highB: number, lowB: number): number {
  return ones(highA ^ highB) + ones(lowA ^ lowB)
}

function ones(word: number): number {
  let n = word - ((word >>> 1) & 0x55555555)
  n = (n & 0x33333333) + ((n >>> 2) & 0x33333333)
  return Math.imul((n + (n >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24
}
