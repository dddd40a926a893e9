import { CodedError } from '../../app/errors/coded-error'
import { squareFilter } from '../../app/project/film-head'
import { seekTo, type Film } from '../../app/project/scanned-film'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { everyFrame } from './frame-scan-decoded'
import { streamFfmpeg } from './process'

export { seekTo, type Film } from '../../app/project/scanned-film'

export type FrameFormat = 'rgb24' | 'gray' | 'png'

export interface FrameOptions {
  /// Width of the answer in pixels; the picture's own by default.
  readonly width?: number | undefined
  readonly format?: FrameFormat | undefined
  /// How the render takes the film's colours, for a picture that a person looks at; absent: as ffmpeg takes them.
  readonly colours?: { readonly matrix: string; readonly fullRange: boolean; readonly prepare: readonly string[] } | undefined
  readonly signal?: AbortSignal | undefined
}

export interface ReadFrame {
  readonly width: number
  readonly height: number
  /// Rows from the top without padding, or a PNG file.
  readonly data: Buffer
}

/// The arguments that open `film` so that the first frame is `index`, and the filter that must come
/// first in its chain (null when none is needed).
export function enterAt(film: Film, index: number): { readonly input: readonly string[]; readonly filter: string | null } {
  const { seconds, filter } = seekTo(film, index)
  return { input: [...(seconds > 0 ? ['-ss', seconds.toFixed(6)] : []), ...inputArguments(film.path)], filter }
}

/// One frame, exactly, as the upright picture with square pixels. Throws RangeError outside the
/// film; rejects with `film-damaged` when the file does not give the frame up.
export async function readFrame(tool: FfmpegTool, film: Film, index: number, options: FrameOptions = {}): Promise<ReadFrame> {
  const format = options.format ?? 'rgb24'
  const width = options.width ?? film.head.width
  const height = options.width ? Math.max(1, Math.round((film.head.height * width) / film.head.width)) : film.head.height
  const enter = enterAt(film, index)
  const resized = options.width ? `scale=${width}:${height}:flags=area,setsar=1` : squareFilter(film.head)
  const { colours } = options
  const coloured = colours
    ? [...colours.prepare, `scale=flags=bicubic+accurate_rnd:in_color_matrix=${colours.matrix}:in_range=${colours.fullRange ? 'pc' : 'tv'}`]
    : []
  const filters = [
    enter.filter,
    ...(resized === null ? coloured : [...(colours?.prepare ?? []), resized, ...coloured.slice(-1)]),
    `format=${format === 'png' ? 'rgb24' : format}`,
  ].filter((x) => x !== null)
  const chunks: Buffer[] = []
  await streamFfmpeg(
    tool,
    [
      '-v',
      'error',
      ...enter.input,
      '-map',
      `0:${film.head.stream}`,
      '-vf',
      filters.join(','),
      ...everyFrame(tool),
      '-frames:v',
      '1',
      ...(format === 'png' ? ['-f', 'image2pipe', '-c:v', 'png'] : ['-f', 'rawvideo']),
      'pipe:1',
    ],
    { signal: options.signal, what: `frame ${index}`, onStdout: (chunk) => void chunks.push(chunk) },
  )
  const data = Buffer.concat(chunks)
  const expected = format === 'png' ? 1 : width * height * (format === 'gray' ? 1 : 3)
  if (format === 'png' ? data.length === 0 : data.length !== expected)
    throw new CodedError('film-damaged', { file: film.path, problem: `frame ${index} cannot be decoded` })
  return { width, height, data }
}
