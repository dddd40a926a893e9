import type { Handlers } from '../../app/contract/calls'
import type { scriptCalls } from '../../app/contract/script-calls'
import { CodedError } from '../../app/errors/coded-error'
import { findingsOf } from '../../app/script/claims/findings'
import { captionsOfOpened } from './film-work'
import type { Workspace } from './workspace'

const MOST_SAMPLES = 50_000

export function scriptHandlers(workspace: Workspace): Handlers<keyof typeof scriptCalls> {
  return {
    'readings.list': async () => {
      const { opened } = workspace
      await opened.readings.readIn()
      return { readings: [...opened.readings.list()], version: opened.project.version }
    },
    'landmarks.samples': ({ clip, subject, point, from, to }) => {
      const { project } = workspace.opened
      if (!project.state.tables.clips.has(clip)) throw new CodedError('not-there', { what: 'clip', id: clip })
      const heads = project.state.tables.landmarks
        .list()
        .filter(
          (of) => of.clip === clip && (subject === undefined || of.subject === subject) && (point === undefined || of.point === point),
        )
      let left = MOST_SAMPLES
      const landmarks = heads.map((of) => {
        const samples = project.samples(of.clip, of.subject, of.point, from ?? 0, to ?? Number.MAX_SAFE_INTEGER)
        left -= samples.length
        if (left < 0) throw new CodedError('too-large', { what: 'what was asked for', limit_bytes: MOST_SAMPLES * 100 })
        return { ...of, samples }
      })
      return { version: project.version, landmarks }
    },
    'findings.list': async () => {
      const { readings, project, films } = workspace.opened
      await readings.readIn()
      const known = new Map(readings.list().map((reading) => [reading.id, reading]))
      return {
        version: project.version,
        findings: findingsOf(readings.breakdown(), known, new Map(films.facts().map(({ id, shared }) => [id, shared]))),
      }
    },
    'captions.list': async () => ({ version: workspace.opened.project.version, captions: await captionsOfOpened(workspace) }),
  }
}
