import { z } from 'zod'
import { AngleWithU, Frame, Id, LandmarkName, Line, NotNegative, Prose, Real } from './fields'
import { Floor, Scale } from './hall'
import { keyedUnion } from './keyed-union'

/// Measures: questions put to landmarks and events. The registry in `app/measure` answers them.
/// A kind that is not listed here cannot be stored.

const named = { id: Id, label: Line.optional() }
/// `event`: the frame stands for this event; what its bracket leaves open enters the error.
const onFrame = { ...named, clip: Id, subject: Id, frame: Frame, event: Id.optional() }
/// For measures that build on other measures or on cases instead of one clip.
const acrossClips = { ...named, clip: z.never().optional() }
const points = (n: number) => z.array(LandmarkName).length(n)

/// The limb's plane against the image plane, stated by the analyst: makes the angle a joint angle
/// in its plane instead of an apparent one.
const limbPlane = { plane: AngleWithU.optional() }

/// A length of the body that others are told in: two points on a frame of the same clip, and what
/// it is called ("head heights").
export const BodyUnit = z.strictObject({ points: points(2), frame: Frame, name: Line })
export type BodyUnit = z.infer<typeof BodyUnit>
const lengths = { unit: BodyUnit.optional(), scale: Scale.optional() }

/// What the camera did: stood still, or is followed by points of the background, placed on the
/// frames in question as landmarks of this subject. Absent: as the clip states it, else not taken out, and warned of.
export const Camera = keyedUnion('"still", or background points', {
  text: z.literal('still'),
  keys: { background: z.strictObject({ background: z.array(LandmarkName).min(2).max(50) }) },
})
export type Camera = z.infer<typeof Camera>
const camera = { camera: Camera.optional() }

/// Where a person stands: the middle of one to four planted points.
const Stand = z.strictObject({ subject: Id, points: z.array(LandmarkName).min(1).max(4) })
/// A line on the floor, frozen on one frame: from one stand towards another.
export const FloorLine = z.strictObject({ frame: Frame, stands: z.tuple([Stand, Stand]) })
export type FloorLine = z.infer<typeof FloorLine>
/// `floor` absent: the clip's own. The analyst states that every foot point lies on the floor on its frame; without it the measure
/// is refused, for a heel 5 cm up reads 17 cm off.
const onFloor = { floor: Floor.optional(), line: FloorLine, planted: z.literal(true).optional() }

