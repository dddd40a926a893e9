import { HASHED_SIDE, pictureHash } from '../../../main/media/picture-hash'
import { SMALL_SIDE, TRACK_RATE, type PictureTrack } from '../../../main/media/picture-track'

/// Small moving pictures to hold against each other: a hall with two figures in it, as a fixed camera sees them.

/// Numbers of 0 to 1, always the same ones for a seed (Lehmer's generator, Park and Miller 1988).
export function random(seed: number): () => number {
  let state = (seed * 2654435761) % 2147483647 || 1
  return () => (state = (state * 16807) % 2147483647) / 2147483647
}

export interface Bout {
  readonly hall: number
  readonly figures: number
}

export interface Seen {
  readonly from_s: number
  readonly seconds: number
  /// Grey levels, 1 σ.
  readonly noise?: number
  readonly mirrored?: boolean
  /// Share of the picture that is cut away around it.
  readonly crop?: number
  readonly speed?: number
  readonly light?: number
}

/// The track of a bout as a film of it shows it.
export function trackOf(bout: Bout, seen: Seen): PictureTrack {
  const side = HASHED_SIDE
  const hall = random(bout.hall)
  const lights = Array.from({ length: 10 }, () => ({ x: hall() * side, y: hall() * side, size: 2 + hall() * 7, light: hall() * 90 - 40 }))
  const figures = [0, 1].map((i) => {
    const next = random(bout.figures * 10 + i)
    return {
      waves: Array.from({ length: 5 }, () => ({ a: 2 + next() * 4, b: 1 + next() * 2, every: 1.5 + next() * 6, at: next() * 6 })),
      x: 10 + 10 * i,
    }
  })
  const noise = random(bout.figures * 7 + Math.round(seen.from_s * 8) + (seen.noise ?? 0) * 100 + 3)
  const samples = Math.floor(seen.seconds * TRACK_RATE)
  const hashes: number[] = []
  const mirrored: number[] = []
  const blank: number[] = []
  const small = new Uint8Array(samples * SMALL_SIDE * SMALL_SIDE)
  for (let sample = 0; sample < samples; sample++) {
    const time = seen.from_s + (sample / TRACK_RATE) * (seen.speed ?? 1)
    const places = figures.map(({ waves, x }) =>
      waves.reduce(
        (sum, wave) => ({
          x: sum.x + wave.a * Math.sin((2 * Math.PI * time) / wave.every + wave.at) * 0.5,
          y: sum.y + wave.b * Math.cos((2 * Math.PI * time) / (wave.every * 0.7) + wave.at) * 0.5,
        }),
        { x, y: 18 },
      ),
    )
    const grey = Uint8Array.from({ length: side * side }, (_, i) => {
      const keep = 1 - (seen.crop ?? 0)
      const across = seen.mirrored ? side - 1 - (i % side) : i % side
      const [x, y] = [15.5 + (across - 15.5) * keep, 15.5 + (Math.floor(i / side) - 15.5) * keep]
      let level = 100
      for (const spot of lights) level += spot.light * Math.exp(-((x - spot.x) ** 2 + (y - spot.y) ** 2) / (2 * spot.size ** 2))
      for (const place of places) level += 80 * Math.exp(-((x - place.x) ** 2) / 8 - (y - place.y) ** 2 / 40)
      return Math.max(0, Math.min(255, Math.round(level * (seen.light ?? 1) + 2 * (seen.noise ?? 0) * (noise() + noise() + noise() - 1.5))))
    })
    const hash = pictureHash(grey)
    hashes.push(hash.high, hash.low)
    mirrored.push(hash.mirroredHigh, hash.mirroredLow)
    blank.push(hash.blank ? 1 : 0)
    for (let i = 0; i < SMALL_SIDE * SMALL_SIDE; i++) {
      const at = 2 * Math.floor(i / SMALL_SIDE) * side + 2 * (i % SMALL_SIDE)
      small[sample * SMALL_SIDE * SMALL_SIDE + i] = (grey[at]! + grey[at + 1]! + grey[at + side]! + grey[at + side + 1]!) >> 2
    }
  }
  return { hashes: Uint32Array.from(hashes), mirrored: Uint32Array.from(mirrored), blank: Uint8Array.from(blank), small }
}

/// One film after the other.
export const inARow = (...tracks: readonly PictureTrack[]): PictureTrack => ({
  hashes: Uint32Array.from(tracks.flatMap(({ hashes }) => [...hashes])),
  mirrored: Uint32Array.from(tracks.flatMap(({ mirrored }) => [...mirrored])),
  blank: Uint8Array.from(tracks.flatMap(({ blank }) => [...blank])),
  small: Uint8Array.from(tracks.flatMap(({ small }) => [...small])),
})
