import { stat } from 'node:fs/promises'
import { CodedError } from '../../app/errors/coded-error'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { streamFfmpeg } from './process'

/// A recording's length, by decoding it: what containers say of compressed sound is a guess.
export interface SoundLength {
  readonly samples: number
  readonly rate: number
}

/// Samples a second that sounds are read at.
export const SOUND_FILE_RATE = 48_000
const RATE = SOUND_FILE_RATE

/// Length of a file's first sound at 48 kHz; null when it decodes to nothing. Rejects with
/// `file-missing`, `file-unreadable` or `cancelled`.
export async function readSound(tool: FfmpegTool, path: string, signal?: AbortSignal): Promise<SoundLength | null> {
  let bytes = 0
  await decodeSound(tool, path, (chunk) => void (bytes += chunk.length), signal)
  return bytes === 0 ? null : { samples: bytes / 2, rate: RATE }
}

/// Hands a file's first sound over piece by piece: 48 kHz, one channel, 16-bit little-endian. What `onPiece` throws ends it.
/// Rejects with `file-missing`, `file-unreadable` or `cancelled`.
export async function decodeSound(
  tool: FfmpegTool,
  path: string,
  onPiece: (chunk: Buffer) => void | Promise<void>,
  signal?: AbortSignal,
): Promise<void> {
  const facts = await stat(path).catch(() => null)
  if (!facts) throw new CodedError('file-missing', { file: path })
  if (!facts.isFile()) throw new CodedError('file-unreadable', { file: path, problem: 'it is not a file' })
  try {
    await streamFfmpeg(
      tool,
      ['-v', 'error', ...inputArguments(path), '-map', '0:a:0', '-ac', '1', '-ar', String(RATE), '-f', 's16le', 'pipe:1'],
      { signal, what: `reading ${path}`, onStdout: onPiece },
    )
  } catch (error) {
    if (error instanceof CodedError && error.code === 'ffmpeg-failed')
      throw new CodedError('file-unreadable', { file: path, problem: 'no sound can be read from it' }, { cause: error })
    throw error
  }
}
