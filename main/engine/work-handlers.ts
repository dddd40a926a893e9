import { existsSync } from 'node:fs'
import { basename, extname, resolve } from 'node:path'
import type { Handlers } from '../../app/contract/calls'
import type { workCalls } from '../../app/contract/work-calls'
import { CodedError } from '../../app/errors/coded-error'
import { withoutEvidence } from '../release/pending-release'
import { renderOpened } from './film-work'
import { releaseNotes, startRelease } from './release-work'
import type { Workspace } from './workspace'

export function workHandlers(workspace: Workspace): Handlers<keyof typeof workCalls> {
  return {
    'jobs.list': () => ({ jobs: workspace.jobs.list() }),
    'jobs.cancel': ({ job }) => {
      if (!workspace.jobs.get(job)) throw new CodedError('not-there', { what: 'job', id: job })
      workspace.jobs.cancel(job)
      return {}
    },
    'render.start': ({ file, replace, ...order }) => {
      const out = resolve(file)
      if (extname(out).toLowerCase() !== '.mp4') throw new CodedError('wrong-use', { problem: 'The film’s name ends in .mp4.' })
      if (!replace && existsSync(out)) throw new CodedError('file-exists', { file: out })
      void workspace.opened
      const job = workspace.jobs.start(
        { kind: 'render', label: `rendering ${basename(out)}` },
        (context) => renderOpened(workspace, { ...order, file: out }, context),
        (made) => made,
        (made) => made,
      )
      return { job: job.id }
    },
    'release.start': (order) => startRelease(workspace, order),
    'release.notes': () => releaseNotes(workspace),
    'release.kept': () => ({
      mended: workspace.opened.mended.map((each) => ({ ...each })),
      missing: withoutEvidence(workspace.opened.project.state.tables.releases.list(), workspace.opened.folder),
    }),
  }
}
