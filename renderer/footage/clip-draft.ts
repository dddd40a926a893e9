import type { ProjectState } from '../../app/edit/project-state'
import type { Clip } from '../../app/project/film'
import type { EditChange } from '../state/project'
import { adding, freeId, updating } from '../state/record-change'

/// A clip in the form, before it is kept.
export interface ClipDraft {
  /// Another one for every form that is opened, so that none begins with what was typed into the one before.
  readonly turn: number
  /// What the form begins with. A new clip's id is a guess until it is kept.
  readonly clip: Clip
  readonly isNew: boolean
}

/// The change that keeps what the form made of a draft. A new clip gets its id now: forms of two films may be open at once. A
/// known one is changed from what the form began with, so that a change from elsewhere is told of and not written over.
export const keepingClip =
  ({ clip: before, isNew }: ClipDraft, clip: Clip) =>
  (state: ProjectState): EditChange => {
    const kept = isNew ? { ...clip, id: freeId(state, 'clips', 'c') } : clip
    const name = kept.name ?? kept.id
    return isNew
      ? { label: `Cut ${name}`, steps: [], diffs: [adding(state, 'clips', kept)] }
      : { label: `Change ${name}`, steps: [], diffs: [updating('clips', before, kept)] }
  }
