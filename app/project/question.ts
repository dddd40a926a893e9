import { z } from 'zod'
import { AngleWithU, Frame, Id, Line } from './fields'
import { LandmarkName } from './film'

/// Measures: questions put to landmarks and events. The registry in `app/measure` answers them.
/// A kind that is not listed here cannot be stored.

const named = { id: Id, label: Line.optional() }
const onFrame = { ...named, clip: Id, subject: Id, frame: Frame }
const points = (n: number) => z.array(LandmarkName).length(n)

/// The limb's plane against the image plane, stated by the analyst: makes the angle a joint angle
/// in its plane instead of an apparent one.
const limbPlane = { plane: AngleWithU.optional() }

export const Measure = z.discriminatedUnion('kind', [
  /// Three points, vertex in the middle; interior angle, degrees.
  z.strictObject({ ...onFrame, ...limbPlane, kind: z.literal('joint-angle'), points: points(3) }),
  /// Two points (lower, upper) against the vertical; degrees, + when the upper end leans to image
  /// right (of the unmirrored picture), or, with `toward: "lead"`, towards the lead foot.
  z.strictObject({ ...onFrame, kind: z.literal('line-lean'), points: points(2), toward: z.enum(['right', 'lead']).optional() }),
  /// Four points: line ab against line cd, directed; degrees, 0–180.
  z.strictObject({ ...onFrame, kind: z.literal('line-angle'), points: points(4) }),
  /// Frames from event `from` to event `to` of one clip.
  z.strictObject({ ...named, kind: z.literal('frame-count'), clip: Id, from: Id, to: Id }),
  /// Real time from event `from` to event `to` of one clip, seconds.
  z.strictObject({ ...named, kind: z.literal('time-between'), clip: Id, from: Id, to: Id }),
  /// Which of two events of one clip came first.
  z.strictObject({ ...named, kind: z.literal('order'), clip: Id, from: Id, to: Id }),
  /// Distance of two points in body units: the projected length of `unit` (two points) on `unitFrame`.
  z.strictObject({ ...onFrame, kind: z.literal('distance'), points: points(2), unit: z.strictObject({ points: points(2), frame: Frame, name: Line }) }),
])
export type Measure = z.infer<typeof Measure>
export type MeasureKind = Measure['kind']
