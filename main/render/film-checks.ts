import { z } from 'zod'
import { toNumber, type Rational } from '../../app/time/rational'
import { fileUrl } from '../media/file-url'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { runFfprobe } from '../media/process'

/// What the finished file is held against before it gets its final name.
export interface ExpectedFilm {
  readonly width: number
  readonly height: number
  readonly rate: Rational
  readonly frames: number
}

const Report = z.object({
  streams: z.array(
    z.object({
      codec_type: z.string(),
      codec_name: z.string(),
      width: z.number().optional(),
      height: z.number().optional(),
      r_frame_rate: z.string().optional(),
      nb_read_packets: z.string().optional(),
      duration: z.string().optional(),
      pix_fmt: z.string().optional(),
      color_space: z.string().optional(),
      sample_rate: z.string().optional(),
    }),
  ),
})

/// Problems of a finished film, in words; none when it is what was planned. Reads every packet.
export async function filmProblems(tool: FfmpegTool, path: string, expected: ExpectedFilm, signal?: AbortSignal): Promise<string[]> {
  const text = await runFfprobe(tool, ['-v', 'error', '-count_packets', '-show_streams', '-print_format', 'json', fileUrl(path)], {
    signal,
    what: 'the check of the film',
  })
  const { streams } = Report.parse(JSON.parse(text))
  const picture = streams.find((s) => s.codec_type === 'video')
  const sound = streams.find((s) => s.codec_type === 'audio')
  const problems: string[] = []
  if (!picture) return ['the film has no picture']
  if (Number(picture.nb_read_packets) !== expected.frames)
    problems.push(`the film has ${picture.nb_read_packets} frames where ${expected.frames} were planned`)
  if (picture.width !== expected.width || picture.height !== expected.height)
    problems.push(`the picture is ${picture.width}×${picture.height} where ${expected.width}×${expected.height} was planned`)
  if (picture.r_frame_rate !== `${expected.rate.n}/${expected.rate.d}`)
    problems.push(`the rate is ${picture.r_frame_rate} where ${expected.rate.n}/${expected.rate.d} was planned`)
  if (!sound) problems.push('the film has no sound track')
  const frame = 1 / toNumber(expected.rate)
  const lengths = [picture, sound].map((s) => Number(s?.duration))
  const planned = expected.frames * frame
  if (Math.abs(lengths[0]! - planned) > frame / 2)
    problems.push(`the picture lasts ${lengths[0]} s where ${planned.toFixed(3)} s was planned`)
  // One AAC frame of 1024 samples may follow the last picture.
  if (sound && Math.abs(lengths[1]! - planned) > frame + 1024 / 48_000)
    problems.push(`sound and picture differ in length: ${lengths[1]} s and ${lengths[0]} s`)
  return problems
}
