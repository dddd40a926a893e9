import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Breakdown } from '../../app/project/breakdown'
import type { Release } from '../../app/project/release'

/// Folder beside a project in which it keeps the evidence of its published versions.
export const KEPT_FOLDER = 'releases'

/// An id that no version has yet, nor anything in the folder `keep`: release-1, release-2, …
export function freeReleaseId(breakdown: Pick<Breakdown, 'releases'>, keep: string): string {
  const taken = new Set((breakdown.releases ?? []).map(({ id }) => id))
  for (let n = taken.size + 1; ; n++) if (!taken.has(`release-${n}`) && !existsSync(join(keep, `release-${n}`))) return `release-${n}`
}

/// The change that records a published version.
export const addRelease = (state: ProjectState, release: Release): Change => ({
  label: `Publish version ${release.version}`.slice(0, 200),
  steps: [],
  diffs: [{ table: 'releases', key: release.id, change: 'added', record: release, after: state.tables.releases.keys.at(-1) ?? null }],
  selection: null,
})
