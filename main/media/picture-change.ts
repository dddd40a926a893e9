/// What changes from one small grey picture of a film to the next: measured pair by pair, then read
/// as cuts, repeated frames and stills.

export interface Change {
  /// Mean absolute difference to the picture before, grey levels of 255.
  readonly mean: number
  /// The same in the 8 × 8 block that changed most: one moving fist is seen here, not in the mean.
  readonly peak: number
  /// Mean absolute difference to the picture before that one: small at the end of a flash.
  readonly meanOverTwo: number
  /// How far the picture before is from being a mix of its two neighbours, as a share of what moves
  /// between them: near 0 for a mixed frame and for small smooth motion, above 0.15 where a shot frame shows
  /// larger motion. Null where too little moves, or it is nearly one of the two.
  readonly mixBefore: number | null
}

const BLOCK = 8

/// Change of `now` against `before` (and `beforeThat`, null at the film's second frame).
export function changeBetween(now: Uint8Array, before: Uint8Array, beforeThat: Uint8Array | null, width: number): Change {
  const height = now.length / width
  const columns = Math.max(1, Math.floor(width / BLOCK))
  const rows = Math.max(1, Math.floor(height / BLOCK))
  const blocks = new Uint32Array(columns * rows)
  let total = 0
  let overTwo = 0
  for (let y = 0; y < height; y++) {
    const row = Math.min(rows - 1, (y / BLOCK) | 0) * columns
    for (let x = 0; x < width; x++) {
      const at = y * width + x
      const difference = Math.abs(now[at]! - before[at]!)
      total += difference
      blocks[row + Math.min(columns - 1, (x / BLOCK) | 0)]! += difference
      if (beforeThat) overTwo += Math.abs(now[at]! - beforeThat[at]!)
    }
  }
  let peak = 0
  for (const sum of blocks) if (sum > peak) peak = sum
  return {
    mean: total / now.length,
    peak: peak / (BLOCK * BLOCK),
    meanOverTwo: overTwo / now.length,
    mixBefore: beforeThat && mixResidual(now, before, beforeThat),
  }
}

/// Grey levels between the outer pictures from which a pixel counts as moved, and how many must have.
const MOVED = 12
const LEAST_MOVED = 40

/// Least squares for the share of `next` in `middle` over the pixels that move, then what is left.
function mixResidual(next: Uint8Array, middle: Uint8Array, first: Uint8Array): number | null {
  let moved = 0
  let cross = 0
  let square = 0
  let size = 0
  for (let i = 0; i < next.length; i++) {
    const span = next[i]! - first[i]!
    if (Math.abs(span) <= MOVED) continue
    moved++
    cross += span * (middle[i]! - first[i]!)
    square += span * span
    size += Math.abs(span)
  }
  const share = cross / square
  if (moved < LEAST_MOVED || share < 0.15 || share > 0.85) return null
  let left = 0
  for (let i = 0; i < next.length; i++) {
    const span = next[i]! - first[i]!
    if (Math.abs(span) > MOVED) left += Math.abs(middle[i]! - first[i]! - share * span)
  }
  return left / size
}

export interface Cut {
  /// First frame of the new picture.
  readonly frame: number
  /// 0–1: how far the change stands above its neighbours, in hundreds of grey levels.
  readonly score: number
}

const CUT_SCORE = 0.08
const AROUND = 4
const LONGEST_REPEAT = 8

/// Likely cuts: lone jumps of the whole picture, well above the change around them. A flash is no
/// cut (the picture after it is the picture before it). `changes[i]` belongs to frame i + 1.
/// Thresholds: set on films made for it and on the real films of the tests; no source.
export function findCuts(changes: readonly Change[]): readonly Cut[] {
  const cuts: Cut[] = []
  changes.forEach((change, i) => {
    const around = median(neighbours(changes, i, AROUND).map((c) => c.mean))
    const score = Math.min(1, (change.mean - around) / 100)
    const after = changes[i + 1]
    const flashBegins = after !== undefined && after.mean > 0.5 * change.mean && after.meanOverTwo < 0.35 * change.mean
    const flashEnds = change.meanOverTwo < 0.35 * change.mean && i > 0 && changes[i - 1]!.mean > 0.5 * change.mean
    if (score >= CUT_SCORE && change.mean >= 3 * around && !flashBegins && !flashEnds) cuts.push({ frame: i + 1, score })
  })
  return cuts
}

