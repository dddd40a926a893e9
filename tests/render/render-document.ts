import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Breakdown } from '../../app/project/breakdown'
import { NOTICE_PROBLEMS } from '../../app/release/notices'
import { FilmLibrary } from '../../main/media/film-library'
import { fileUrl } from '../../main/media/file-url'
import type { FfmpegTool } from '../../main/media/find-ffmpeg'
import { streamFfmpeg } from '../../main/media/process'
import { filmFaces } from '../../main/render/faces'
import { planFilm, type FilmPlan } from '../../main/render/film-plan'
import { renderFilm, type RenderReport } from '../../main/render/render-film'
import { findTakes } from '../../main/render/takes'

/// Renders a breakdown whose files lie in `folder`, as the command line does.
export async function renderDocument(
  tool: FfmpegTool,
  breakdown: Breakdown,
  folder: string,
  options: {
    readonly out?: string
    readonly draft?: boolean
    readonly burnCaptions?: boolean
    readonly signal?: AbortSignal
    readonly cache?: string
  } = {},
): Promise<{ plan: FilmPlan; report: RenderReport }> {
  const cache = options.cache ?? join(folder, 'cache')
  const library = new FilmLibrary(tool, folder, cache, 'confined', options.signal)
  const faces = await filmFaces()
  const takes = await findTakes(breakdown, { library, folder })
  const plan = await planFilm({
    breakdown,
    library,
    typeface: faces.typeface,
    takes,
    draft: options.draft ?? false,
    burnCaptions: options.burnCaptions,
  })
  const report = await renderFilm({ plan, library, faces, out: options.out ?? join(folder, 'film.mp4'), cache, signal: options.signal })
  return { plan, report }
}

/// Every frame of a film's picture as 8-bit grey, one at a time.
export async function eachFrame(
  tool: FfmpegTool,
  path: string,
  size: { readonly width: number; readonly height: number },
  onFrame: (pixels: Buffer, n: number) => void,
  format: 'gray' | 'rgb24' = 'gray',
): Promise<number> {
  const bytes = size.width * size.height * (format === 'gray' ? 1 : 3)
  // The quick conversion is off by up to three levels in green.
  const exactColours =
    format === 'rgb24' ? ['-vf', 'scale=in_color_matrix=bt709:in_range=tv:flags=bicubic+accurate_rnd+full_chroma_int+full_chroma_inp'] : []
  let rest: Buffer = Buffer.alloc(0)
  let n = 0
  await streamFfmpeg(
    tool,
    [
      '-v',
      'error',
      '-i',
      fileUrl(path),
      '-map',
      '0:v:0',
      ...(tool.has.fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', '0']),
      ...exactColours,
      '-f',
      'rawvideo',
      '-pix_fmt',
      format,
      'pipe:1',
    ],
    {
      onStdout: (chunk) => {
        rest = rest.length === 0 ? chunk : Buffer.concat([rest, chunk])
        while (rest.length >= bytes) {
          onFrame(rest.subarray(0, bytes), n++)
          rest = rest.subarray(bytes)
        }
      },
    },
  )
  return n
}

/// A breakdown of one paragraph without words, its notices left out on purpose; only what the test is about needs to be given.
export function wordless(
  parts: Partial<Breakdown> & Pick<Breakdown, 'footage' | 'clips'>,
  shots: NonNullable<Extract<Breakdown['script'][number], { text: unknown }>['shots']>,
): Breakdown {
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'A test',
    output: { width: 320, height: 180, rate: '60/1' },
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    script: [{ id: 'p1', text: [], shots: [...shots, { card: 'caution', seconds: '1/10' }] }],
    overrides: (['start-card-missing', 'end-card-missing'] as const).map((finding, i) => ({
      id: `n${i}`,
      finding,
      problem: NOTICE_PROBLEMS[finding],
      reason: 'pictures for a test, shown to nobody',
      by: 'Mara Quint',
      when: '2026-11-26',
    })),
    ...parts,
  }
}

/// Writes a document as a file.
export async function writeDocument(folder: string, breakdown: Breakdown, name = 'breakdown.json'): Promise<string> {
  const path = join(folder, name)
  await writeFile(path, JSON.stringify(breakdown))
  return path
}
