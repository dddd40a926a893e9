import type { Film } from '../../app/project/scanned-film'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { everyFrame } from './frame-scan-decoded'
import { HASHED_SIDE, pictureHash } from './picture-hash'
import { streamFfmpeg } from './process'
import { wholePictures } from './whole-pictures'

/// Samples a second of a film's track.
export const TRACK_RATE = 8

/// Side of the small picture that is kept of each sample.
export const SMALL_SIDE = 16

/// What a film looks like over time: one hash (two words) every 1/8 s from its first frame on.
export interface PictureTrack {
  /// Two words a sample.
  readonly hashes: Uint32Array
  /// The same pictures as in a mirror.
  readonly mirrored: Uint32Array
  /// 1: nothing is seen in the sample.
  readonly blank: Uint8Array
  /// The pictures themselves, grey, `SMALL_SIDE` × `SMALL_SIDE` pixels a sample.
  readonly small: Uint8Array
}

export interface TrackOptions {
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((fraction: number) => void) | undefined
}

/// Hashes a film's pictures, black bars around them left out. Decodes the whole film once, on one thread: it is never
/// waited for.
export async function trackPictures(
  tool: FfmpegTool,
  film: Pick<Film, 'path' | 'head' | 'table'>,
  options: TrackOptions = {},
): Promise<PictureTrack> {
  const { x, y } = await barsOf(tool, film, options.signal)
  const { table } = film
  const seconds = ((table.end - (table.pts[0] ?? 0)) * table.base.n) / table.base.d
  const expected = Math.max(1, Math.round(seconds * TRACK_RATE))
  const words: number[] = []
  const mirrored: number[] = []
  const blank: number[] = []
  const small: Uint8Array[] = []
  const crop = x > 0 || y > 0 ? `crop=iw*${1 - 2 * x}:ih*${1 - 2 * y},` : ''
  await greyPictures(tool, film, HASHED_SIDE, [], `fps=${TRACK_RATE},${crop}`, options.signal, (grey) => {
    const hash = pictureHash(grey)
    words.push(hash.high, hash.low)
    mirrored.push(hash.mirroredHigh, hash.mirroredLow)
    blank.push(hash.blank ? 1 : 0)
    small.push(smaller(grey))
    if (blank.length % 16 === 0) options.onProgress?.(Math.min(1, blank.length / expected))
  })
  return {
    hashes: Uint32Array.from(words),
    mirrored: Uint32Array.from(mirrored),
    blank: Uint8Array.from(blank),
    small: Uint8Array.from(Buffer.concat(small)),
  }
}

/// Means of 2 × 2 pixels.
function smaller(grey: Uint8Array): Uint8Array {
  return Uint8Array.from({ length: SMALL_SIDE * SMALL_SIDE }, (_, i) => {
    const at = 2 * Math.floor(i / SMALL_SIDE) * HASHED_SIDE + 2 * (i % SMALL_SIDE)
    return (grey[at]! + grey[at + 1]! + grey[at + HASHED_SIDE]! + grey[at + HASHED_SIDE + 1]! + 2) >> 2
  })
}

/// Side of the grey picture in which bars are looked for.
const BARRED_SIDE = 128
/// Brightest pixel of a bar, grey levels: black, with coding noise.
const BLACK = 20
/// Bars wider than this share of the picture are none.
const WIDEST = 0.4

/// Shares of the width and of the height that are black bars, on each of both sides. Bars lie on both sides alike: a dark
/// ceiling alone is none.
async function barsOf(
  tool: FfmpegTool,
  film: Pick<Film, 'path' | 'head'>,
  signal: AbortSignal | undefined,
): Promise<{ readonly x: number; readonly y: number }> {
  const [rows, columns] = [new Uint8Array(BARRED_SIDE), new Uint8Array(BARRED_SIDE)]
  await greyPictures(tool, film, BARRED_SIDE, ['-skip_frame', 'nokey'], '', signal, (grey) => {
    for (let y = 0; y < BARRED_SIDE; y++)
      for (let x = 0; x < BARRED_SIDE; x++) {
        const level = grey[y * BARRED_SIDE + x]!
        if (level > rows[y]!) rows[y] = level
        if (level > columns[x]!) columns[x] = level
      }
  })
  const bar = (brightest: Uint8Array): number => {
    const first = brightest.findIndex((level) => level > BLACK)
    const last = brightest.length - 1 - brightest.findLastIndex((level) => level > BLACK)
    const share = Math.min(first, last) / BARRED_SIDE
    return first < 0 || share > WIDEST ? 0 : share
  }
  return { x: bar(columns), y: bar(rows) }
}

async function greyPictures(
  tool: FfmpegTool,
  film: Pick<Film, 'path' | 'head'>,
  side: number,
  before: readonly string[],
  filters: string,
  signal: AbortSignal | undefined,
  take: (grey: Uint8Array) => void,
): Promise<void> {
  const size = side * side
  await streamFfmpeg(
    tool,
    [
      '-v',
      'error',
      '-nostats',
      '-threads',
      '1',
      ...before,
      ...inputArguments(film.path),
      '-map',
      `0:${film.head.stream}`,
      '-an',
      '-vf',
      `${filters}scale=${side}:${side}:flags=area,format=gray`,
      ...everyFrame(tool),
      '-f',
      'rawvideo',
      'pipe:1',
    ],
    {
      signal,
      what: `looking at the pictures of ${film.path}`,
      onStdout: wholePictures(size, take),
    },
  )
}

/// What a kept track begins with; another version of how tracks are made gets another one.
const HEAD = Buffer.from('track 1\n')
const BYTES_PER_SAMPLE = 8 + 8 + 1 + SMALL_SIDE * SMALL_SIDE

/// A track as the bytes of a cache file.
export function trackBytes({ hashes, mirrored, blank, small }: PictureTrack): Buffer {
  return Buffer.concat([
    HEAD,
    ...[hashes, mirrored, blank, small].map((part) => Buffer.from(part.buffer, part.byteOffset, part.byteLength)),
  ])
}

/// The track of such bytes; null where they are none.
export function trackOfBytes(bytes: Buffer): PictureTrack | null {
  const samples = (bytes.length - HEAD.length) / BYTES_PER_SAMPLE
  if (!bytes.subarray(0, HEAD.length).equals(HEAD) || !Number.isInteger(samples)) return null
  let at = HEAD.length
  const take = (length: number): Uint8Array => Uint8Array.from(bytes.subarray(at, (at += length)))
  const words = (): Uint32Array => new Uint32Array(take(8 * samples).buffer)
  return { hashes: words(), mirrored: words(), blank: take(samples), small: take(SMALL_SIDE * SMALL_SIDE * samples) }
}
