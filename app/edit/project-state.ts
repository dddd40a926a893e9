import type { Node } from 'prosemirror-model'
import type { Breakdown } from '../project/breakdown'
import type { Sample } from '../project/film'
import type { ScriptRow } from '../project/picture'
import { nodeToRow, scriptToNode } from '../script/conversion'
import {
  landmarkKey,
  optionalTables,
  packSamples,
  tables,
  type LandmarkHead,
  type Pack,
  type Records,
  type Settings,
  type TableName,
} from './records'
import { RecordTable } from './record-table'

/// A pack of samples as the state knows it: always its extent; its samples only where they were
/// read in, for there are many.
export interface PackHead extends LandmarkHead {
  readonly pack: number
  readonly first: number
  readonly last: number
  readonly samples: readonly Sample[] | null
}

export type Tables = { readonly [T in Exclude<TableName, 'packs'>]: RecordTable<Records[T]> } & { readonly packs: RecordTable<PackHead> }

/// A project at one version: what edits are applied to. Immutable.
/// `version` is the sequence number of the last edit, 0 before the first.
export interface ProjectState {
  readonly version: number
  readonly script: Node
  readonly tables: Tables
}

export function packHead(pack: Pack): PackHead {
  const first = pack.samples[0]
  const last = pack.samples.at(-1)
  if (!first || !last) throw new RangeError('a pack holds at least one sample')
  return { ...pack, first: first.frame, last: last.frame }
}

/// The state of a breakdown before any edit, every sample read in.
export function stateOf(b: Breakdown): ProjectState {
  const {
    format: _format,
    version: _version,
    footage,
    subjects,
    clips,
    views,
    events,
    landmarks,
    measures,
    cueTimes,
    script,
    claims,
    references,
    overrides,
    releases,
    corrections,
    ...rest
  } = b
  const kept: Settings['kept'] = optionalTables.filter((name) => b[name] !== undefined)
  const heads = (landmarks ?? []).map(({ samples: _samples, ...head }) => head)
  const packs = (landmarks ?? []).flatMap((l) => packSamples(l, l.samples))
  const paragraphs = script.flatMap((row) => {
    if ('chapter' in row) return []
    const { text: _text, ...record } = row
    return Object.keys(record).length > 1 ? [record] : []
  })
  return {
    version: 0,
    script: scriptToNode(script),
    tables: {
      settings: RecordTable.of([{ ...rest, kept }], tables.settings.keyOf),
      footage: RecordTable.of(footage, tables.footage.keyOf),
      subjects: RecordTable.of(subjects, tables.subjects.keyOf),
      clips: RecordTable.of(clips, tables.clips.keyOf),
      views: RecordTable.of(views ?? [], tables.views.keyOf),
      events: RecordTable.of(events ?? [], tables.events.keyOf),
      landmarks: RecordTable.of(heads, tables.landmarks.keyOf),
      packs: RecordTable.of(packs.map(packHead), (p) => `${landmarkKey(p)}/${p.pack}`),
      measures: RecordTable.of(measures ?? [], tables.measures.keyOf),
      cueTimes: RecordTable.of(cueTimes ?? [], tables.cueTimes.keyOf),
      paragraphs: RecordTable.of(paragraphs, tables.paragraphs.keyOf),
      claims: RecordTable.of(claims ?? [], tables.claims.keyOf),
      references: RecordTable.of(references ?? [], tables.references.keyOf),
      overrides: RecordTable.of(overrides ?? [], tables.overrides.keyOf),
      releases: RecordTable.of(releases ?? [], tables.releases.keyOf),
      corrections: RecordTable.of(corrections ?? [], tables.corrections.keyOf),
    },
  }
}

/// The breakdown of a state. `samplesOf` gives a landmark's samples where the state has not read
/// them in; absent, an unread pack throws.
export function breakdownOf(state: ProjectState, samplesOf: (of: LandmarkHead) => Sample[] = samplesRead(state)): Breakdown {
  const { kept, ...settings } = settingsOf(state)
  const optional = <R>(name: Settings['kept'][number], records: R[]): { [K in string]: R[] } =>
    records.length > 0 || kept.includes(name) ? { [name]: records } : {}
  const t = state.tables
  return {
    format: 'claimframe-breakdown',
    version: 1,
    ...settings,
    footage: t.footage.list(),
    subjects: t.subjects.list(),
    clips: t.clips.list(),
    ...optional('views', t.views.list()),
    ...optional('events', t.events.list()),
    ...optional(
      'landmarks',
      t.landmarks.list().map((head) => ({ ...head, samples: samplesOf(head) })),
    ),
    ...optional('measures', t.measures.list()),
    ...optional('cueTimes', t.cueTimes.list()),
    script: state.script.children.map((node): ScriptRow => {
      const row = nodeToRow(node)
      return 'chapter' in row ? row : { ...row, ...t.paragraphs.get(row.id) }
    }),
    ...optional('claims', t.claims.list()),
    ...optional('references', t.references.list()),
    ...optional('overrides', t.overrides.list()),
    ...optional('releases', t.releases.list()),
    ...optional('corrections', t.corrections.list()),
  }
}

export function settingsOf(state: ProjectState): Settings {
  const settings = state.tables.settings.get('project')
  if (!settings) throw new RangeError('a project without settings')
  return settings
}

function samplesRead(state: ProjectState): (of: LandmarkHead) => Sample[] {
  const byLandmark = new Map<string, PackHead[]>()
  for (const pack of state.tables.packs.list()) {
    const key = landmarkKey(pack)
    byLandmark.set(key, [...(byLandmark.get(key) ?? []), pack])
  }
  return (of) =>
    (byLandmark.get(landmarkKey(of)) ?? [])
      .sort((a, b) => a.pack - b.pack)
      .flatMap((pack) => {
        if (!pack.samples) throw new RangeError(`samples of ${landmarkKey(of)} are not read in`)
        return pack.samples
      })
}
