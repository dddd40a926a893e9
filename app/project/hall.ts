import { z } from 'zod'
import { Frame, Id, LandmarkName, Line } from './fields'

/// What is known of the hall that a clip shows, once for all that is measured on it.

/// A length whose metres are known, lying as far from the camera as what is measured; `u` is 1 σ of
/// the scale as a share of it, difference of depth included.
export const Scale = z.strictObject({
  points: z.array(LandmarkName).length(2),
  frame: Frame,
  metres: z.number().positive().max(1000),
  u: z.number().min(0).max(1),
})
export type Scale = z.infer<typeof Scale>

/// Marks on the floor whose places are known: landmarks of `subject`, placed on the frame in
/// question, and where each lies on the floor, in `unit` ("m", or a length of one's own). `u`: 1 σ
/// of the floor's own dimensions, as a share of them.
export const Floor = z.strictObject({
  subject: Id,
  marks: z
    .array(z.strictObject({ point: LandmarkName, at: z.tuple([z.number().min(-1e4).max(1e4), z.number().min(-1e4).max(1e4)]) }))
    .min(4)
    .max(50),
  unit: Line,
  u: z.number().min(0).max(1),
})
export type Floor = z.infer<typeof Floor>

/// A measure's own camera, scale or floor stands before the hall's. `camera`: it stood still. `scale`: its points are landmarks
/// of its `subject`; measures with neither a unit nor a scale of their own are told by it.
export const Hall = z
  .strictObject({
    camera: z.literal('still').optional(),
    scale: Scale.extend({ subject: Id }).optional(),
    floor: Floor.optional(),
  })
  .meta({
    id: 'Hall',
    description:
      'What is known of the hall that a clip shows: that the camera stood still, a length in metres, marks on the floor. A measure’s own stands before it.',
  })
export type Hall = z.infer<typeof Hall>
