import { z } from 'zod'
import { ClaimClass, Evidence, Quoted } from './claim'
import { Frame, Id, Line, NotNegative, Prose, Real } from './fields'

/// A published film and what became of it. Everything in a release is a copy: it speaks without the
/// project's present values and without the footage.

const Sha256 = z.string().regex(/^[0-9a-f]{64}$/)

/// A value as the film gave it.
export const SaidValue = z.strictObject({
  measure: Id,
  kind: Line,
  /// As it stood on the plate ("142° ± 12°"), what it is, and as it was spoken.
  value: Line,
  what: Line,
  spoken: Line,
  verdict: z.enum(['good', 'warned', 'range', 'refused']),
  number: Real.nullable(),
  U: Real.nullable(),
  low: Real.nullable(),
  high: Real.nullable(),
  unit: Line,
  clip: Id.nullable(),
  frame: Frame.nullable(),
  parts: z.array(z.strictObject({ name: Line, U: Real, key: Line.optional() })).max(100),
  reasons: z.array(Prose).max(100),
  /// Events that it was measured between or on.
  events: z.array(Id).max(20),
  /// Measures that it was built on, where they are: those of a comparison. Entries of the release's own list.
  measures: z.array(Id).max(1000).optional(),
})
export type SaidValue = z.infer<typeof SaidValue>

/// An event with the bracket that it had.
export const SaidEvent = z.strictObject({ id: Id, clip: Id, name: Line, earliest: Frame, latest: Frame })
export type SaidEvent = z.infer<typeof SaidEvent>

/// A reference as it was printed, and what was noted of it.
export const SaidReference = z.strictObject({
  id: Id,
  text: Prose,
  finding: Prose.optional(),
  population: Prose.optional(),
  limits: Prose.optional(),
  setting: z.array(Line).max(100).optional(),
})
export type SaidReference = z.infer<typeof SaidReference>

/// Words of the film: a sentence, a caption, a label on the picture, a card, a chapter, the title, what
/// a take said; when in the film (seconds; absent where it has no time), and what it rested on.
/// `values` and `events` name entries of the release's own lists.
export const Said = z.strictObject({
  as: z.enum(['sentence', 'caption', 'label', 'card', 'name', 'chapter', 'title', 'take', 'description']),
  words: z.string().max(20_000),
  from_s: NotNegative.optional(),
  to_s: NotNegative.optional(),
  paragraph: Id.optional(),
  on: Quoted.optional(),
  classes: z.array(ClaimClass).max(13).optional(),
  /// Where a person stated other classes than the rules suggested, and left out one that can hold a film back: what was suggested,
  /// who stated it and when, as text (empty where that was not kept).
  byHand: z.strictObject({ suggested: z.tuple([ClaimClass], ClaimClass), by: Line, when: Line }).optional(),
  evidence: z.array(Evidence).max(100).optional(),
  values: z.array(Id).max(1000).optional(),
  events: z.array(Id).max(1000).optional(),
  references: z.array(Id).max(1000).optional(),
  /// The take's file, where it was recorded.
  take: z.string().min(1).max(1000).optional(),
  /// Names of stills among `files`.
  stills: z.array(Line).max(100).optional(),
})
export type Said = z.infer<typeof Said>

/// A file that went out or is kept with the release; `name` is relative to the release's folder.
export const ReleasedFile = z.strictObject({
  name: z.string().min(1).max(1000),
  sha256: Sha256,
  bytes: z.int().min(0).optional(),
  /// A still: which frame it shows, and at which second of the file's own time that stands.
  still: z.strictObject({ clip: Id, frame: Frame, footageSha256: Sha256.optional(), at_s: Real.optional() }).optional(),
})
export type ReleasedFile = z.infer<typeof ReleasedFile>

/// A published version, frozen: it is added and never changed.
export const Release = z
  .strictObject({
    id: Id,
    /// What the film is called, and the version's own name ("first", "2").
    film: Line,
    version: Line,
    /// As text, ISO 8601 by the day ("2026-11-25").
    date: Line,
    /// Where it was put up, if anywhere.
    where: Line.optional(),
    /// The project's version, and the checksums of the breakdown document, of the film and of all else.
    project: z.int().min(0),
    document: Sha256.optional(),
    files: z.array(ReleasedFile).max(10_000),
    /// `source`: whose it is, where and when it was shot, as its source card had it.
    footage: z.array(z.strictObject({ id: Id, file: Line, sha256: Sha256.optional(), source: Line.optional() })).max(10_000),
    /// What its clips were called, and of which footage they are.
    clips: z
      .array(z.strictObject({ id: Id, name: Line, footage: Id }))
      .max(100_000)
      .optional(),
    /// Those that something said rests on.
    references: z.array(SaidReference).max(10_000).optional(),
    values: z.array(SaidValue).max(100_000),
    events: z.array(SaidEvent).max(100_000),
    said: z.array(Said).max(100_000),
    note: Prose.optional(),
  })
  .meta({
    id: 'Release',
    description:
      'A published version of the film, frozen: its files with checksums, and what each sentence, caption and label said with which values and events.',
  })
export type Release = z.infer<typeof Release>

/// A dated note on a published version: what it said, what holds now. `was` is kept word for word.
export const Correction = z
  .strictObject({
    id: Id,
    release: Id,
    date: Line,
    state: z.enum(['draft', 'published']),
    note: Prose.min(1),
    changes: z
      .array(
        z.strictObject({
          of: z.enum(['value', 'event', 'reference', 'words']),
          id: Id.optional(),
          was: Prose,
          now: Prose,
          at_s: z.array(NotNegative).max(1000).optional(),
        }),
      )
      .max(10_000),
  })
  .meta({ id: 'Correction', description: 'A dated note on a published version: the old value kept, the new one, and where it was said.' })
export type Correction = z.infer<typeof Correction>
