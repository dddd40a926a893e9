import { takeAway, type Goes } from '../../app/edit/take-away'
import type { Project } from '../state/project'

/// Takes it away, in one edit.
export function remove(project: Project, goes: Goes, name: string): void {
  void project.edit((state) => {
    const { breakdown, readings } = project.shown()
    const diffs = breakdown ? takeAway(state, breakdown, readings, goes) : []
    return diffs.length > 0 ? { label: `Remove ${name}`, steps: [], diffs } : null
  })
}
