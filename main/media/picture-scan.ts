import { CodedError } from '../../app/errors/coded-error'
import type { Film } from '../../app/project/scanned-film'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { everyFrame } from './frame-scan-decoded'
import { changeBetween, type Change } from './picture-change'
import { streamFfmpeg } from './process'
import { wholePictures } from './whole-pictures'

export interface PictureScan {
  /// Number of frames that were decoded.
  readonly frames: number
  /// `changes[i]` is what changed at frame i + 1.
  readonly changes: readonly Change[]
  /// How ffmpeg's `idet` judged each frame's fields; null where there can be none (turned films,
  /// which come from phones, and pictures lower than any interlaced standard's).
  readonly fields: FieldCount | null
}

export interface FieldCount {
  readonly top: number
  readonly bottom: number
  readonly progressive: number
  readonly undetermined: number
}

/// Long side of the small picture in which changes are measured.
const SMALL = 160
/// 480 lines (ITU-R BT.601), with some room for cropping.
const LOWEST_INTERLACED = 400

/// Decodes the whole film once and measures every frame's change in a small grey picture, and its
/// fields in the full one. Runs at decoding speed.
export async function scanPictures(
  tool: FfmpegTool,
  film: Pick<Film, 'path' | 'head' | 'table'>,
  options: { readonly signal?: AbortSignal | undefined; readonly onProgress?: ((fraction: number) => void) | undefined } = {},
): Promise<PictureScan> {
  const { head } = film
  const mayHaveFields = head.rotation === 0 && head.coded.height >= LOWEST_INTERLACED
  const scale = SMALL / Math.max(head.width, head.height)
  const width = Math.max(8, Math.round(head.width * scale))
  const height = Math.max(8, Math.round(head.height * scale))
  const changes: Change[] = []
  const said: string[] = []
  const size = width * height
  let previous: Uint8Array | null = null
  let beforeThat: Uint8Array | null = null
  let frames = 0
  let told = 0
  const take = (picture: Uint8Array): void => {
    if (previous) changes.push(changeBetween(picture, previous, beforeThat, width))
    const spare = beforeThat ?? new Uint8Array(size)
    beforeThat = previous
    previous = spare
    previous.set(picture)
    frames++
    const fraction = Math.min(1, frames / film.table.pts.length)
    if (fraction - told >= 0.005) options.onProgress?.((told = fraction))
  }
  try {
    await streamFfmpeg(
      tool,
      [
        '-v',
        'info',
        '-nostats',
        ...inputArguments(film.path),
        '-map',
        `0:${head.stream}`,
        '-an',
        '-vf',
        `${mayHaveFields ? 'idet,' : ''}scale=${width}:${height}:flags=area,format=gray`,
        ...everyFrame(tool),
        '-f',
        'rawvideo',
        'pipe:1',
      ],
      {
        signal: options.signal,
        what: `looking through ${film.path}`,
        onStderr: (line) => void (/idet/.test(line) && said.push(line)),
        onStdout: wholePictures(size, take),
      },
    )
  } catch (error) {
    if (!(error instanceof CodedError) || error.code !== 'ffmpeg-failed') throw error
    throw new CodedError(
      'film-damaged',
      { file: film.path, problem: `it cannot be decoded (${error.parameters.problem})` },
      { cause: error },
    )
  }
  return { frames, changes, fields: mayHaveFields ? fieldCount(said) : null }
}

function fieldCount(lines: readonly string[]): FieldCount {
  const line = lines.findLast((x) => /Multi frame detection/.test(x)) ?? ''
  const count = (name: string): number => Number(new RegExp(`${name}: *(\\d+)`).exec(line)?.[1] ?? 0)
  return { top: count('TFF'), bottom: count('BFF'), progressive: count('Progressive'), undetermined: count('Undetermined') }
}
