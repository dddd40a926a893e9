import { CodedError } from '../../app/errors/coded-error'
import { LoudnessText, type LoudnessFigures } from '../../app/render/loudness-text'
import { meterFilter } from '../../app/render/sound-mix'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { streamFfmpeg } from './process'

export interface LoudnessOptions {
  /// Index of the sound's stream in the file; the first sound by default.
  readonly stream?: number | undefined
  /// Seconds of the file, `from` included; the whole sound by default.
  readonly from?: number | undefined
  readonly to?: number | undefined
  readonly signal?: AbortSignal | undefined
}

export interface MeasuredLoudness extends LoudnessFigures {
  /// Loudness range after EBU Tech 3342, LU.
  readonly range: number
}

/// Loudness of a file's sound after EBU R 128 (ITU-R BS.1770), by ffmpeg's `ebur128`. A mono sound is
/// one channel: 3 LU less than the same sound on two. Rejects with `file-unreadable`
/// where there is none, `cancelled`, or `ffmpeg-failed`.
export async function measureLoudness(tool: FfmpegTool, path: string, options: LoudnessOptions = {}): Promise<MeasuredLoudness> {
  const { from = 0, to, stream } = options
  if (!(from >= 0) || (to !== undefined && !(to > from)))
    throw new CodedError('wrong-use', { problem: `there is no sound from ${from} s to ${to} s` })
  const span = [...(from > 0 ? ['-ss', from.toFixed(6)] : []), ...(to === undefined ? [] : ['-t', (to - from).toFixed(6)])]
  const figures = new LoudnessText()
  const range = new RangeText()
  try {
    await streamFfmpeg(
      tool,
      ['-v', 'error', ...span, ...inputArguments(path), '-map', `0:${stream ?? 'a:0'}`, '-vn', '-af', meterFilter(true), '-f', 'null', '-'],
      {
        signal: options.signal,
        what: `measuring the sound of ${path}`,
        onStdout: (chunk) => {
          const text = chunk.toString('latin1')
          figures.add(text)
          range.add(text)
        },
      },
    )
  } catch (error) {
    if (error instanceof CodedError && error.code === 'ffmpeg-failed' && /matches no streams/.test(String(error.cause)))
      throw new CodedError('file-unreadable', { file: path, problem: 'it holds no sound' }, { cause: error })
    throw error
  }
  return { ...figures.figures(), range: range.last }
}

/// The last loudness range that `ebur128` printed.
class RangeText {
  last = 0
  #rest = ''
  add(text: string): void {
    const lines = (this.#rest + text).split('\n')
    this.#rest = lines.pop() ?? ''
    for (const line of lines) {
      const match = /^lavfi\.r128\.LRA=(\d+(?:\.\d+)?)/.exec(line)
      if (match) this.last = Number(match[1])
    }
  }
}
