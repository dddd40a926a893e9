import { z } from 'zod'
import { Claim, Override } from './claim'
import { Line, NotNegativeFraction, PositiveFraction, Prose } from './fields'
import { Clip, Event, Footage, Landmark, Subject, View } from './film'
import { CueTime, ScriptRow } from './picture'
import { Measure } from './question'
import { Reference } from './reference'
import { Correction, Release } from './release'

/// The whole of a project as one value: what the breakdown document holds, and what every
/// pure verb of the core takes. Tables keep their order. The store and the document are two
/// ways of keeping it.

export const Output = z.strictObject({
  width: z.int().min(64).max(7680).multipleOf(2),
  height: z.int().min(64).max(7680).multipleOf(2),
  rate: PositiveFraction,
  /// Seconds of the film at which the frame is on screen that goes with it as its small picture; absent: chosen automatically.
  thumbnail: NotNegativeFraction.optional(),
})
export type Output = z.infer<typeof Output>

export const Breakdown = z.strictObject({
  format: z.literal('claimframe-breakdown'),
  version: z.literal(1),
  title: Line,
  /// The question that the film answers.
  question: Prose.optional(),
  output: Output,
  sound: z
    .strictObject({
      loudness: z.enum(['-14', '-23']).optional(),
      hall: z.enum(['muted', 'under']).optional(),
      roomTone: z.string().min(1).max(1000).optional(),
    })
    .optional(),
  /// Words that are spelt as they are meant, whatever a word list says.
  vocabulary: z.array(Line).max(10_000).optional(),
  footage: z.array(Footage).max(10_000),
  subjects: z.array(Subject).max(10_000),
  clips: z.array(Clip).max(10_000),
  views: z.array(View).max(100_000).optional(),
  events: z.array(Event).max(100_000).optional(),
  landmarks: z.array(Landmark).max(100_000).optional(),
  measures: z.array(Measure).max(100_000).optional(),
  cueTimes: z.array(CueTime).max(100_000).optional(),
  script: z.array(ScriptRow).max(100_000),
  claims: z.array(Claim).max(100_000).optional(),
  references: z.array(Reference).max(10_000).optional(),
  overrides: z.array(Override).max(100_000).optional(),
  releases: z.array(Release).max(1000).optional(),
  corrections: z.array(Correction).max(10_000).optional(),
})
export type Breakdown = z.infer<typeof Breakdown>
