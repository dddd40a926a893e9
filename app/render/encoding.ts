import type { Output } from '../project/breakdown'
import type { Rational } from '../time/rational'

/// How pictures are encoded. Every segment of a film has the same settings, closed groups of
/// pictures and no scene cuts, so that segments join without being touched again.
export interface Encoding {
  readonly name: 'final' | 'draft'
  readonly preset: string
  readonly crf: number
  /// Fixed, because x264's output is the same bytes only for one thread count.
  readonly threads: number
}

export const FINAL: Encoding = { name: 'final', preset: 'fast', crf: 17, threads: 2 }
export const DRAFT: Encoding = { name: 'draft', preset: 'ultrafast', crf: 26, threads: 2 }

/// A draft is the same film on a canvas of half the size, whole even pixels.
export const draftOutput = (output: Output): Output => ({ ...output, width: half(output.width), height: half(output.height) })

const half = (pixels: number): number => Math.max(64, Math.round(pixels / 4) * 2)

/// Clock of the finished track: whole ticks for one frame, fine enough for players.
export const trackTimescale = (rate: Rational): number => (rate.n >= 10_000 ? rate.n : rate.n * Math.ceil(10_000 / rate.n))

export const rateText = (rate: Rational): string => `${rate.n}/${rate.d}`

/// Encoder arguments of one segment of `frames` frames.
export function encoderArguments(encoding: Encoding, rate: Rational, frames: number, fpsMode: boolean): string[] {
  const group = Math.max(1, Math.round((2 * rate.n) / rate.d))
  return [
    ...(fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', '0']),
    '-frames:v',
    String(frames),
    '-c:v',
    'libx264',
    '-preset',
    encoding.preset,
    '-crf',
    String(encoding.crf),
    '-threads',
    String(encoding.threads),
    '-x264-params',
    `keyint=${group}:min-keyint=${group}:scenecut=0:open-gop=0:threads=${encoding.threads}:colorprim=bt709:transfer=bt709:colormatrix=bt709:range=tv`,
    '-pix_fmt',
    'yuv420p',
    '-colorspace',
    'bt709',
    '-color_primaries',
    'bt709',
    '-color_trc',
    'bt709',
    '-color_range',
    'tv',
    '-video_track_timescale',
    String(trackTimescale(rate)),
    '-map_metadata',
    '-1',
    '-fflags',
    '+bitexact',
    '-flags:v',
    '+bitexact',
    '-an',
    '-sn',
    '-dn',
    '-f',
    'mp4',
  ]
}
