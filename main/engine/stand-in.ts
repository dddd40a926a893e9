import { mkdir, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { sourceFacts } from '../../app/render/source-facts'
import { enterAt } from '../media/exact-frame'
import type { LibraryFilm } from '../media/film-library'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { fileUrl } from '../media/file-url'
import { runFfmpeg } from '../media/process'

/// The small stand-in of a film, for stepping: every frame a key frame, 960 pixels wide at most (or
/// high, for upright films), in the colours that the render gives it (BT.709, limited range). Frame i of the
/// film is its frame i, and is shown for 1/60 s, whatever the film's own times.

const LONG_SIDE = 960
const STAND_IN_RATE = 60

export const standInFile = (cache: string, identity: string): string => join(cache, 'stand-ins', `${identity.slice(0, 40)}-1.mp4`)

export const isMade = async (file: string): Promise<boolean> => (await stat(file).catch(() => null))?.isFile() === true

/// Makes it. Under its name there is nothing or the whole film.
export async function makeStandIn(
  tool: FfmpegTool,
  film: LibraryFilm,
  file: string,
  options: { readonly signal: AbortSignal; readonly onProgress: (fraction: number) => void },
): Promise<void> {
  await mkdir(dirname(file), { recursive: true })
  const part = `${file}.${process.pid}.part`
  const enter = enterAt(film, 0)
  const facts = sourceFacts(film, tool.has)
  const { width, height } = standInSize(film.head)
  const filters = [
    ...(enter.filter ? [enter.filter] : []),
    ...facts.prepare,
    `scale=${width}:${height}:flags=bicubic:in_color_matrix=${facts.matrix}:in_range=${facts.fullRange ? 'pc' : 'tv'}:out_color_matrix=bt709:out_range=tv`,
    'format=yuv420p',
    'setsar=1',
    `settb=1/${STAND_IN_RATE}`,
    'setpts=N',
  ]
  const colours = ['-colorspace', 'bt709', '-color_primaries', 'bt709', '-color_trc', 'bt709', '-color_range', 'tv']
  try {
    await runFfmpeg(
      tool,
      [
        '-v',
        'error',
        '-y',
        ...enter.input,
        '-map',
        `0:${film.head.stream}`,
        '-vf',
        filters.join(','),
        ...(tool.has.fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', '0']),
        '-enc_time_base',
        `1/${STAND_IN_RATE}`,
        '-c:v',
        'libx264',
        '-preset',
        'veryfast',
        '-crf',
        '20',
        '-g',
        '1',
        '-bf',
        '0',
        ...colours,
        '-video_track_timescale',
        String(STAND_IN_RATE * 256),
        '-an',
        '-sn',
        '-dn',
        '-map_metadata',
        '-1',
        '-movflags',
        '+faststart',
        '-f',
        'mp4',
        fileUrl(part),
      ],
      {
        signal: options.signal,
        what: 'the small stand-in',
        niceness: 10,
        onProgress: (p) => options.onProgress((p.frame ?? 0) / film.table.pts.length),
      },
    )
    await rename(part, file)
  } finally {
    await rm(part, { force: true })
  }
}

/// Whole even pixels, never larger than the film.
function standInSize(picture: { readonly width: number; readonly height: number }): { width: number; height: number } {
  const scale = Math.min(1, LONG_SIDE / Math.max(picture.width, picture.height))
  const even = (side: number): number => Math.max(2, Math.round((side * scale) / 2) * 2)
  return { width: even(picture.width), height: even(picture.height) }
}
