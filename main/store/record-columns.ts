import type { LandmarkHead, Settings } from '../../app/edit/records'
import type { Claim, Override } from '../../app/project/claim'
import type { Clip, Event, Footage, Subject, View } from '../../app/project/film'
import type { CueTime } from '../../app/project/picture'
import type { Reference } from '../../app/project/reference'
import type { Correction, Release } from '../../app/project/release'
import { boolean, json, number, text, type Columns } from './columns'

/// The tables whose records have a column a field.

export interface FlatRecords {
  readonly settings: Settings
  readonly footage: Footage
  readonly subjects: Subject
  readonly clips: Clip
  readonly views: View
  readonly events: Event
  readonly landmarks: LandmarkHead
  readonly cueTimes: CueTime
  readonly claims: Claim
  readonly references: Reference
  readonly overrides: Override
  readonly releases: Release
  readonly corrections: Correction
}

interface FlatTable<R> {
  readonly table: string
  readonly columns: Columns<R>
  /// Columns that the record is known by.
  readonly key: readonly (keyof R)[]
}

export const flatTables: { readonly [T in keyof FlatRecords]: FlatTable<FlatRecords[T]> } = {
  settings: {
    table: 'project',
    columns: {
      title: text('title'),
      question: text('question'),
      output: json('output'),
      sound: json('sound'),
      vocabulary: json('vocabulary'),
      kept: json('kept'),
    },
    key: [],
  },
  footage: {
    table: 'footage',
    columns: {
      id: text('id'),
      file: text('file'),
      sha256: text('sha256'),
      source: json('source'),
      unlike: json('unlike'),
      fields: json('fields'),
    },
    key: ['id'],
  },
  subjects: { table: 'subject', columns: { id: text('id'), name: text('name') }, key: ['id'] },
  clips: {
    table: 'clip',
    columns: {
      id: text('id'),
      footage: text('footage'),
      from: number('from_frame'),
      to: number('to_frame'),
      name: text('name'),
      bout: text('bout'),
      technique: text('technique'),
      capture: json('capture'),
      mirrored: boolean('mirrored'),
      roll: json('roll'),
      picture: text('picture'),
      use: json('use'),
      hall: json('hall'),
    },
    key: ['id'],
  },
  views: {
    table: 'view',
    columns: {
      clip: text('clip'),
      subject: text('subject'),
      from: number('from_frame'),
      to: number('to_frame'),
      lead: text('lead'),
      yaw: json('yaw'),
      elevation: json('elevation'),
    },
    key: ['clip', 'subject', 'from'],
  },
  events: {
    table: 'event',
    columns: {
      id: text('id'),
      clip: text('clip'),
      name: text('name'),
      earliest: number('earliest'),
      latest: number('latest'),
      definition: text('definition'),
      markings: json('markings'),
    },
    key: ['id'],
  },
  landmarks: {
    table: 'landmark',
    columns: { clip: text('clip'), subject: text('subject'), point: text('point') },
    key: ['clip', 'subject', 'point'],
  },
  cueTimes: {
    table: 'cue',
    columns: { paragraph: text('paragraph'), event: text('event'), seconds: number('seconds'), u: number('u') },
    key: ['paragraph', 'event'],
  },
  claims: {
    table: 'claim',
    columns: {
      id: text('id'),
      on: json('quoted'),
      classes: json('classes'),
      evidence: json('evidence'),
      state: text('state'),
      values: json('plate_values'),
      by: text('stated_by'),
      when: text('stated_when'),
    },
    key: ['id'],
  },
  references: {
    table: 'reference',
    columns: {
      id: text('id'),
      csl: json('csl'),
      finding: text('finding'),
      population: text('population'),
      limits: text('limits'),
      setting: json('setting'),
      note: text('note'),
    },
    key: ['id'],
  },
  overrides: {
    table: 'override',
    columns: {
      id: text('id'),
      finding: text('finding'),
      on: json('quoted'),
      paragraph: text('paragraph'),
      shot: json('shot'),
      problem: text('problem'),
      reason: text('reason'),
      by: text('stated_by'),
      when: text('stated_when'),
    },
    key: ['id'],
  },
  releases: {
    table: 'release',
    columns: {
      id: text('id'),
      film: text('film'),
      version: text('version'),
      date: text('date'),
      where: text('put_up'),
      project: number('project'),
      document: text('document'),
      files: json('files'),
      footage: json('footage'),
      values: json('said_values'),
      events: json('said_events'),
      references: json('said_references'),
      clips: json('clips'),
      said: json('said'),
      note: text('note'),
    },
    key: ['id'],
  },
  corrections: {
    table: 'correction',
    columns: {
      id: text('id'),
      release: text('release'),
      date: text('date'),
      state: text('state'),
      note: text('note'),
      changes: json('changes'),
    },
    key: ['id'],
  },
}
