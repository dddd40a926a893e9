import { z } from 'zod'
import { Id, Line, Prose } from './fields'

/// A cited work. `csl` is one item of CSL-JSON (the Citation Style Language's item data), kept whole
/// as it was given; only its `type` must be there. `population` and `limits` say of whom and how far
/// the finding holds: a claim may say no more than both allow.
export const Reference = z
  .strictObject({
    id: Id,
    csl: z
      .looseObject({ type: z.string().min(1).max(80) })
      .refine((item) => JSON.stringify(item).length <= 200_000, 'at most 200,000 characters'),
    finding: Prose.optional(),
    population: Prose.optional(),
    limits: Prose.optional(),
    /// Not living fighters in a bout: stated beside the reference wherever it is listed.
    setting: z
      .array(z.enum(['dummy', 'helmet', 'laboratory', 'other-sport', 'model']))
      .max(5)
      .optional(),
    note: Line.optional(),
  })
  .meta({ id: 'Reference', description: 'A cited work: one item of CSL-JSON as given, what it found, in whom, and how far that holds.' })
export type Reference = z.infer<typeof Reference>

/// Where a study was made when it was not on living fighters in a bout, in words.
export const SETTINGS: Readonly<Record<NonNullable<Reference['setting']>[number], string>> = {
  dummy: 'on a dummy',
  helmet: 'with helmets',
  laboratory: 'in a laboratory',
  'other-sport': 'in another sport',
  model: 'by a model',
}

/// Settings in words; one that is not of the list as it stands.
export const settingWords = (setting: readonly string[]): string =>
  setting.map((each) => Object.entries(SETTINGS).find(([name]) => name === each)?.[1] ?? each).join(', ')
