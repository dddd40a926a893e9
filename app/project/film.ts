import { z } from 'zod'
import { AngleWithU, Frame, Id, LandmarkName, Line, PositiveFraction, Prose, NotNegative } from './fields'
import { Hall } from './hall'
import { keyedUnion } from './keyed-union'

/// Footage, clips and who is in them.

/// An imported film file, never altered. `file` is relative to the document (or project).
export const Footage = z
  .strictObject({
    id: Id,
    file: z.string().min(1).max(1000),
    /// SHA-256 of the whole file, once known.
    sha256: z
      .string()
      .regex(/^[0-9a-f]{64}$/)
      .optional(),
    /// Where the film is from and on what basis it is used. No verdict on law.
    source: z
      .strictObject({
        owner: Line.optional(),
        where: Line.optional(),
        when: Line.optional(),
        basis: Prose.optional(),
        credit: Line.optional(),
      })
      .optional(),
    /// Where it was made of another film's fields: picture i shows field i mod 2, in the order in which they were shot, of frame
    /// ⌊i / 2⌋ of `file`. `first`: whether the field of the upper or of the lower lines was shot first.
    fields: z
      .strictObject({
        file: z.string().min(1).max(1000),
        sha256: z
          .string()
          .regex(/^[0-9a-f]{64}$/)
          .optional(),
        first: z.enum(['top', 'bottom']),
      })
      .optional(),
    /// Films of the project that look like this one and of which a person has said that they are not the same. A film that
    /// is named here may be gone.
    unlike: z.array(Id).max(10_000).optional(),
  })
  .meta({ id: 'Footage', description: 'An imported film file, never altered; file is relative to the document’s folder.' })
export type Footage = z.infer<typeof Footage>

/// A person on film.
export const Subject = z.strictObject({ id: Id, name: Line })
export type Subject = z.infer<typeof Subject>

/// factor k = file duration / real duration (240 fps conformed to 30: k = 8); u is 1 σ of k.
/// `unknown` is a valid state: it refuses milliseconds, speeds and rates and allows frame counts.
/// `link`: the factor was found from events that this clip shares with a clip of known factor
/// ([here, there] pairs, two or more). Measures then take k and u from the events themselves;
/// `factor` and `u` hold what came out, for all that only plays the clip.
const KnownCapture = z.strictObject({
  factor: PositiveFraction,
  u: NotNegative,
  link: z
    .strictObject({
      shared: Id,
      pairs: z
        .array(z.tuple([Id, Id]))
        .min(2)
        .max(100),
    })
    .optional(),
})
export const Capture = keyedUnion('"unknown", or a factor with its u', {
  text: z.literal('unknown'),
  keys: { factor: KnownCapture, u: KnownCapture },
}).meta({
  id: 'Capture',
  description: 'factor = file duration / real duration (240 fps conformed to 30: 8), u its 1 σ; "unknown" refuses times, speeds and rates.',
})
export type Capture = z.infer<typeof Capture>

/// A span of frames of one footage, one camera, no cut inside. `from` included, `to` excluded.
export const Clip = z
  .strictObject({
    id: Id,
    footage: Id,
    from: Frame,
    to: Frame,
    name: Line.optional(),
    bout: Line.optional(),
    technique: Line.optional(),
    capture: Capture,
    /// The picture is flipped when shown, for comparison; points stay in unmirrored pixels.
    mirrored: z.boolean().optional(),
    /// How far the camera is turned about its axis: image vertical against true vertical, + clockwise.
    roll: AngleWithU.optional(),
    hall: Hall.optional(),
    picture: z.enum(['live', 'replay', 'graphic']).optional(),
    use: z.strictObject({ state: z.enum(['used', 'rejected']), reason: Prose.optional() }).optional(),
  })
  .meta({
    id: 'Clip',
    description:
      'A span of frames of one footage, one camera, no cut inside: from included, to excluded. roll: how far the camera is turned, + clockwise.',
  })
export type Clip = z.infer<typeof Clip>

/// How a subject stands to the camera during a span of a clip. yaw 0 = side-on; elevation is the
/// camera's angle above the subject's horizon.
export const View = z
  .strictObject({
    clip: Id,
    subject: Id,
    from: Frame,
    to: Frame,
    lead: z.enum(['left', 'right']).optional(),
    yaw: AngleWithU.optional(),
    elevation: AngleWithU.optional(),
  })
  .meta({
    id: 'View',
    description:
      'How a subject stands to the camera during a span of a clip. yaw 0: side-on; elevation: the camera’s angle above the subject’s horizon.',
  })
export type View = z.infer<typeof View>

/// A named instant on a clip. It lies between the presentation times of `earliest` and `latest`;
/// equal frames mean ± half a frame interval. `markings`: it was marked a second time by somebody who did not see the first
/// bracket; both as they were then, whatever the bracket has become since.
const MarkedBracket = z.strictObject({ earliest: Frame, latest: Frame })
export const Event = z
  .strictObject({
    id: Id,
    clip: Id,
    name: Line,
    earliest: Frame,
    latest: Frame,
    definition: Prose.optional(),
    markings: z.strictObject({ first: MarkedBracket, second: MarkedBracket }).optional(),
  })
  .meta({
    id: 'Event',
    description:
      'A named instant between the presentation times of earliest and latest; equal frames mean ± half a frame interval. markings: a first marking and a blind second one, as they were.',
  })
export type Event = z.infer<typeof Event>

export const Seen = z.enum(['seen', 'occluded', 'blurred'])
export type Seen = z.infer<typeof Seen>

/// One placing of a landmark. `sigma` is 1 σ per axis in pixels, everything included; absent:
/// the default of docs/measurement.md. Several samples on one frame are repeats.
export const Sample = z
  .strictObject({
    frame: Frame,
    at: z.tuple([z.number().min(-100_000).max(100_000), z.number().min(-100_000).max(100_000)]),
    sigma: z.number().positive().max(10_000).optional(),
    seen: Seen.optional(),
    /// Blur length along the limb's normal, px.
    blur: NotNegative.optional(),
    origin: z.enum(['placed', 'tracked', 'corrected', 'suggested']).optional(),
  })
  .meta({
    id: 'Sample',
    description:
      'One placing of a landmark. sigma: 1 σ per axis in pixels, everything included. Samples stand in the order of their frames; several on one frame are repeats.',
  })
export type Sample = z.infer<typeof Sample>

export const Landmark = z.strictObject({ clip: Id, subject: Id, point: LandmarkName, samples: z.array(Sample).max(1_000_000) })
export type Landmark = z.infer<typeof Landmark>