const Side = z.enum(['left', 'right'])
/// Cut-off of the low-pass, Hz of real time. Absent: 10 Hz, or a quarter of the true rate if less.
const filtered = { cutoff: z.number().min(0.5).max(200).optional() }
/// Two points (a line) or three (a joint), whose angle turns; `above`: a line seen from a high
/// camera, its heading on the floor (needs the view's elevation).
const turning = { points: z.array(LandmarkName).min(2).max(3), above: z.literal(true).optional() }

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
  /// Distance of two points across the picture, in body units.
  z.strictObject({ ...onFrame, kind: z.literal('distance'), points: points(2), unit: BodyUnit }),
  /// How far the shoulder line is turned against the hip line, as from above; degrees, + when the
  /// rear shoulder is drawn back (counter-clockwise from above where the lead side is unknown).
  /// `from: "side"`: by foreshortening, from the widths that both lines show square to the camera
  /// on `widths`' frames, and from which side of each is `near` the camera; without `near` both
  /// solutions are given. `from: "above"`: from the drawn lines of a high camera.
  z.strictObject({
    ...onFrame,
    kind: z.literal('separation'),
    view: z.enum(['side', 'above']),
    widths: z.strictObject({ hipsFrame: Frame, shouldersFrame: Frame }).optional(),
    near: z.strictObject({ hips: Side, shoulders: Side }).optional(),
  }),
  /// Distance of a planted foot (the middle of its points) from a floor line, in the floor's unit.
  z.strictObject({ ...onFrame, ...onFloor, kind: z.literal('step-off-line'), points: z.array(LandmarkName).min(1).max(2) }),
  /// Angle of a planted foot (heel, toe) to a floor line; degrees, 0–180.
  z.strictObject({ ...onFrame, ...onFloor, kind: z.literal('foot-heading'), points: points(2) }),
  /// How far a point moved across the picture since `fromFrame`, camera motion taken out; against
  /// another point (`against`) that motion is taken out instead.
  z.strictObject({
    ...onFrame,
    ...lengths,
    ...camera,
    kind: z.literal('displacement'),
    points: points(1),
    fromFrame: Frame,
    against: LandmarkName.optional(),
  }),
  /// The same for the head, in head heights.
  z.strictObject({
    ...onFrame,
    ...camera,
    kind: z.literal('head-displacement'),
    points: points(1),
    fromFrame: Frame,
    against: LandmarkName.optional(),
    unit: BodyUnit,
  }),
  /// Length of a point's way across the picture from `fromFrame` up to and with `toFrame`.
  z.strictObject({
    ...named,
    ...lengths,
    ...camera,
    ...filtered,
    kind: z.literal('path'),
    clip: Id,
    subject: Id,
    points: points(1),
    fromFrame: Frame,
    toFrame: Frame,
  }),
  /// How far the balance point moved across the picture since `fromFrame`: of the segments that
  /// are placed on both frames, by a handbook's table, or of the middle of the hips in its stead.
  z.strictObject({
    ...onFrame,
    ...lengths,
    ...camera,
    kind: z.literal('centre-of-mass'),
    fromFrame: Frame,
    table: z.enum(['de-leva-female', 'de-leva-male', 'winter', 'hip-midpoint']),
  }),
  /// Speed of a point across the picture on a frame, in body units or metres a second. `flight`: the
  /// point flies free on the frames around; one parabola must then hold, or one scale does not.
  z.strictObject({
    ...onFrame,
    ...lengths,
    ...camera,
    ...filtered,
    kind: z.literal('speed'),
    points: points(1),
    flight: z.literal(true).optional(),
  }),
  /// How fast a line or a joint turns on the picture on a frame, degrees a second.
  z.strictObject({ ...onFrame, ...filtered, ...turning, kind: z.literal('angular-rate') }),
  /// When a line or a joint turns fastest between `fromFrame` and `toFrame`: real seconds since
  /// `fromFrame`. `sign`: the fastest either way (absent), only opening (+) or only closing (−).
  z.strictObject({
    ...named,
    ...filtered,
    ...turning,
    kind: z.literal('peak-time'),
    clip: Id,
    subject: Id,
    fromFrame: Frame,
    toFrame: Frame,
    sign: z.enum(['+', '-']).optional(),
  }),
  /// Which of two peak times of one clip came first.
  z.strictObject({ ...acrossClips, kind: z.literal('peak-order'), measures: z.tuple([Id, Id]) }),
  /// In how many of the cases something was seen. `set` says what was looked at and why these;
  /// `holds` null: the case could not be seen well enough. Cases of one bout count once.
  z.strictObject({
    ...acrossClips,
    kind: z.literal('count'),
    what: Line,
    set: Prose,
    cases: z.array(z.strictObject({ clip: Id, holds: z.boolean().nullable(), note: Line.optional() })).max(10_000),
  }),
  /// A value judged by eye, in words or marks on the picture none. `seen`: a limb flat to the
  /// picture, an oblique one, or a turn about the body's own axis.
  z.strictObject({
    ...named,
    kind: z.literal('by-eye'),
    clip: Id,
    subject: Id.optional(),
    frame: Frame,
    what: Line,
    value: Real,
    unit: Line,
    seen: z.enum(['planar', 'oblique', 'transverse']).optional(),
    u: NotNegative.optional(),
  }),
  /// Two readings of one kind against each other. `margin`: how near counts as similar, written
  /// down before the second was measured (`before`), with the margins that it replaced.
  z.strictObject({
    ...acrossClips,
    kind: z.literal('comparison'),
    measures: z.tuple([Id, Id]),
    margin: z
      .strictObject({
        delta: z.number().positive().max(1e6),
        before: z.boolean(),
        earlier: z.array(z.number().positive().max(1e6)).max(100).optional(),
      })
      .optional(),
  }),
])
export type Measure = z.infer<typeof Measure>
export type MeasureKind = Measure['kind']
