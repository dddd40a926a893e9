import { captionsOf } from '../../app/programme/caption'
import { toNumber } from '../../app/time/rational'
import { secondsOf } from '../../app/time/ticks'
import { FilmLibrary } from '../media/film-library'
import { holdBackFilm } from '../release/hold-back'
import { filmFaces } from '../render/faces'
import { openFilms, planFilm, programmeOf, readingTable } from '../render/film-plan'
import { renderFilm } from '../render/render-film'
import { findTakes } from '../render/takes'
import type { OpenedProject } from './opened-project'
import type { Workspace } from './workspace'

/// What the film is made of at this moment, and of which version of the project that is; later edits do not reach a render that has begun.
export async function materialOf(workspace: Workspace, opened: OpenedProject, signal?: AbortSignal) {
  const library = new FilmLibrary(await workspace.tool(), opened.folder, opened.cache, 'free', signal)
  const [breakdown, version] = [opened.readings.breakdown(), opened.project.version]
  const [faces, takes] = await Promise.all([filmFaces(), findTakes(breakdown, { library, folder: opened.folder })])
  return { library, breakdown, version, faces, takes, folder: opened.folder }
}

export interface RenderOrder {
  readonly file: string
  readonly quality: 'draft' | 'final'
  readonly burnCaptions: boolean
  readonly from?: number | undefined
  readonly to?: number | undefined
}

/// Renders the film; answers the finished file. A final one rejects with `held-back` while findings on it are open.
export async function renderOpened(
  workspace: Workspace,
  order: RenderOrder,
  context: { readonly signal: AbortSignal; readonly report: (fraction: number) => void },
): Promise<string> {
  const { opened } = workspace
  const { library, breakdown, faces, takes } = await materialOf(workspace, opened, context.signal)
  const plan = await planFilm({
    breakdown,
    library,
    typeface: faces.typeface,
    takes,
    draft: order.quality === 'draft',
    burnCaptions: order.burnCaptions,
    from: order.from,
    to: order.to,
  })
  if (order.quality === 'final') holdBackFilm(breakdown, plan.readings, plan.programme)
  const report = await renderFilm({
    plan,
    library,
    faces,
    out: order.file,
    cache: opened.cache,
    review: order.quality === 'final',
    signal: context.signal,
    onProgress: (done) => context.report(done.fraction),
  })
  return report.out
}

/// The captions of the film as it stands, in seconds.
export async function captionsOfOpened(workspace: Workspace): Promise<{ from_s: number; to_s: number; lines: string[] }[]> {
  const { library, breakdown, faces, takes } = await materialOf(workspace, workspace.opened)
  const films = await openFilms(breakdown, library)
  const readings = readingTable(breakdown, films)
  const programme = programmeOf(breakdown, films, readings, takes, faces.typeface)
  return captionsOf(breakdown, programme, readings).map(({ from, to, lines }) => ({
    from_s: toNumber(secondsOf(from)),
    to_s: toNumber(secondsOf(to)),
    lines: [...lines],
  }))
}
