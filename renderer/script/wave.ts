import { waveAddress } from '../../app/contract/addresses'

/// Loudness of takes for drawing, read once each: one value from 0 to 1 for each 1/100 s.
const known = new Map<string, Promise<Float32Array | null>>()

export function waveOf(take: string): Promise<Float32Array | null> {
  const there = known.get(take)
  if (there) return there
  const read = fetch(waveAddress(take))
    .then(async (answer) => (answer.ok ? peaksOf(new DataView(await answer.arrayBuffer())) : null))
    .catch(() => null)
  known.set(take, read)
  void read.then((wave) => wave ?? known.delete(take))
  return read
}

function peaksOf(bytes: DataView): Float32Array {
  const peaks = new Float32Array(Math.floor(bytes.byteLength / 4))
  for (let i = 0; i < peaks.length; i++)
    peaks[i] = Math.min(1, Math.max(-bytes.getInt16(4 * i, true), bytes.getInt16(4 * i + 2, true)) / 32767)
  return peaks
}

/// Horizontal strokes down a column `height` px long and `width` px wide, about its middle: one every 3 px, as long as
/// the sound there is loud.
export function waveStrokes(peaks: Float32Array, height: number, width: number): string {
  const loudest = Math.max(0.05, ...peaks)
  const count = Math.max(1, Math.floor(height / 3))
  const strokes: string[] = []
  for (let i = 0; i < count; i++) {
    const part = peaks.subarray(
      Math.floor((i * peaks.length) / count),
      Math.max(Math.floor((i * peaks.length) / count) + 1, Math.floor(((i + 1) * peaks.length) / count)),
    )
    const half = Math.max(1, (width / 2) * Math.sqrt(Math.max(0, ...part) / loudest))
    strokes.push(`M${(width / 2 - half).toFixed(1)} ${i * 3 + 1.5}H${(width / 2 + half).toFixed(1)}`)
  }
  return strokes.join('')
}
