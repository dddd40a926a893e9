import { z } from 'zod'
import type { PackHead, ProjectState, Tables } from '../edit/project-state'
import { RecordTable } from '../edit/record-table'
import { landmarkKey, LandmarkHead, tables, type TableName } from '../edit/records'
import { scriptFromJson } from '../script/script-json'

/// A project's state as it travels to a window: every record and the script; of landmark samples only
/// where they lie.

const PackExtent = z.strictObject({ ...LandmarkHead.shape, pack: z.int().min(0), first: z.int().min(0), last: z.int().min(0) })

const records = <T extends Exclude<TableName, 'packs'>>(table: T) => z.array(tables[table].schema)

export const Replica = z.strictObject({
  version: z.int().min(0),
  /// ProseMirror JSON of app/script's schema.
  script: z.looseObject({ type: z.literal('doc') }),
  settings: records('settings'),
  footage: records('footage'),
  subjects: records('subjects'),
  clips: records('clips'),
  views: records('views'),
  events: records('events'),
  landmarks: records('landmarks'),
  packs: z.array(PackExtent),
  measures: records('measures'),
  cueTimes: records('cueTimes'),
  paragraphs: records('paragraphs'),
  claims: records('claims'),
  references: records('references'),
  overrides: records('overrides'),
  releases: records('releases'),
  corrections: records('corrections'),
})
export type Replica = z.infer<typeof Replica>

export function replicaOf(state: ProjectState): Replica {
  const t = state.tables
  return {
    version: state.version,
    script: state.script.toJSON() as Replica['script'],
    settings: t.settings.list(),
    footage: t.footage.list(),
    subjects: t.subjects.list(),
    clips: t.clips.list(),
    views: t.views.list(),
    events: t.events.list(),
    landmarks: t.landmarks.list(),
    packs: t.packs.list().map(({ samples: _samples, ...extent }) => extent),
    measures: t.measures.list(),
    cueTimes: t.cueTimes.list(),
    paragraphs: t.paragraphs.list(),
    claims: t.claims.list(),
    references: t.references.list(),
    overrides: t.overrides.list(),
    releases: t.releases.list(),
    corrections: t.corrections.list(),
  }
}

/// The state that `applyEdit` takes. Its breakdown is `breakdownOf(state, () => [])`, landmarks without
/// samples. Throws when the script is none.
export function stateOfReplica(replica: Replica): ProjectState {
  const table = <T extends Exclude<TableName, 'packs'>>(name: T): Tables[T] =>
    RecordTable.of(replica[name] as never[], tables[name].keyOf as (record: never) => string) as unknown as Tables[T]
  return {
    version: replica.version,
    script: scriptFromJson(replica.script),
    tables: {
      settings: table('settings'),
      footage: table('footage'),
      subjects: table('subjects'),
      clips: table('clips'),
      views: table('views'),
      events: table('events'),
      landmarks: table('landmarks'),
      packs: RecordTable.of(
        replica.packs.map((extent): PackHead => ({ ...extent, samples: null })),
        (p) => `${landmarkKey(p)}/${p.pack}`,
      ),
      measures: table('measures'),
      cueTimes: table('cueTimes'),
      paragraphs: table('paragraphs'),
      claims: table('claims'),
      references: table('references'),
      overrides: table('overrides'),
      releases: table('releases'),
      corrections: table('corrections'),
    },
  }
}
