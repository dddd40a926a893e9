import { randomUUID } from 'node:crypto'
import { hostname } from 'node:os'
import { join, resolve } from 'node:path'
import { deliver } from '../../release/deliver'
import { fileStem } from '../../release/file-stem'
import { mendReleases, settlePending } from '../../release/pending-release'
import { addRelease, freeReleaseId, KEPT_FOLDER } from '../../release/release-edit'
import { filmFaces } from '../../render/faces'
import { findTakes } from '../../render/takes'
import { openProject } from '../../store/open-project'
import { textOption, type Command } from '../command'
import { FINE } from '../exit-status'
import { onePath } from '../one-path'
import { openBreakdown } from '../opened'

export const release: Command = {
  usage: 'release <project or breakdown.json> [--to folder] [--version name] [--burn-captions]',
  summary:
    'Makes the whole delivery in a new folder: film, captions, chapters, description, thumbnail, timelines, readings, curves, evidence, document and a manifest with checksums. A project keeps the version.',
  options: { to: { type: 'string' }, version: { type: 'string' }, 'burn-captions': { type: 'boolean' }, cache: { type: 'string' } },
  async run(input) {
    const path = onePath(input, release)
    const opened = await openBreakdown(input, path)
    const { library, cache } = opened
    // The project is held from here on, so that the version that goes out is the one that is recorded.
    const project =
      opened.from === 'project'
        ? openProject(path, { readOnly: false, owner: `claimframe release on ${hostname()}, process ${process.pid}` })
        : null
    if (project && !project.ok) throw project.error
    const keep = join(opened.folder, KEPT_FOLDER)
    try {
      if (project)
        for (const { version, folder } of mendReleases(project.value, opened.folder, randomUUID))
          input.say(`version ${version} in ${folder} had been made and not recorded; it is recorded now`)
      const breakdown = project?.value.breakdown() ?? opened.breakdown
      const version = textOption(input, 'version') ?? String((breakdown.releases?.length ?? 0) + 1)
      const folder = resolve(textOption(input, 'to') ?? join(opened.folder, `${fileStem(breakdown.title)}-${fileStem(version)}`))
      const [faces, takes] = await Promise.all([filmFaces(), findTakes(breakdown, opened)])
      const made = await deliver({
        breakdown,
        library,
        faces,
        takes,
        cache,
        folder,
        keep: project ? keep : null,
        id: freeReleaseId(breakdown, keep),
        version,
        burnCaptions: input.values['burn-captions'] === true,
        now: new Date().toISOString(),
        projectVersion: project?.value.version ?? 0,
        signal: input.signal,
        onProgress: (p) => input.progress(`${p.step}: ${Math.floor(p.fraction * 100)} %`),
      })
      if (project) {
        const { value } = project
        const recorded = value.apply({ ...addRelease(value.state, made.release), id: randomUUID(), group: null, base: value.version })
        if (!recorded.ok) throw recorded.error
        settlePending(keep, made.release.id)
      }
      for (const why of made.told) input.say(`chapters: ${why}`)
      for (const remark of made.remarks) input.say(remark.problem)
      if (input.json)
        input.print(
          JSON.stringify({ folder: made.folder, version, manifest: made.manifest, remarks: made.remarks, chapters: made.told }, null, 2),
        )
      else
        input.print(
          `${made.folder}: version ${version}, ${made.manifest.files.length} files and their manifest. ${made.remarks.length === 0 ? 'No limit exceeded by the checks.' : `${made.remarks.length} to look at.`}`,
        )
      return FINE
    } finally {
      project?.value.close()
    }
  },
}
