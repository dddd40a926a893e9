import { z } from 'zod'

/// What ffprobe's JSON holds of a file, as far as we read it. Everything may be missing.
const SideData = z.looseObject({
  side_data_type: z.string().optional(),
  rotation: z.number().optional(),
  displaymatrix: z.string().optional(),
})

export const ProbeStream = z.looseObject({
  index: z.number(),
  codec_type: z.string().optional(),
  codec_name: z.string().optional(),
  codec_tag_string: z.string().optional(),
  width: z.number().optional(),
  height: z.number().optional(),
  pix_fmt: z.string().optional(),
  sample_aspect_ratio: z.string().optional(),
  color_range: z.string().optional(),
  color_space: z.string().optional(),
  color_transfer: z.string().optional(),
  color_primaries: z.string().optional(),
  field_order: z.string().optional(),
  r_frame_rate: z.string().optional(),
  avg_frame_rate: z.string().optional(),
  time_base: z.string().optional(),
  start_pts: z.number().optional(),
  start_time: z.string().optional(),
  duration: z.string().optional(),
  nb_frames: z.string().optional(),
  bits_per_raw_sample: z.string().optional(),
  sample_rate: z.string().optional(),
  channels: z.number().optional(),
  disposition: z.record(z.string(), z.number()).optional(),
  tags: z.record(z.string(), z.string()).optional(),
  side_data_list: z.array(SideData).optional(),
})
export type ProbeStream = z.infer<typeof ProbeStream>

export const ProbeReport = z.looseObject({
  streams: z.array(ProbeStream).default([]),
  format: z
    .looseObject({
      format_name: z.string().optional(),
      start_time: z.string().optional(),
      duration: z.string().optional(),
      tags: z.record(z.string(), z.string()).optional(),
    })
    .default({}),
})
export type ProbeReport = z.infer<typeof ProbeReport>
