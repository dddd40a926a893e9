import { streamFfmpeg } from '../media/process'
import { inputArguments } from '../media/file-url'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { SPEECH_RATE } from '../../app/align/cepstra'

/// A sound file's speech at 16 kHz, one channel, 16 bit. Rejects with `ffmpeg-failed` or `cancelled`.
export async function readSpeech(tool: FfmpegTool, path: string, signal?: AbortSignal): Promise<Int16Array> {
  const chunks: Buffer[] = []
  await streamFfmpeg(
    tool,
    ['-v', 'error', ...inputArguments(path), '-map', '0:a:0', '-ac', '1', '-ar', String(SPEECH_RATE), '-f', 's16le', 'pipe:1'],
    { signal, what: `listening to ${path}`, onStdout: (chunk) => void chunks.push(chunk) },
  )
  const bytes = Buffer.concat(chunks)
  return new Int16Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + (bytes.byteLength & ~1)))
}

/// The same as samples from −1 to 1.
export const asFloats = (samples: Int16Array): Float32Array => Float32Array.from(samples, (s) => s / 32768)
