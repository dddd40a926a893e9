import { CodedError } from '../../app/errors/coded-error'
import { LoudnessText, type LoudnessFigures } from '../../app/render/loudness-text'
import { meterArguments } from '../../app/render/sound-mix'
import { fileUrl } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { streamFfmpeg } from './process'

export interface LoudnessOptions {
  /// What it is measured for, where it fails.
  readonly what: string
  readonly signal?: AbortSignal | undefined
}

/// Loudness of a file's first sound after EBU R 128 (ITU-R BS.1770), by ffmpeg's `ebur128`. A mono sound is
/// one channel: 3 LU less than the same sound on two. Rejects with `file-unreadable`
/// where there is none, `cancelled`, or `ffmpeg-failed`.
export async function measureLoudness(tool: FfmpegTool, path: string, { what, signal }: LoudnessOptions): Promise<LoudnessFigures> {
  const text = new LoudnessText()
  try {
    await streamFfmpeg(tool, ['-v', 'error', ...meterArguments(fileUrl(path))], {
      signal,
      what,
      onStdout: (chunk) => text.add(chunk.toString('latin1')),
    })
  } catch (error) {
    if (error instanceof CodedError && error.code === 'ffmpeg-failed' && /matches no streams/.test(String(error.cause)))
      throw new CodedError('file-unreadable', { file: path, problem: 'it holds no sound' }, { cause: error })
    throw error
  }
  return text.figures()
}
