import { CodedError } from '../../app/errors/coded-error'
import type { ProjectState } from '../../app/edit/project-state'
import { landmarkKey, tables } from '../../app/edit/records'
import { RecordTable } from '../../app/edit/record-table'
import { scriptFromJson, takeSteps, type StepJson } from '../../app/script/script-json'
import type { RecordRows } from './record-rows'

/// The state a project file holds, samples left on the disk. Throws CodedError
/// 'project-damaged' when its parts do not fit together.
export function loadState(rows: RecordRows, file: string): ProjectState {
  const version = Number(rows.all('SELECT coalesce(max(sequence), 0) AS v FROM edit')[0]?.['v'])
  return {
    version,
    script: loadScript(rows, file),
    tables: {
      settings: RecordTable.of(rows.list('settings'), tables.settings.keyOf),
      footage: RecordTable.of(rows.list('footage'), tables.footage.keyOf),
      subjects: RecordTable.of(rows.list('subjects'), tables.subjects.keyOf),
      clips: RecordTable.of(rows.list('clips'), tables.clips.keyOf),
      views: RecordTable.of(rows.list('views'), tables.views.keyOf),
      events: RecordTable.of(rows.list('events'), tables.events.keyOf),
      landmarks: RecordTable.of(rows.list('landmarks'), tables.landmarks.keyOf),
      packs: RecordTable.of(rows.packHeads(), (p) => `${landmarkKey(p)}/${p.pack}`),
      measures: RecordTable.of(rows.list('measures'), tables.measures.keyOf),
      cueTimes: RecordTable.of(rows.list('cueTimes'), tables.cueTimes.keyOf),
      paragraphs: RecordTable.of(rows.paragraphs(), tables.paragraphs.keyOf),
      claims: RecordTable.of(rows.list('claims'), tables.claims.keyOf),
      references: RecordTable.of(rows.list('references'), tables.references.keyOf),
      overrides: RecordTable.of(rows.list('overrides'), tables.overrides.keyOf),
      releases: RecordTable.of(rows.list('releases'), tables.releases.keyOf),
      corrections: RecordTable.of(rows.list('corrections'), tables.corrections.keyOf),
    },
  }
}

/// The newest snapshot with the steps after it.
function loadScript(rows: RecordRows, file: string): ProjectState['script'] {
  const snapshot = rows.all('SELECT sequence, document FROM script_snapshot ORDER BY sequence DESC LIMIT 1')[0]
  if (!snapshot) throw new CodedError('project-damaged', { file, problem: 'it holds no script' })
  let script = scriptFromJson(JSON.parse(String(snapshot['document'])))
  for (const row of rows.all(
    "SELECT sequence, steps FROM edit WHERE sequence > ? AND steps <> '[]' ORDER BY sequence",
    Number(snapshot['sequence']),
  )) {
    const taken = takeSteps(script, JSON.parse(String(row['steps'])) as StepJson[])
    if (!taken.ok)
      throw new CodedError('project-damaged', { file, problem: `edit ${row['sequence']} does not fit the script: ${taken.error.message}` })
    script = taken.value.script
  }
  return script
}
