import type { Cepstra } from './cepstra'

/// Dynamic time warping within a band about the straight line (Sakoe & Chiba 1978, IEEE Trans. ASSP 26:43).

/// For each frame listed in `of` the place in `onto` that it falls on, both lists of frame numbers, rising. `radius`:
/// how far from the straight line, in frames. Steps: one on in both, or one held; a held step costs `HELD` more.
export function warpFrames(a: Cepstra, of: Int32Array, b: Cepstra, onto: Int32Array, radius: number): Float32Array {
  const [n, m] = [of.length, onto.length]
  if (n === 0 || m === 0) return new Float32Array(n)
  const slope = n > 1 ? (m - 1) / (n - 1) : 0
  const reach = Math.max(radius, Math.ceil(slope) + 2)
  const width = 2 * reach + 1
  const from = new Uint8Array(n * width)
  let last = new Float64Array(width).fill(Infinity)
  let lastLow = 0
  for (let i = 0; i < n; i++) {
    const low = Math.round(i * slope) - reach
    const here = new Float64Array(width).fill(Infinity)
    for (let w = 0; w < width; w++) {
      const j = low + w
      if (j < 0 || j >= m) continue
      const cost = distance(a, of[i] as number, b, onto[j] as number)
      if (i === 0 && j === 0) {
        here[w] = cost
        continue
      }
      const up = last[j - lastLow] ?? Infinity
      const across = last[j - 1 - lastLow] ?? Infinity
      const along = w > 0 ? (here[w - 1] as number) : Infinity
      const steps = [across + cost, up + cost * HELD, along + cost * HELD]
      const best = steps[0]! <= steps[1]! && steps[0]! <= steps[2]! ? 0 : steps[1]! <= steps[2]! ? 1 : 2
      here[w] = steps[best] as number
      from[i * width + w] = best
    }
    last = here
    lastLow = low
  }
  const firsts = new Float32Array(n)
  for (let i = n - 1, j = m - 1; i >= 0 && j >= 0;) {
    firsts[i] = j
    const w = j - (Math.round(i * slope) - reach)
    const step = w >= 0 && w < width ? from[i * width + w] : 0
    if (i === 0 && j === 0) break
    if (step !== 2 || j === 0) i--
    if (step !== 1 || i < 0) j--
  }
  return firsts
}

const HELD = 1.25

function distance(a: Cepstra, i: number, b: Cepstra, j: number): number {
  let sum = 0
  const [x, y] = [i * a.width, j * b.width]
  for (let k = 0; k < a.width; k++) sum += ((a.values[x + k] as number) - (b.values[y + k] as number)) ** 2
  return Math.sqrt(sum)
}
