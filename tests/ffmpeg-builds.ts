import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { findFfmpeg, lookFor, type FfmpegTool } from '../main/media/find-ffmpeg'
import { streamFfmpeg } from '../main/media/process'

const require = createRequire(import.meta.url)
const packaged = (name: string): string => {
  const owner = createRequire(require.resolve(`@${name}-installer/${name}/package.json`))
  return join(
    dirname(owner.resolve(`@${name}-installer/${process.platform}-${process.arch}/package.json`)),
    process.platform === 'win32' ? `${name}.exe` : name,
  )
}

/// The ffmpeg that would be used on this machine, and the oldest one that must do.
export const builds: readonly { readonly name: string; readonly tool: () => Promise<FfmpegTool> }[] = [
  { name: 'this machine’s ffmpeg', tool: findFfmpeg },
  {
    name: 'the oldest ffmpeg',
    tool: () => lookFor({ ...process.env, CLAIMFRAME_FFMPEG: packaged('ffmpeg'), CLAIMFRAME_FFPROBE: packaged('ffprobe') }),
  },
]

/// A sound's samples at 48 kHz, a channel each.
export async function decodeSound(tool: FfmpegTool, path: string, channels: number): Promise<Float32Array[]> {
  const pieces: Buffer[] = []
  await streamFfmpeg(tool, ['-v', 'error', '-i', path, '-map', '0:a:0', '-ac', String(channels), '-ar', '48000', '-f', 'f32le', 'pipe:1'], {
    onStdout: (piece) => void pieces.push(piece),
  })
  const bytes = Buffer.concat(pieces)
  const samples = new Float32Array(bytes.buffer, bytes.byteOffset, Math.floor(bytes.length / 4))
  return Array.from({ length: channels }, (_, c) =>
    Float32Array.from({ length: samples.length / channels }, (_, i) => samples[i * channels + c]!),
  )
}
