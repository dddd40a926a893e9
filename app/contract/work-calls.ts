import { z } from 'zod'
import { Id, Line } from '../project/fields'
import { NOTICE_FINDING_CODES } from '../release/notices'
import type { SourceUse } from '../release/source-use'
import { call } from './call'
import { FilePath } from './project-calls'
import { JobId } from './footage-calls'
import { Refusal } from './refusal'

/// Long work of the engine. It goes on when windows are closed or reloaded.
export const Job = z.strictObject({
  id: JobId,
  kind: z.enum(['gather', 'read-film', 'pieces', 'proxy', 'fields', 'likeness', 'render', 'bundle', 'release']),
  /// In plain words, with the name of what it works on: "reading bout-a.mp4".
  label: z.string(),
  /// `waiting` for other jobs; `cancelled` is a state, not a failure.
  state: z.enum(['waiting', 'running', 'done', 'failed', 'cancelled']),
  /// 0 to 1; null while it cannot be known.
  progress: z.number().min(0).max(1).nullable(),
  /// Seconds left by the speed so far; null while it cannot be said.
  left_s: z.number().nullable(),
  footage: Id.nullable(),
  /// The finished file, where the job makes one.
  file: z.string().nullable(),
  refusal: Refusal.nullable(),
})
export type Job = z.infer<typeof Job>

/// How the film uses one footage; see app/release/source-use.ts.
const SourceUseAnswer = z.strictObject({
  footage: z.string(),
  file: z.string(),
  owner: z.string(),
  where: z.string(),
  when: z.string(),
  basis: z.string(),
  credit: z.string(),
  onScreen_s: z.number(),
  used_s: z.number(),
  length_s: z.number(),
  analysed: z.number(),
  missing: z.array(z.string()).readonly(),
}) satisfies z.ZodType<SourceUse>

const started = z.strictObject({ job: JobId })

export const workCalls = {
  'jobs.list': call(
    z.strictObject({}),
    z.strictObject({ jobs: z.array(Job) }),
    'Jobs at work and waiting, and those that ended since the engine started (200 at most). A `job` event follows every change.',
  ),
  'jobs.cancel': call(
    z.strictObject({ job: JobId }),
    z.strictObject({}),
    'Cancels a job; what it finished so far is kept for the next run. Refused with `not-there`.',
  ),
  'render.start': call(
    z.strictObject({
      file: FilePath,
      quality: z.enum(['draft', 'final']),
      /// A film of Claimframe's own that stands there already is replaced, once the new one has passed its checks.
      replace: z.boolean().default(false),
      /// The captions become part of the picture, clear of what else is written there.
      burnCaptions: z.boolean().default(false),
      /// Output frames of the programme, `to` excluded; the whole film when absent.
      from: z.int().min(0).optional(),
      to: z.int().min(1).optional(),
    }),
    started,
    'Starts rendering the film to `file` (.mp4). The job’s `file` is the finished film; its refusal may be `render-check-failed`, `held-back`, `disk-full`, or `file-exists` where something else than a film of Claimframe’s own stands there. Refused at once with `file-exists` unless it is to be replaced.',
  ),
  'release.start': call(
    z.strictObject({
      /// The folder that comes into being; its name is the delivery's.
      folder: FilePath,
      /// What this version is called: "first", "2".
      version: Line.min(1),
      /// The captions become part of the film's picture; they go beside it in any case.
      burnCaptions: z.boolean().default(false),
    }),
    started,
    'Starts a job that makes the whole delivery (film with its checks, captions, chapters, description, thumbnail, timelines, readings, curves, evidence, document, manifest with checksums) and records the version in the project. The folder comes into being whole or not at all; the job’s `file` is the folder. Its refusal may be `held-back`, `render-check-failed`, `disk-full`. Refused at once with `file-exists`, `read-only`.',
  ),
  'release.notes': call(
    z.strictObject({}),
    z.strictObject({
      holding: z.array(z.strictObject({ words: z.string(), problem: z.string(), wayOut: z.string() })),
      notices: z.array(z.strictObject({ code: z.enum(NOTICE_FINDING_CODES), problem: z.string(), wayOut: z.string() })),
      told: z.array(z.string()),
      description: z.string(),
      sources: z.array(SourceUseAnswer),
    }),
    'What stands before a delivery as the project is now: what holds it back (open findings on what is claimed, each with its sentence, and on the notices), those on the notices by themselves, why platforms would not take the chapters, the description, and how each footage is used.',
  ),
  'release.kept': call(
    z.strictObject({}),
    z.strictObject({
      mended: z.array(z.strictObject({ release: Id, version: z.string(), folder: z.string(), there: z.boolean() })),
      missing: z.array(Id),
    }),
    'How published versions and what was kept of them stand together. `mended`: versions that had been made and that were recorded at this opening, because a program had ended before it could; `there`: whether the delivery’s folder lies where it was made. `missing`: versions whose evidence does not lie beside the project.',
  ),
} as const
