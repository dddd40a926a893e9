import { closeSync, existsSync, fsyncSync, openSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { basename, dirname, isAbsolute, join, resolve } from 'node:path'
import { z } from 'zod'
import { MANIFEST } from '../../app/release/manifest'
import { Release } from '../../app/project/release'
import { isRunning } from '../process-running'
import type { Project } from '../store/project'
import { addRelease, KEPT_FOLDER } from './release-edit'

/// What lies beside a version's evidence from the moment that everything of it is there until it is recorded: the record,
/// and where the delivery lies under its working name and is to lie. With it, a delivery that was broken off between its
/// names and its record is brought to its end at the next opening.
const PendingRelease = z.strictObject({
  format: z.literal('claimframe-pending-release'),
  release: Release,
  part: z.string().min(1),
  target: z.string().min(1),
})

const PENDING = 'pending.json'

/// Writes it to the disk, before anything gets its name.
export function writePending(folder: string, release: Release, part: string, target: string): void {
  const file = openSync(join(folder, PENDING), 'w')
  try {
    writeFileSync(
      file,
      JSON.stringify({ format: 'claimframe-pending-release', release, part, target } satisfies z.input<typeof PendingRelease>),
    )
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
/// is publishing: whatever has a working name beside the kept evidence is left over, and goes. What lies there may have been
/// sent by somebody: no folder is named anew but one that a delivery of ours made under its working name. A folder that cannot
/// be named or removed stays, and keeps no project from being opened.
export function mendReleases(project: Project, folder: string, newId: () => string): MendedRelease[] {
  const keep = join(folder, KEPT_FOLDER)
  if (!existsSync(keep)) return []
  const mended: MendedRelease[] = []
  for (const name of readdirSync(keep).sort((a, b) => a.localeCompare(b, 'en', { numeric: true }))) {
    if (/\.\d+\.part$/.test(name)) quietly(() => rmSync(join(keep, name), { recursive: true, force: true }))
    const pending = readPending(join(keep, name, PENDING))
    if (!pending) continue
    const { release, part, target } = pending
    if (!project.state.tables.releases.has(release.id)) {
      const named = existsSync(target) || !isDelivery(part, target, release.version) || quietly(() => renameSync(part, target))
      const recorded = project.apply({ ...addRelease(project.state, release), id: newId(), group: null, base: project.version })
      if (!recorded.ok) continue
      mended.push({
        release: release.id,
        version: release.version,
        folder: named ? target : part,
        there: existsSync(named ? target : part),
      })
    }
    quietly(() => settlePending(keep, name))
  }
  return mended
}

/// Whether `part` is the folder of a delivery to `target` under its working name, with its manifest in it.
function isDelivery(part: string, target: string, version: string): boolean {
  if (
    !isAbsolute(target) ||
    resolve(target) !== target ||
    !part.startsWith(`${target}.`) ||
    !/^\d+\.part$/.test(part.slice(target.length + 1))
  )
    return false
  try {
    const manifest: unknown = JSON.parse(readFileSync(join(part, MANIFEST), 'utf8'))
    return Manifest.safeParse(manifest).data?.version === version
  } catch {
    return false
  }
}

const Manifest = z.object({ format: z.literal('claimframe-delivery'), version: z.string() })

/// Whether it could be done.
function quietly(act: () => void): boolean {
  try {
    act()
    return true
  } catch {
    return false
  }
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
export const withoutEvidence = (releases: readonly { readonly id: string }[], folder: string): string[] =>
  releases.map(({ id }) => id).filter((id) => !existsSync(join(folder, KEPT_FOLDER, id, 'evidence.json')))

/// Removes what runs that were killed left beside a delivery's name: working folders whose process is gone.
export function clearLeftFolders(target: string): void {
  const [place, name] = [dirname(target), basename(target)]
  if (!existsSync(place)) return
  for (const entry of readdirSync(place)) {
    const pid = entry.startsWith(`${name}.`) ? /^(\d+)\.part$/.exec(entry.slice(name.length + 1))?.[1] : undefined
    if (pid !== undefined && !isRunning(Number(pid))) rmSync(join(place, entry), { recursive: true, force: true })
  }
}
