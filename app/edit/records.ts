import { z } from 'zod'
import { Breakdown } from '../project/breakdown'
import { Claim, Override } from '../project/claim'
import { Clip, Event, Footage, Landmark, Sample, Subject, View } from '../project/film'
import { CueTime, Paragraph } from '../project/picture'
import { Measure } from '../project/question'
import { Reference } from '../project/reference'
import { Correction, Release } from '../project/release'

/// The records a project is kept and edited in. They are the document's own, except that a
/// landmark's samples lie in packs of 256 frames, a paragraph's words in the script document, and
/// what is not a table in the settings.

/// Frames of a landmark that share a pack.
export const PACK_FRAMES = 256

/// Tables that a document may leave out.
export const optionalTables = [
  'views',
  'events',
  'landmarks',
  'measures',
  'cueTimes',
  'claims',
  'references',
  'overrides',
  'releases',
  'corrections',
] as const

/// Everything of a breakdown that is not a table. `kept` names the optional tables that its
/// document wrote, so that an empty one comes back as it was.
export const Settings = Breakdown.omit({
  format: true,
  version: true,
  footage: true,
  subjects: true,
  clips: true,
  views: true,
  events: true,
  landmarks: true,
  measures: true,
  cueTimes: true,
  script: true,
  claims: true,
  references: true,
  overrides: true,
  releases: true,
  corrections: true,
}).extend({ kept: z.array(z.enum(optionalTables)) })
export type Settings = z.infer<typeof Settings>

/// A landmark without its samples.
export const LandmarkHead = Landmark.omit({ samples: true })
export type LandmarkHead = z.infer<typeof LandmarkHead>

/// The samples of one landmark on frames `pack` · 256 up to the next pack, in the order of their frames.
export const Pack = z.strictObject({ ...LandmarkHead.shape, pack: z.int().min(0), samples: z.array(Sample).min(1).max(1_000_000) })
export type Pack = z.infer<typeof Pack>

/// A paragraph's pictures and names. There is none for a paragraph that has neither.
export const ParagraphRecord = Paragraph.omit({ text: true }).refine((p) => Object.keys(p).length > 1, 'says nothing beside its id')
export type ParagraphRecord = z.infer<typeof ParagraphRecord>

export interface Records {
  readonly settings: Settings
  readonly footage: Footage
  readonly subjects: Subject
  readonly clips: Clip
  readonly views: View
  readonly events: Event
  readonly landmarks: LandmarkHead
  readonly packs: Pack
  readonly measures: Measure
  readonly cueTimes: CueTime
  readonly paragraphs: ParagraphRecord
  readonly claims: Claim
  readonly references: Reference
  readonly overrides: Override
  readonly releases: Release
  readonly corrections: Correction
}
export type TableName = keyof Records

/// What each table holds and what its records are known by. A key is stable text; its parts are
/// ids, which hold no `/`. In an unordered table `after` is always null and means nothing.
export const tables: {
  readonly [T in TableName]: {
    readonly schema: z.ZodType<Records[T]>
    readonly keyOf: (record: Records[T]) => string
    readonly ordered: boolean
  }
} = {
  settings: { schema: Settings, keyOf: () => 'project', ordered: false },
  footage: { schema: Footage, keyOf: (r) => r.id, ordered: true },
  subjects: { schema: Subject, keyOf: (r) => r.id, ordered: true },
  clips: { schema: Clip, keyOf: (r) => r.id, ordered: true },
  views: { schema: View, keyOf: (r) => `${r.clip}/${r.subject}/${r.from}`, ordered: true },
  events: { schema: Event, keyOf: (r) => r.id, ordered: true },
  landmarks: { schema: LandmarkHead, keyOf: landmarkKey, ordered: true },
  packs: { schema: Pack, keyOf: (r) => `${landmarkKey(r)}/${r.pack}`, ordered: false },
  measures: { schema: Measure, keyOf: (r) => r.id, ordered: true },
  cueTimes: { schema: CueTime, keyOf: (r) => `${r.paragraph}/${r.event}`, ordered: true },
  paragraphs: { schema: ParagraphRecord, keyOf: (r) => r.id, ordered: false },
  claims: { schema: Claim, keyOf: (r) => r.id, ordered: true },
  references: { schema: Reference, keyOf: (r) => r.id, ordered: true },
  overrides: { schema: Override, keyOf: (r) => r.id, ordered: true },
  releases: { schema: Release, keyOf: (r) => r.id, ordered: true },
  corrections: { schema: Correction, keyOf: (r) => r.id, ordered: true },
}

export const tableNames = Object.keys(tables) as readonly TableName[]

/// The key of a landmark in `landmarks`; its packs' keys go on with the pack's number.
export function landmarkKey(of: LandmarkHead): string {
  return `${of.clip}/${of.subject}/${of.point}`
}

/// The pack a frame's samples lie in.
export const packOf = (frame: number): number => Math.floor(frame / PACK_FRAMES)

/// A landmark's samples, in the order of their frames, as packs.
export function packSamples(of: LandmarkHead, samples: readonly Sample[]): Pack[] {
  const packs: Pack[] = []
  for (const sample of samples) {
    const pack = packOf(sample.frame)
    const last = packs.at(-1)
    if (last?.pack === pack) last.samples.push(sample)
    else packs.push({ clip: of.clip, subject: of.subject, point: of.point, pack, samples: [sample] })
  }
  return packs
}
