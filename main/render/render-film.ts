import { access, constants, mkdir, realpath, rename, rm, stat, writeFile } from 'node:fs/promises'
import { dirname, join, resolve } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { joinArguments, concatList, OWN_FILM } from '../../app/render/join'
import { fileUrl } from '../media/file-url'
import { runFfmpeg, runFfprobe } from '../media/process'
import type { FilmLibrary } from '../media/film-library'
import type { FilmFaces } from './faces'
import { filmProblems } from './film-checks'
import { drawContext, type FilmPlan } from './film-plan'
import { reviewFilm, type FilmReview } from './film-review'
import { segmentFile, segmentFolder, tidySegments, type SegmentMaking } from './segment-cache'
import { checkFilmSound, makeFilmSound } from './film-sound'

export interface RenderInput {
  readonly plan: FilmPlan
  readonly library: FilmLibrary
  readonly faces: FilmFaces
  /// The film's final name.
  readonly out: string
  /// Folder of kept segments; may be removed at any time.
  readonly cache: string
  /// Whether the finished pictures are decoded and looked at as well, as a film that goes out needs.
  readonly review?: boolean | undefined
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((done: RenderProgress) => void) | undefined
}

export interface RenderProgress {
  readonly step: 'pictures' | 'sound' | 'joining' | 'checking'
  /// 0 to 1 over the whole work.
  readonly fraction: number
}

export interface RenderReport {
  readonly out: string
  readonly frames: number
  readonly seconds: number
  readonly segments: { readonly made: number; readonly kept: number; readonly files: readonly string[] }
  /// Loudness of the finished film; `target` null where there was no narration to bring to it.
  readonly sound: {
    readonly integrated: number
    readonly truePeak: number
    readonly target: number | null
    readonly hallBelow: number | null
  }
  /// What was found on the finished pictures; null where they were not looked at.
  readonly review: FilmReview | null
}

/// Segments kept at most, bytes.
const CACHE_BYTES = 20e9
/// Pictures take by far the most of the work.
const PICTURES_SHARE = 0.8

/// Makes the film: segments that are not kept yet, the sound, the join, the checks. The file gets its
/// final name only when it is whole and has passed; whatever goes wrong, nothing stands under that name that
/// was not there before.
export async function renderFilm(input: RenderInput): Promise<RenderReport> {
  const { plan, library, faces, signal, onProgress } = input
  const { programme, jobs } = plan
  const out = resolve(input.out)
  await checkPlace(out, plan, library)
  const folder = segmentFolder(input.cache)
  await mkdir(folder, { recursive: true })
  await tidySegments(folder, CACHE_BYTES)
  const making: SegmentMaking = { tool: library.tool, folder, faces, signal, source: (footage) => plan.films.get(footage)! }

  const frames = jobs.reduce((sum, job) => sum + job.frames, 0)
  let before = 0
  let made = 0
  const pieces: { file: string; frames: number }[] = []
  for (const job of jobs) {
    const piece = await segmentFile(job, making, (n) =>
      onProgress?.({ step: 'pictures', fraction: (PICTURES_SHARE * (before + n)) / frames }),
    )
    before += job.frames
    if (piece.made) made++
    pieces.push({ file: piece.file, frames: job.frames })
  }

  onProgress?.({ step: 'sound', fraction: PICTURES_SHARE })
  const work = join(input.cache, `join-${process.pid}`)
  await rm(work, { recursive: true, force: true })
  await mkdir(work, { recursive: true })
  const part = `${out}.part`
  try {
    const first = jobs[0]?.start ?? 0
    const sound = await makeFilmSound({ plan, library, from: first, to: first + frames, folder: work, signal })
    onProgress?.({ step: 'joining', fraction: 0.84 })
    const list = join(work, 'pieces.ffconcat')
    await writeFile(list, concatList(pieces, programme.rate))
    await runFfmpeg(library.tool, ['-v', 'error', ...joinArguments(list, sound.file, programme.rate, plan.breakdown.title, part)], {
      signal,
      what: 'the film',
    })
    onProgress?.({ step: 'checking', fraction: 0.86 })
    const problems = await filmProblems(
      library.tool,
      part,
      { width: programme.width, height: programme.height, rate: programme.rate, frames },
      signal,
    )
    const heard = await checkFilmSound(library, part, sound, signal)
    problems.push(...heard.problems)
    const review = input.review ? await look(input, part, { first, frames }, work) : null
    problems.push(
      ...(review?.remarks ?? [])
        .filter(({ weight }) => weight === 'stop')
        .map(({ frame, problem }) =>
          frame === null ? problem : `at ${((frame * programme.rate.d) / programme.rate.n).toFixed(1)} s: ${problem}`,
        ),
    )
    if (problems.length > 0) throw new CodedError('render-check-failed', { problems })
    await rename(part, out)
    onProgress?.({ step: 'checking', fraction: 1 })
    return {
      out,
      frames,
      seconds: (frames * programme.rate.d) / programme.rate.n,
      segments: { made, kept: jobs.length - made, files: pieces.map((p) => p.file) },
      sound: {
        integrated: heard.figures.integrated,
        truePeak: heard.figures.truePeak,
        target: sound.measured ? sound.target.integrated : null,
        hallBelow: sound.mix.hallBelow,
      },
      review,
    }
  } finally {
    await rm(part, { force: true })
    await rm(work, { recursive: true, force: true })
  }
}

/// Decodes the film and holds it against its plan.
function look(
  { plan, library, faces, signal, onProgress }: RenderInput,
  file: string,
  { first, frames }: { first: number; frames: number },
  folder: string,
): Promise<FilmReview> {
  const { programme, films } = plan
  const context = { ...drawContext(plan.breakdown, programme, films, plan.readings, faces.typeface), captions: plan.captions }
  return reviewFilm({
    tool: library.tool,
    file,
    programme,
    context,
    films,
    from: first,
    frames,
    folder,
    signal,
    onProgress: (done) => onProgress?.({ step: 'checking', fraction: 0.86 + 0.14 * done }),
  })
}

/// The film may stand in place of an earlier one of our own making, never of anything else: not of what it is made from, nor of
/// a film on the shelf that is not used, nor of a file that somebody else put there.
async function checkPlace(out: string, plan: FilmPlan, { tool, folder: beside }: FilmLibrary): Promise<void> {
  const folder = dirname(out)
  if (!(await stat(folder).catch(() => null))?.isDirectory()) throw new CodedError('file-missing', { file: folder })
  await access(folder, constants.W_OK).catch(() => {
    throw new CodedError('file-unreadable', { file: folder, problem: 'it cannot be written to' })
  })
  const real = await realpath(out).catch(() => null)
  if (real === null) return
  if (!(await stat(real)).isFile()) throw new CodedError('file-exists', { file: out })
  const gathered = plan.breakdown.footage.map(({ file }) => resolve(beside, file))
  for (const file of [...gathered, ...[...plan.films.values()].map((f) => f.path), ...[...plan.takes.values()].map((t) => t.path)]) {
    if ((await realpath(file).catch(() => null)) === real)
      throw new CodedError('wrong-use', { problem: `${out} is one of the films or takes of this breakdown; choose another name.` })
  }
  const comment = await runFfprobe(tool, [
    '-v',
    'error',
    '-show_entries',
    'format_tags=comment',
    '-of',
    'default=nw=1:nk=1',
    fileUrl(real),
  ]).catch(() => '')
  if (comment.trim() !== OWN_FILM) throw new CodedError('file-exists', { file: out })
}
