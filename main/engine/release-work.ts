import { existsSync } from 'node:fs'
import { basename, join, resolve } from 'node:path'
import type { CallOutput } from '../../app/contract/calls'
import type { Edit } from '../../app/edit/edit'
import { CodedError } from '../../app/errors/coded-error'
import { noticeFindings } from '../../app/release/notices'
import type { Release } from '../../app/project/release'
import { drawContext, openFilms, programmeOf, readingTable } from '../render/film-plan'
import { deliver } from '../release/deliver'
import { deliveryMatter, deliveryTexts } from '../release/delivery-texts'
import { holdingBack } from '../release/hold-back'
import { settlePending } from '../release/pending-release'
import { addRelease, freeReleaseId, KEPT_FOLDER } from '../release/release-edit'
import { materialOf } from './film-work'
import type { OpenedProject } from './opened-project'
import type { Workspace } from './workspace'

/// Starts the job of a delivery; the version is recorded when all of it is there.
export function startRelease(
  workspace: Workspace,
  order: { readonly folder: string; readonly version: string; readonly burnCaptions: boolean },
): { job: string } {
  const { opened } = workspace
  const folder = resolve(order.folder)
  if (opened.project.readOnly) throw new CodedError('read-only', { file: opened.project.path })
  if (existsSync(folder)) throw new CodedError('file-exists', { file: folder })
  const job = workspace.jobs.start(
    { kind: 'release', label: `releasing ${basename(folder)}` },
    async ({ signal, report }) => {
      const { library, breakdown, version, faces, takes } = await materialOf(workspace, opened, signal)
      const keep = join(opened.folder, KEPT_FOLDER)
      const made = await deliver({
        breakdown,
        library,
        faces,
        takes,
        cache: opened.cache,
        folder,
        keep,
        id: freeReleaseId(breakdown, keep),
        version: order.version,
        burnCaptions: order.burnCaptions,
        now: workspace.now().toISOString(),
        projectVersion: version,
        signal,
        onProgress: (done) => report(done.fraction),
      })
      opened.apply(releaseEdit(workspace, opened, made.release))
      settlePending(keep, made.release.id)
      return made
    },
    (made) => made.folder,
    (made) => made.render.out,
  )
  return { job: job.id }
}

const releaseEdit = (workspace: Workspace, { project }: OpenedProject, release: Release): Edit => ({
  ...addRelease(project.state, release),
  id: workspace.newId(),
  group: null,
  base: project.version,
})

/// What stands before a delivery as the project is now.
export async function releaseNotes(workspace: Workspace): Promise<CallOutput<'release.notes'>> {
  const { opened } = workspace
  const { library, breakdown, faces, takes } = await materialOf(workspace, opened)
  const films = await openFilms(breakdown, library)
  const readings = readingTable(breakdown, films)
  const programme = programmeOf(breakdown, films, readings, takes, faces.typeface)
  const matter = deliveryMatter({
    breakdown,
    programme,
    films,
    readings,
    context: drawContext(breakdown, programme, films, readings, faces.typeface),
  })
  return {
    holding: holdingBack(breakdown, readings, programme),
    notices: noticeFindings(programme, breakdown),
    told: [...matter.chapters.told],
    description: deliveryTexts.description(matter, 'film').text,
    sources: [...matter.sources],
  }
}

/// The type of a kept evidence report, which goes out under a policy of its own.
export const REPORT_TYPE = 'text/html; charset=utf-8'

const TYPES: readonly (readonly [RegExp, string])[] = [
  [/^(evidence|checks)\.json$/, 'application/json'],
  [/^evidence\.html$/, REPORT_TYPE],
  [/^stills\/[\p{L}\p{N}._-]+\.jpg$/u, 'image/jpeg'],
]

/// A kept file of a published version; null for a name that none can have.
export function keptFile(opened: OpenedProject, release: string, name: string): { readonly path: string; readonly type: string } | null {
  const type = TYPES.find(([names]) => names.test(name))?.[1]
  if (type === undefined || name.includes('..') || !opened.project.state.tables.releases.has(release)) return null
  return { path: join(opened.folder, KEPT_FOLDER, release, name), type }
}
