import { runFfmpeg } from '../main/media/process'
import type { FfmpegTool } from '../main/media/find-ffmpeg'
import { fileUrl } from '../main/media/file-url'

/// Films whose every frame says its own number in blocks of black and white that survive lossy
/// coding, scaling and letterboxing; and the reader of those numbers.
///
/// The picture is a grid of 5 × 4 cells, row by row: white, black (the references), 16 bits of the
/// number with the highest first, then even parity of the upper and of the lower byte.

const COLUMNS = 5
const ROWS = 4

export interface PatternFilm {
  readonly frames: number
  /// As ffmpeg takes it: "30000/1001", "25". With `vfr` only nominal.
  readonly rate: string
  readonly width?: number
  readonly height?: number
  readonly codec?: string
  /// Greatest distance between keyframes. Scene cuts do not start new groups.
  readonly gop?: number
  readonly bframes?: number
  /// Intervals in milliseconds, repeated as long as the film lasts.
  readonly vfr?: readonly number[]
  /// Grey of the white blocks, 235 by default. At 30 frames a second these blocks flash: a film whose pictures are looked at
  /// before it gets its name is made at `DIM`, whose luminance lies less than 0.10 over black (W3C's definition).
  readonly bright?: number
  /// Number of the first frame.
  readonly first?: number
  /// ffmpeg's name of the container where the file's ending does not say it.
  readonly container?: string
  readonly pixelFormat?: string
  /// Adds a tone: kHz of nothing in particular, as long as the picture.
  readonly sound?: boolean
  /// Filters after the pattern is made (rotation, sample aspect), and output arguments.
  readonly filter?: string
  readonly output?: readonly string[]
}

/// The brightest white that does not flash.
export const DIM = 84

/// One frame of the pattern in 8-bit grey.
export function drawPattern(number: number, width: number, height: number, bright = 235): Uint8Array {
  const cells = cellsOf(number)
  const picture = new Uint8Array(width * height)
  for (let row = 0; row < ROWS; row++) {
    // One line of pixels, then as many like it as the row of cells is high.
    const from = Math.ceil((row * height) / ROWS)
    const to = Math.ceil(((row + 1) * height) / ROWS)
    if (from === to) continue
    for (let x = 0; x < width; x++) picture[from * width + x] = cells[row * COLUMNS + Math.floor((x * COLUMNS) / width)] ? bright : 16
    for (let y = from + 1; y < to; y++) picture.copyWithin(y * width, from * width, (from + 1) * width)
  }
  return picture
}

function cellsOf(number: number): readonly boolean[] {
  const bits = Array.from({ length: 16 }, (_, i) => ((number >> (15 - i)) & 1) === 1)
  const parity = (from: number): boolean => bits.slice(from, from + 8).filter(Boolean).length % 2 === 1
  return [true, false, ...bits, parity(0), parity(8)]
}

/// Makes the film at `path`. `vfr` films get a millisecond clock (use mkv, or mp4 with
/// `-video_track_timescale`).
export async function makePatternFilm(tool: FfmpegTool, path: string, film: PatternFilm): Promise<void> {
  const { frames, rate, width = 320, height = 180, codec = 'libx264', gop = 30, bframes = 0, first = 0 } = film
  const filters = [
    ...(film.vfr ? ['settb=1/1000', `setpts='${clockOf(film.vfr, frames)}'`] : []),
    'scale=out_range=tv',
    ...(film.filter ? [film.filter] : []),
    `format=${film.pixelFormat ?? 'yuv420p'}`,
  ]
  const seconds = film.vfr ? (film.vfr.reduce((a, b) => a + b, 0) * (frames / film.vfr.length)) / 1000 : frames * secondsPerFrame(rate)
  await runFfmpeg(
    tool,
    [
      '-v',
      'error',
      '-y',
      '-f',
      'rawvideo',
      '-pix_fmt',
      'gray',
      '-s',
      `${width}x${height}`,
      '-r',
      rate,
      '-i',
      'pipe:0',
      ...(film.sound ? ['-f', 'lavfi', '-t', seconds.toFixed(6), '-i', 'sine=frequency=440:sample_rate=48000'] : []),
      '-vf',
      filters.join(','),
      ...(tool.has.fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', 'passthrough']),
      ...(film.vfr ? ['-enc_time_base', '1:1000', '-video_track_timescale', '1000'] : []),
      '-c:v',
      codec,
      '-g',
      String(gop),
      '-bf',
      String(bframes),
      ...(codec === 'libx264'
        ? ['-preset', 'ultrafast', '-crf', '23', '-sc_threshold', '0', '-x264-params', `bframes=${bframes}:b-adapt=0:scenecut=0`]
        : []),
      ...(film.sound ? ['-c:a', 'aac'] : []),
      ...(film.output ?? []),
      ...(film.container ? ['-f', film.container] : []),
      fileUrl(path),
    ],
    { stdin: patterns(first, frames, width, height, film.bright) },
  )
}

function* patterns(first: number, frames: number, width: number, height: number, bright?: number): Generator<Uint8Array> {
  for (let i = 0; i < frames; i++) yield drawPattern(first + i, width, height, bright)
}

function clockOf(intervals: readonly number[], frames: number): string {
  const total = intervals.reduce((a, b) => a + b, 0)
  const used = intervals.slice(0, Math.min(intervals.length, frames))
  let at = 0
  const terms = used.map((interval, k) => {
    const term = `eq(mod(N,${intervals.length}),${k})*${at}`
    at += interval
    return term
  })
  return `floor(N/${intervals.length})*${total}+${terms.join('+')}`
}

function secondsPerFrame(rate: string): number {
  const [n = '25', d = '1'] = rate.split('/')
  return Number(d) / Number(n)
}

export interface PatternPlace {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/// Reads the number off a grey or RGB picture (told apart by length); −1 when no pattern is there.
/// `place` is where the whole pattern lies in the picture, all of it by default.
export function readPattern(
  pixels: Uint8Array,
  width: number,
  height: number,
  place: PatternPlace = { x: 0, y: 0, width, height },
  mirrored = false,
): number {
  const channels = Math.round(pixels.length / (width * height))
  if (channels * width * height !== pixels.length) throw new RangeError(`${pixels.length} bytes are no ${width}×${height} picture`)
  const level = (cell: number): number => {
    const column = mirrored ? COLUMNS - 1 - (cell % COLUMNS) : cell % COLUMNS
    const row = Math.floor(cell / COLUMNS)
    const span = (from: number, length: number, count: number, index: number): readonly [number, number] => [
      Math.round(from + (length * (index + 0.25)) / count),
      Math.max(Math.round(from + (length * (index + 0.25)) / count) + 1, Math.round(from + (length * (index + 0.75)) / count)),
    ]
    const [x0, x1] = span(place.x, place.width, COLUMNS, column)
    const [y0, y1] = span(place.y, place.height, ROWS, row)
    let sum = 0
    for (let y = y0; y < y1; y++) for (let x = x0; x < x1; x++) sum += pixels[(y * width + x) * channels] ?? 0
    return sum / ((y1 - y0) * (x1 - x0))
  }
  const white = level(0)
  const black = level(1)
  if (white - black < 60) return -1
  const bits = Array.from({ length: 18 }, (_, i) => level(i + 2) > (white + black) / 2)
  const number = bits.slice(0, 16).reduce((value, bit) => value * 2 + (bit ? 1 : 0), 0)
  return cellsOf(number)
    .slice(2)
    .every((bit, i) => bit === bits[i])
    ? number
    : -1
}
