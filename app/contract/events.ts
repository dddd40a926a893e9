import { z } from 'zod'
import { Committed } from './edit-calls'
import { FilmFacts } from './footage-calls'
import { ProjectFacts } from './project-calls'
import { ReadingAnswer } from './script-calls'
import { Take } from './take-calls'
import { Job } from './work-calls'

/// What the engine tells its windows of.

/// Another project was opened, or none is open: read `project.state` again.
const project = z.strictObject({ kind: z.literal('project'), project: ProjectFacts.nullable() })
/// Edits were committed, by whichever door. The window that made them hears of them as well.
const edits = z.strictObject({ kind: z.literal('edits'), ...Committed.shape })
/// Readings as of a version: those that changed, and the measures that are gone.
const readings = z.strictObject({
  kind: z.literal('readings'),
  version: z.int(),
  changed: z.array(ReadingAnswer),
  gone: z.array(z.string()),
})
/// A film became known better, or was lost.
const film = z.strictObject({ kind: z.literal('film'), film: FilmFacts })
const take = z.strictObject({ kind: z.literal('take'), take: Take })
const job = z.strictObject({ kind: z.literal('job'), job: Job })

export const EngineEvent = z.discriminatedUnion('kind', [project, edits, readings, film, take, job])
export type EngineEvent = z.infer<typeof EngineEvent>

const number = { number: z.int().min(1) }
export const SequencedEvent = z.discriminatedUnion('kind', [
  project.extend(number),
  edits.extend(number),
  readings.extend(number),
  film.extend(number),
  take.extend(number),
  job.extend(number),
])
export type SequencedEvent = z.infer<typeof SequencedEvent>

/// An answer of `eventsAddress`. Ask again with `after: next`. `lost`: events that this window has not
/// seen are gone, or the engine is another one: read `project.state` again and go on from its `after`.
export const EventPage = z.strictObject({ engine: z.string(), events: z.array(SequencedEvent), next: z.int().min(0), lost: z.boolean() })
export type EventPage = z.infer<typeof EventPage>
