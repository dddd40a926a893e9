import { mkdir, rename, rm } from 'node:fs/promises'
import { dirname } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { enterAt } from './exact-frame'
import { fileUrl } from './file-url'
import type { LibraryFilm } from './film-library'
import type { FfmpegTool } from './find-ffmpeg'
import { runFfmpeg } from './process'
import { readFilm } from './frame-scan'

/// An interlaced film as a film of its fields: picture i shows field i mod 2, in the order in which they were shot, of frame
/// ⌊i / 2⌋, at that field's own time. A field's own lines stand where they were shot; a line between them is the mean of the one
/// above and the one below (line averaging, common practice). Nothing of another instant gets into it, as it would from
/// filters that weave what they hold to stand still. Coded so finely that it adds less than a camera's noise.

const QUALITY = '12'
/// Few frames between two key frames: stepping backwards begins at one.
const GROUP = '50'

/// Makes it. Under its name there is nothing or the whole film. Rejects with `film-damaged` where what came out is not two
/// pictures a frame, each at its time.
export async function makeFieldFilm(
  tool: FfmpegTool,
  film: LibraryFilm,
  first: 'top' | 'bottom',
  file: string,
  options: { readonly signal: AbortSignal; readonly onProgress: (fraction: number) => void },
): Promise<void> {
  await mkdir(dirname(file), { recursive: true })
  const part = `${file}.${process.pid}.part`
  const { head } = film
  const enter = enterAt(film, 0)
  const filters = [...(enter.filter ? [enter.filter] : []), ...fieldFilters(film, first), 'format=yuv420p']
  const { matrix, primaries, transfer, range } = head.colour
  const colours = [
    ...(matrix ? ['-colorspace', matrix] : []),
    ...(primaries ? ['-color_primaries', primaries] : []),
    ...(transfer ? ['-color_trc', transfer] : []),
    ...(range ? ['-color_range', range] : []),
  ]
  try {
    await runFfmpeg(
      tool,
      [
        '-v',
        'error',
        '-y',
        ...enter.input,
        '-map',
        `0:${head.stream}`,
        ...(head.sound ? ['-map', `0:${head.sound.stream}`, '-c:a', 'aac', '-b:a', '256k'] : []),
        '-vf',
        filters.join(','),
        ...(tool.has.fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', '0']),
        '-enc_time_base',
        `${head.base.n}/${2 * head.base.d}`,
        '-c:v',
        'libx264',
        '-preset',
        'fast',
        '-crf',
        QUALITY,
        '-g',
        GROUP,
        ...colours,
        '-video_track_timescale',
        String(2 * head.base.d),
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
        what: 'the fields of a film',
        niceness: 10,
        onProgress: (p) => options.onProgress(Math.min(1, (p.frame ?? 0) / (2 * film.table.pts.length))),
      },
    )
    const made = await readFilm(tool, part, { signal: options.signal })
    if (!areFieldsOf(film, made))
      throw new CodedError('film-damaged', { file: film.path, problem: 'its frames do not come apart into two fields each' })
    await rename(part, file)
  } finally {
    await rm(part, { force: true })
  }
}

/// Each line of a field twice; then every line with its neighbour on the side of the lines that are missing: two equal ones
/// stay what they are, two unlike ones become their mean.
function fieldFilters({ head }: LibraryFilm, first: 'top' | 'bottom'): readonly string[] {
  const { width, height } = head.coded
  const withNext = (matrix: string, when: string): string =>
    `convolution=${[0, 1, 2].map((plane) => `${plane}m=${matrix}:${plane}rdiv=1/2`).join(':')}:enable='${when}'`
  const [upper, lower] = first === 'top' ? ['not(mod(n,2))', 'mod(n,2)'] : ['mod(n,2)', 'not(mod(n,2))']
  return [
    `setfield=${first === 'top' ? 'tff' : 'bff'}`,
    'separatefields',
    `scale=${width}:${height}:flags=neighbor`,
    withNext('0 0 0 0 1 0 0 1 0', upper),
    withNext('0 1 0 0 1 0 0 0 0', lower),
    `setsar=${head.sampleAspect.n}/${head.sampleAspect.d}`,
  ]
}

/// Two pictures a frame: the first when the frame begins, the second in the middle between it and the next one. To the
/// container's own unit of time.
function areFieldsOf(film: Pick<LibraryFilm, 'table'>, fields: Pick<LibraryFilm, 'table'>): boolean {
  const seconds = ({ table }: Pick<LibraryFilm, 'table'>, i: number): number =>
    (((table.pts[i] ?? table.end) - (table.pts[0] ?? 0)) * table.base.n) / table.base.d
  const frames = film.table.pts.length
  const unit = Math.max(film.table.base.n / film.table.base.d, fields.table.base.n / fields.table.base.d)
  if (fields.table.pts.length !== 2 * frames) return false
  for (let i = 0; i < frames; i++) {
    const [from, to] = [seconds(film, i), seconds(film, i + 1)]
    if (Math.abs(seconds(fields, 2 * i) - from) > unit) return false
    // How long the last frame stands is not always said.
    if (i + 1 < frames && Math.abs(seconds(fields, 2 * i + 1) - (from + to) / 2) > unit) return false
  }
  return true
}
