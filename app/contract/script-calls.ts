import { z } from 'zod'
import { Frame, Id } from '../project/fields'
import { LandmarkName } from '../project/fields'
import { Sample } from '../project/film'
import type { Reading } from '../measure/reading'
import { Quoted } from '../project/claim'
import { FindingCode, type Finding } from '../script/claims/finding'
import { call } from './call'

const nullable = z.number().nullable()

/// A reading as it travels; see app/measure/reading.ts for what each field means.
export const ReadingAnswer = z.strictObject({
  id: Id,
  kind: z.string(),
  clip: z.string().nullable(),
  frame: z.int().nullable(),
  value: nullable,
  u: nullable,
  U: nullable,
  low: nullable,
  high: nullable,
  unit: z.string(),
  plane: z.enum(['image', 'true', 'ground', 'above', 'time']),
  verdict: z.enum(['good', 'warned', 'range', 'refused']),
  reasons: z.array(z.string()).readonly(),
  parts: z.array(z.strictObject({ name: z.string(), U: z.number(), key: z.string().exactOptional() })).readonly(),
  label: z.string(),
  plate: z.strictObject({ value: z.string(), what: z.string() }),
  spoken: z.string(),
}) satisfies z.ZodType<Reading, unknown>

/// A caption as it will stand in the film: seconds from the film's start.
export const CaptionAnswer = z.strictObject({ from_s: z.number(), to_s: z.number(), lines: z.array(z.string()) })

/// Something that a sentence claims and that nothing stands behind, or not enough; see app/script/claims/finding.ts.
export const FindingAnswer = z.strictObject({
  code: FindingCode,
  place: z.string(),
  paragraph: z.string(),
  sentence: z.string(),
  problem: z.string(),
  wayOut: z.string(),
  on: Quoted.nullable(),
  holds: z.boolean(),
  override: z.strictObject({ id: Id, reason: z.string(), by: z.string(), when: z.string() }).nullable(),
}) satisfies z.ZodType<Finding>

/// Samples asked for: of one clip, narrowed by subject, point and frames (`to` excluded).
export const SampleQuestion = z.strictObject({
  clip: Id,
  subject: Id.optional(),
  point: LandmarkName.optional(),
  from: Frame.optional(),
  to: Frame.optional(),
})

export const scriptCalls = {
  'readings.list': call(
    z.strictObject({}),
    z.strictObject({ version: z.int(), readings: z.array(ReadingAnswer) }),
    'The reading of every measure, in the order of the measures, and the version that they speak of. A `readings` event follows every change.',
  ),
  'landmarks.samples': call(
    SampleQuestion,
    z.strictObject({
      version: z.int(),
      landmarks: z.array(z.strictObject({ clip: Id, subject: Id, point: LandmarkName, samples: z.array(Sample) })),
    }),
    'Placed samples on demand, by landmark, in the order of their frames. 50,000 at most: refused with `too-large` beyond; ask for fewer frames.',
  ),
  'findings.list': call(
    z.strictObject({}),
    z.strictObject({ version: z.int(), findings: z.array(FindingAnswer) }),
    'Open findings on what the script claims, in its order. Ask again after an `edits` or `readings` event.',
  ),
  'captions.list': call(
    z.strictObject({}),
    z.strictObject({ version: z.int(), captions: z.array(CaptionAnswer) }),
    'The captions of the film as it stands.',
  ),
} as const
