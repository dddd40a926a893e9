import { closeSync, existsSync, fsyncSync, openSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { z } from 'zod'
import { Release } from '../../app/project/release'
import { isRunning } from '../process-running'
import type { Project } from '../store/project'
import { addRelease, KEPT_FOLDER } from './release-edit'

/// What lies beside a version's evidence from the moment that everything of it is there until it is recorded: the record,
/// and where the delivery lies under its working name and is to lie. With it, a delivery that was broken off between its
/// names and its record is brought to its end at the next opening.
const PendingRelease = z.strictObject({ format: z.literal('claimframe-pending-release'), release: Release, part: z.string().min(1), target: z.string().min(1) })

const PENDING = 'pending.json'

/// Writes it to the disk, before anything gets its name.
export function writePending(folder: string, release: Release, part: string, target: string): void {
  const file = openSync(join(folder, PENDING), 'w')
  try {
    writeFileSync(file, JSON.stringify({ format: 'claimframe-pending-release', release, part, target } satisfies z.input<typeof PendingRelease>))
    fsyncSync(file)
  } finally {
    closeSync(file)
  }
}

/// The version is recorded: nothing is pending any more.
export const settlePending = (keep: string, id: string): void => rmSync(join(keep, id, PENDING), { force: true })

/// A version that an earlier run made and could not record.
export interface MendedRelease {
  readonly release: string
  readonly version: string
  /// Where its delivery lies, or lay: `there` says whether it does.
  readonly folder: string
  readonly there: boolean
}

/// Brings deliveries to their end that were broken off between their names and their record: the folder gets its name
/// where it has not, and the version is recorded. Answers those, oldest first. `project` is open to write, so nobody else
/// is publishing: whatever has a working name beside the kept evidence is left over, and goes.
export function mendReleases(project: Project, folder: string, newId: () => string): MendedRelease[] {
  const keep = join(folder, KEPT_FOLDER)
  if (!existsSync(keep)) return []
  const mended: MendedRelease[] = []
  for (const name of readdirSync(keep).sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))) {
    if (/\.\d+\.part$/.test(name)) rmSync(join(keep, name), { recursive: true, force: true })
    const pending = readPending(join(keep, name, PENDING))
    if (!pending) continue
    const { release, part, target } = pending
    if (!project.state.tables.releases.has(release.id)) {
      if (!existsSync(target) && existsSync(part)) renameSync(part, target)
      const recorded = project.apply({ ...addRelease(project.state, release), id: newId(), group: null, base: project.version })
      if (!recorded.ok) continue
      mended.push({ release: release.id, version: release.version, folder: target, there: existsSync(target) })
    }
    settlePending(keep, name)
  }
  return mended
}

function readPending(file: string): z.output<typeof PendingRelease> | null {
  if (!existsSync(file)) return null
  try {
    return PendingRelease.parse(JSON.parse(readFileSync(file, 'utf8')))
  } catch {
    // What cannot be read was not written by us, or not to its end: then nothing had its name yet.
    return null
  }
}

/// Published versions whose evidence does not lie beside the project any more, by their ids.
export const withoutEvidence = (releases: readonly { readonly id: string }[], folder: string): string[] => releases.map(({ id }) => id).filter((id) => !existsSync(join(folder, KEPT_FOLDER, id, 'evidence.json')))

/// Removes what runs that were killed left beside a delivery's name: working folders whose process is gone.
export function clearLeftFolders(target: string): void {
  const [place, name] = [dirname(target), basename(target)]
  if (!existsSync(place)) return
  for (const entry of readdirSync(place)) {
    const pid = entry.startsWith(`${name}.`) ? /^(\d+)\.part$/.exec(entry.slice(name.length + 1))?.[1] : undefined
    if (pid !== undefined && !isRunning(Number(pid))) rmSync(join(place, entry), { recursive: true, force: true })
  }
}
