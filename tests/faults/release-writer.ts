import { dirname, join } from 'node:path'
import { FilmLibrary } from '../../main/media/film-library'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { deliver } from '../../main/release/deliver'
import { addRelease, freeReleaseId, KEPT_FOLDER } from '../../main/release/release-edit'
import { filmFaces } from '../../main/render/faces'
import { openProject } from '../../main/store/open-project'

/// Publishes a version as the engine does, and kills itself at a moment: "made" (all is there, nothing has its name),
/// "kept" (the evidence has its name, the delivery has not), "named" (both have, the version is not recorded), "recorded".
/// Run by tests.
const [path = '', target = '', moment = ''] = process.argv.slice(2)
const die = (): void => void process.kill(process.pid, 'SIGKILL')
const opened = openProject(path)
if (!opened.ok) throw opened.error
const project = opened.value
const breakdown = project.breakdown()
const folder = dirname(path)
const library = new FilmLibrary(await findFfmpeg(), folder, join(folder, 'cache'), 'free')
const made = await deliver({
  breakdown,
  library,
  faces: await filmFaces(),
  takes: new Map(),
  cache: join(folder, 'cache'),
  folder: target,
  keep: join(folder, KEPT_FOLDER),
  id: freeReleaseId(breakdown, join(folder, KEPT_FOLDER)),
  version: '1',
  now: '2026-11-26T12:00:00.000Z',
  projectVersion: project.version,
  onProgress: ({ step }) => void (step === moment && die()),
})
if (moment === 'named') die()
const recorded = project.apply({ ...addRelease(project.state, made.release), id: 'publish', group: null, base: project.version })
if (!recorded.ok) throw recorded.error
if (moment === 'recorded') die()
