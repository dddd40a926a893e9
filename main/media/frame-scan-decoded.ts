import { CodedError } from '../../app/errors/coded-error'
import type { FilmHead } from '../../app/project/film-head'
import { toNumber } from '../../app/time/rational'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import type { ReadTimes, ScanOptions } from './frame-scan'
import { streamFfmpeg } from './process'

/// The arguments that hand every decoded frame on once, none dropped or repeated.
export const everyFrame = (tool: FfmpegTool): readonly string[] =>
  tool.has.fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', 'passthrough']

/// Reads the times off the frames as ffmpeg decodes them. Frames without any time are spaced evenly
/// at the container's rate.
export async function scanDecoded(tool: FfmpegTool, head: FilmHead, options: ScanOptions): Promise<ReadTimes> {
  const pts: (number | null)[] = []
  const key: number[] = []
  let base = toNumber(head.base)
  let told = 0
  let broken = false
  try {
    await streamFfmpeg(
      tool,
      [
        '-v',
        'info',
        '-nostats',
        '-copyts',
        ...inputArguments(head.path),
        '-map',
        `0:${head.stream}`,
        '-an',
        '-vf',
        'showinfo',
        ...everyFrame(tool),
        '-f',
        'null',
        '-',
      ],
      {
        signal: options.signal,
        what: `reading ${head.path}`,
        onStdout: () => undefined,
        onStderr: (line) => {
          broken ||= /partial file|File ended prematurely|Truncating packet/.test(line)
          const clock = /showinfo.* config in time_base: (\d+)\/(\d+)/.exec(line)
          if (clock) base = Number(clock[1]) / Number(clock[2])
          const shown = /showinfo.*\bn: *\d+ pts: *(-?\d+|NOPTS)\b.*\biskey:(\d)/.exec(line)
          if (!shown) return
          pts.push(shown[1] === 'NOPTS' ? null : Math.round((Number(shown[1]) * base) / toNumber(head.base)))
          key.push(Number(shown[2]))
          const at = pts.at(-1)
          if (!options.onProgress || !head.duration_s || at === null || at === undefined) return
          const fraction = Math.min(1, ((at - (head.streamStart ?? 0)) * toNumber(head.base)) / head.duration_s)
          if (fraction - told >= 0.005) options.onProgress((told = fraction))
        },
      },
    )
  } catch (error) {
    if (!(error instanceof CodedError) || error.code !== 'ffmpeg-failed') throw error
    throw new CodedError(
      'film-damaged',
      { file: head.path, problem: `it cannot be decoded (${error.parameters.problem})` },
      { cause: error },
    )
  }
  if (broken)
    throw new CodedError('film-damaged', {
      file: head.path,
      problem: `it breaks off after frame ${pts.length}; copy it again from its source, or convert what is left into a new file`,
    })
  return { pts: risingTimes(pts, head), key: Uint8Array.from(key), lastFor: null, hidden: 0 }
}

/// Decoded frames come in presentation order; where their times do not, or are missing, the order
/// stands and the times are even.
function risingTimes(read: readonly (number | null)[], head: FilmHead): Float64Array {
  const sound = read.every((time, i) => time !== null && (i === 0 || time > (read[i - 1] ?? Infinity)))
  if (sound) return Float64Array.from(read as readonly number[])
  const interval = head.containerRate ? 1 / (toNumber(head.containerRate) * toNumber(head.base)) : 1
  const first = read.find((time) => time !== null) ?? 0
  return Float64Array.from(read, (_, i) => Math.round(first + i * interval))
}