/// Frames that repeat the one before them while the film around moves. Equal up to coding noise.
/// A picture that stands for more than `LONGEST_REPEAT` frames is a still, not a row of repeats.
export function findRepeats(changes: readonly Change[]): readonly number[] {
  const repeats: number[] = []
  const stills = findStills(changes, LONGEST_REPEAT + 1)
  changes.forEach((change, i) => {
    if (stills.some((still) => i + 1 > still.from && i + 1 < still.to)) return
    const moving = median(
      neighbours(changes, i, AROUND)
        .map((c) => c.peak)
        .filter((peak) => peak > 0.5),
    )
    if (moving >= 4 && change.peak <= Math.max(0.3, 0.12 * moving)) repeats.push(i + 1)
  })
  return repeats
}

/// Frames that a rate conversion mixed from their two neighbours, as it does in a beat (every second frame
/// from 30 to 60 a second). Small smooth motion looks like a mix as well, frame after frame; so a mixed
/// frame must stand between frames that are none, and the beat must hold over the film. A conversion that
/// mixes every frame, and a lone dissolve, are not found.
export function findBlends(changes: readonly Change[]): readonly number[] {
  const left = (frame: number): number | null => changes[frame]?.mixBefore ?? null
  const shot = (frame: number, mixed: number): boolean => {
    const residual = left(frame)
    return residual === null || (residual > 0.15 && residual > 3 * mixed)
  }
  const mixes = [...changes.keys()].filter((frame) => {
    const residual = left(frame)
    return residual !== null && residual < 0.1 && shot(frame - 1, residual) && shot(frame + 1, residual)
  })
  const steps = mixes.slice(1).map((frame, i) => frame - mixes[i]!)
  const beat = median(steps)
  return steps.length >= 3 && beat <= 6 && steps.filter((step) => step === beat).length >= 0.6 * steps.length ? mixes : []
}

/// Spans of at least `least` frames in which nothing moves at all; `to` excluded.
export function findStills(changes: readonly Change[], least: number): readonly { readonly from: number; readonly to: number }[] {
  const stills: { from: number; to: number }[] = []
  let from = 0
  for (let i = 0; i <= changes.length; i++) {
    const moves = i === changes.length || changes[i]!.peak > 0.5
    if (!moves) continue
    if (i + 1 - from >= least) stills.push({ from, to: i + 1 })
    from = i + 1
  }
  return stills
}

/// The cycle in which repeats come, where they do: "1 of every 5".
export function repeatCycle(repeats: readonly number[], frames: number): { readonly repeated: number; readonly of: number } | null {
  if (repeats.length < 4) return null
  const steps = repeats.slice(1).map((frame, i) => frame - repeats[i]!)
  for (let of = 2; of <= 30; of++) {
    for (let repeated = 1; repeated < of; repeated++) {
      const sums = steps.slice(repeated - 1).map((_, i) => repeats[i + repeated]! - repeats[i]!)
      const fits = sums.filter((sum) => sum === of).length
      if (sums.length >= 3 && fits >= 0.8 * sums.length && Math.abs(repeats.length / frames - repeated / of) < 0.25 * (repeated / of))
        return reduce(repeated, of)
    }
  }
  return null
}

function reduce(repeated: number, of: number): { readonly repeated: number; readonly of: number } {
  for (let by = repeated; by > 1; by--) if (repeated % by === 0 && of % by === 0) return { repeated: repeated / by, of: of / by }
  return { repeated, of }
}

function neighbours(changes: readonly Change[], i: number, around: number): readonly Change[] {
  return [...changes.slice(Math.max(0, i - around), i), ...changes.slice(i + 1, i + 1 + around)]
}

function median(values: readonly number[]): number {
  if (values.length === 0) return 0
  const sorted = values.slice().sort((a, b) => a - b)
  return sorted[sorted.length >> 1]!
}
