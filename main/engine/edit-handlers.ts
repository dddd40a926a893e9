import type { Handlers } from '../../app/contract/calls'
import type { editCalls } from '../../app/contract/edit-calls'
import { CodedError } from '../../app/errors/coded-error'
import type { Workspace } from './workspace'

/// Most edits that a window catches up by.
const CATCH_UP = 2000

export function editHandlers(workspace: Workspace): Handlers<keyof typeof editCalls> {
  return {
    'edit.apply': ({ edit }) => workspace.opened.apply(edit),
    'edit.undo': () => workspace.opened.takeBack('undo'),
    'edit.redo': () => workspace.opened.takeBack('redo'),
    'edit.since': ({ version }) => {
      const { project } = workspace.opened
      if (project.version - version > CATCH_UP) throw new CodedError('too-large', { what: 'what was edited since', limit_bytes: CATCH_UP })
      return workspace.opened.since(version)
    },
    'edit.history': ({ limit }) => ({
      entries: workspace.opened.project
        .history(limit)
        .toReversed()
        .map(({ sequence, kind, label, place }) => ({ version: sequence, kind, label, place })),
    }),
  }
}
