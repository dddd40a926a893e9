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
import { segmentFile } from './segment-cache'
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
  const { programme, library, signal } = input
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
      const jobs = jobsOf({ ...input, typeface: input.faces.typeface, encoding: STILL, from: at, to: at + 1 })
      const piece = await segmentFile(jobs[0]!, { tool: library.tool, folder: join(input.cache, 'stills'), faces: input.faces, signal, source: (footage) => input.films.get(footage)! })
      await runFfmpeg(library.tool, ['-v', 'error', '-y', '-i', fileUrl(piece.file), '-frames:v', '1', '-f', 'image2', '-c:v', 'png', fileUrl(join(work, name))], { signal, what: 'the stills' })
      names.push(name)
    }
    await rm(input.folder, { recursive: true, force: true })
    await rename(work, input.folder)
    return names.map((name) => join(input.folder, name))
  } finally {
    await rm(work, { recursive: true, force: true })
  }
}

/// Nothing is lost in a still that would not be lost in the film's own coding of its colours.
const STILL = { ...FINAL, crf: 1 } as const

const heldShots = (programme: Programme): LaidShot[] => programme.shots.filter((shot) => shot.kind === 'hold' && shot.index >= 0)
