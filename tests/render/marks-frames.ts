import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { writeAss } from '../../app/marks/ass'
import type { Matrix } from '../../app/marks/painted-colour'
import type { Span } from '../../app/marks/span'
import { findFfmpeg, lookFor, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { streamFfmpeg } from '../../main/media/process'
import { typeface } from '../unit/marks/scene'

/// Draws spans over a plain film as the render does, and gives back the decoded frames.

export interface PlainFilm {
  readonly width: number
  readonly height: number
  readonly frames: number
  readonly rate?: string
  readonly colour?: string
  /// Absent: no matrix, the film is drawn on in RGB.
  readonly matrix?: Matrix
  readonly format?: 'gray' | 'rgb24' | 'yuv444p'
}

const FONTS = fileURLToPath(new URL('../../node_modules/@expo-google-fonts/atkinson-hyperlegible/400Regular', import.meta.url))

/// The ffmpeg that a render takes here, and the oldest that we carry, where they differ.
export async function builds(): Promise<FfmpegTool[]> {
  const [first, floor] = [await findFfmpeg(), await lookFor({ PATH: '', HOME: process.env['HOME'] })]
  return first.ffmpeg === floor.ffmpeg ? [floor] : [first, floor]
}

export async function renderSpans(tool: FfmpegTool, spans: readonly Span[], film: PlainFilm): Promise<Buffer[]> {
  const { width, height, frames, rate = '60000/1001', colour = 'black', format = 'gray', matrix = 'bt601' } = film
  const folder = await mkdtemp(join(tmpdir(), 'marks-'))
  try {
    await writeFile(join(folder, 'marks.ass'), writeAss(spans, { width, height, frames, typeface: typeface(), matrix }))
    const size = width * height * (format === 'gray' ? 1 : 3)
    const pieces: Buffer[] = []
    const source = `color=c=${colour}:s=${width}x${height}:r=${rate},trim=end_frame=${frames},format=${format === 'yuv444p' ? 'yuv444p' : 'gbrp'}`
    const filter = `${source},settb=1/1000,setpts=N*100,ass=marks.ass:fontsdir=${FONTS.replaceAll(/([\\':,;[\]])/g, '\\$1')},format=${format}`
    const args = [
      '-v',
      'error',
      '-f',
      'lavfi',
      '-i',
      'nullsrc=s=16x16:d=0.04',
      '-filter_complex',
      `${filter}[v]`,
      '-map',
      '[v]',
      '-vsync',
      '0',
      '-f',
      'rawvideo',
      '-',
    ]
    await streamFfmpeg(tool, args, { cwd: folder, onStdout: (chunk) => void pieces.push(chunk) })
    const all = Buffer.concat(pieces)
    if (all.length !== size * frames) throw new Error(`${dirname(tool.ffmpeg)}: ${all.length / size} frames instead of ${frames}`)
    return Array.from({ length: frames }, (_, i) => all.subarray(i * size, (i + 1) * size))
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

export interface InkBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/// The edges of everything brighter than half of `full` on a grey frame, to a fraction of a pixel: a row or column
/// of coverage at the edge counts by how bright its brightest pixel is.
export function inkBox(frame: Buffer, width: number, full = 255, floor = 0): InkBox | null {
  const height = frame.length / width
  const rows = new Float64Array(height)
  const columns = new Float64Array(width)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const cover = Math.min(1, Math.max(0, ((frame[y * width + x] as number) - floor) / (full - floor)))
      rows[y] = Math.max(rows[y] as number, cover)
      columns[x] = Math.max(columns[x] as number, cover)
    }
  const edges = (covers: Float64Array): [number, number] | null => {
    const first = covers.findIndex((c) => c > 0.03)
    const last = covers.findLastIndex((c) => c > 0.03)
    return first < 0 ? null : [first + 1 - (covers[first] as number), last + (covers[last] as number)]
  }
  const [across, down] = [edges(columns), edges(rows)]
  return across && down ? { left: across[0], right: across[1], top: down[0], bottom: down[1] } : null
}

/// The middle of brightness on a grey frame, pixel centres at + 0.5, and the whole of it in pixels.
export function inkCentre(frame: Buffer, width: number): { x: number; y: number; area: number } {
  let [x, y, area] = [0, 0, 0]
  frame.forEach((v, i) => {
    const cover = v / 255
    x += cover * ((i % width) + 0.5)
    y += cover * (Math.floor(i / width) + 0.5)
    area += cover
  })
  return { x: x / area, y: y / area, area }
}
