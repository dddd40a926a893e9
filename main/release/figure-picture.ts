import { writeAss } from '../../app/marks/ass'
import type { Shape } from '../../app/marks/shape'
import { fileUrl } from '../media/file-url'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { runFfmpeg } from '../media/process'
import type { FilmFaces } from '../render/faces'
import { inSegmentFolder } from '../render/segment-cache'

/// Shapes as a PNG by the painter that draws on films. What they do not cover is white.
export async function paintFigure(
  tool: FfmpegTool,
  shapes: readonly Shape[],
  size: { readonly width: number; readonly height: number },
  faces: FilmFaces,
  file: string,
  cache: string,
  signal?: AbortSignal,
): Promise<void> {
  const ass = writeAss([{ from: 0, to: 1, shapes }], { ...size, frames: 1, typeface: faces.typeface, matrix: 'bt601' })
  await inSegmentFolder({ ass }, faces, cache, async (cwd) => {
    const graph = `color=c=white:s=${size.width}x${size.height}:r=1,trim=end_frame=1,format=gbrp,settb=1/1000,setpts=N*100,ass=marks.ass:fontsdir=fonts,format=rgb24[figure]`
    await runFfmpeg(
      tool,
      ['-v', 'error', '-y', '-filter_complex', graph, '-map', '[figure]', '-frames:v', '1', '-f', 'image2', '-c:v', 'png', fileUrl(file)],
      { cwd, signal, what: 'a figure' },
    )
  })
}
