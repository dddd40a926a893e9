import { mkdir, mkdtemp, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { LaidShot, Programme } from '../../app/programme/programme'
import type { FilmLibrary, LibraryFilm } from '../media/film-library'
import { fileUrl } from '../media/file-url'
import { runFfmpeg } from '../media/process'
import type { FilmFaces } from './faces'
import { jobsOf } from './film-plan'
import { inSegmentFolder, segmentInputs } from './segment-cache'
import { FINAL } from '../../app/render/encoding'

export interface StillsInput {
  readonly breakdown: Breakdown
  readonly programme: Programme
  readonly films: ReadonlyMap<string, LibraryFilm>
  readonly readings: ReadonlyMap<string, Reading>
  readonly faces: FilmFaces
  readonly library: FilmLibrary
  readonly folder: string
  readonly cache: string
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((line: string) => void) | undefined
}

/// A PNG of every hold of the script as the film shows it at the hold's end, when all its marks have
/// appeared. The folder comes into being whole or not at all; an earlier one is replaced. Answers the
/// files.
export async function makeStills(input: StillsInput): Promise<string[]> {
  const { programme } = input
  await mkdir(dirname(input.folder), { recursive: true })
  const work = await mkdtemp(`${input.folder}-part-`)
  try {
    const names: string[] = []
    const count = new Map<string, number>()
    for (const shot of heldShots(programme)) {
      const n = (count.get(shot.paragraph) ?? 0) + 1
      count.set(shot.paragraph, n)
      const name = `${shot.paragraph.replaceAll(/[^\p{L}\p{N}._-]/gu, '_')}-${n}.png`
      input.onProgress?.(`still ${names.length + 1}`)
      const at = shot.start + shot.frames - 1
      await stillPicture(input, at, join(work, name))
      names.push(name)
    }
    await rm(input.folder, { recursive: true, force: true })
    await rename(work, input.folder)
    return names.map((name) => join(input.folder, name))
  } finally {
    await rm(work, { recursive: true, force: true })
  }
}

/// One output frame of a programme as a picture file, PNG by its ending or JPEG; `width` at most, the film's own by default.
export async function stillPicture(
  input: Omit<StillsInput, 'folder' | 'onProgress'>,
  at: number,
  file: string,
  width?: number,
): Promise<void> {
  const { library, faces, signal } = input
  const [job] = jobsOf({ ...input, typeface: faces.typeface, encoding: FINAL, from: at, to: at + 1 })
  if (!job) throw new RangeError(`the programme has no frame ${at}`)
  const jpeg = /\.jpe?g$/i.test(file)
  const size = width !== undefined && width < input.programme.width ? `${width}:-2:flags=area:` : ''
  const colours = `scale=${size}in_color_matrix=bt709:in_range=tv${jpeg ? ':out_color_matrix=bt601:out_range=pc,format=yuvj420p' : ',format=rgb24'}`
  const picture = { ...job, graph: `${job.graph};[out]${colours}[still]` }
  await inSegmentFolder(job, faces, join(input.cache, 'stills'), async (cwd) => {
    const args = segmentInputs(picture, { source: (footage) => input.films.get(footage)! })
    await runFfmpeg(
      library.tool,
      [
        ...args,
        '-map',
        '[still]',
        '-frames:v',
        '1',
        '-f',
        'image2',
        '-c:v',
        jpeg ? 'mjpeg' : 'png',
        ...(jpeg ? ['-q:v', '2'] : []),
        fileUrl(file),
      ],
      { cwd, signal, what: 'the stills' },
    )
  })
}

const heldShots = (programme: Programme): LaidShot[] => programme.shots.filter((shot) => shot.kind === 'hold' && shot.index >= 0)
