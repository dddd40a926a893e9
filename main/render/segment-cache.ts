import { createHash } from 'node:crypto'
import { copyFile, mkdir, mkdtemp, readdir, rename, rm, stat, utimes, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { SegmentJob } from '../../app/render/segments'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { runFfmpeg } from '../media/process'
import { inputArguments } from '../media/file-url'

/// Finished segments, kept under a name made from everything that their bytes depend on.

export interface SegmentSource {
  readonly path: string
  /// What the file's content is known by.
  readonly identity: string
}

export interface Faces {
  /// The type faces' files, copied where ffmpeg finds them.
  readonly files: readonly string[]
  /// SHA-256 over their bytes.
  readonly identity: string
}

export interface SegmentMaking {
  readonly tool: FfmpegTool
  readonly folder: string
  readonly faces: Faces
  source(footage: string): SegmentSource
  readonly signal?: AbortSignal | undefined
}

/// Where the finished segments of a project lie within its cache.
export const segmentFolder = (cache: string): string => join(cache, 'segments')

/// The name under which a segment is kept: a digest of its description, the sources' content, the
/// type faces and ffmpeg itself.
export function segmentKey(job: SegmentJob, making: SegmentMaking): string {
  const description = {
    frames: job.frames,
    inputs: job.inputs.map((input) => ({ ...input, footage: making.source(input.footage).identity })),
    graph: job.graph,
    ass: job.ass,
    encoder: job.encoder,
    faces: job.ass === null ? null : making.faces.identity,
    ffmpeg: making.tool.identity,
  }
  return createHash('sha256').update(JSON.stringify(description)).digest('hex').slice(0, 40)
}

/// The finished segment's path; made first when it is not there. A segment gets its name only when it
/// is whole.
export async function segmentFile(
  job: SegmentJob,
  making: SegmentMaking,
  onFrames: (frames: number) => void = () => undefined,
): Promise<{ file: string; made: boolean }> {
  const file = join(making.folder, `${segmentKey(job, making)}.mp4`)
  if (await exists(file)) {
    const now = new Date()
    await utimes(file, now, now)
    onFrames(job.frames)
    return { file, made: false }
  }
  return inSegmentFolder(job, making.faces, making.folder, async (work) => {
    const part = join(work, 'segment.mp4')
    await runFfmpeg(making.tool, segmentArguments(job, making, part), {
      cwd: work,
      signal: making.signal,
      what: 'the film',
      onProgress: (p) => onFrames(Math.min(job.frames, p.frame ?? 0)),
    })
    await rename(part, file)
    onFrames(job.frames)
    return { file, made: true }
  })
}

/// A folder of its own for making a segment in, its marks and type faces in place; gone afterwards.
export async function inSegmentFolder<T>(
  job: Pick<SegmentJob, 'ass'>,
  faces: Faces,
  folder: string,
  make: (work: string) => Promise<T>,
): Promise<T> {
  await mkdir(folder, { recursive: true })
  const work = await mkdtemp(join(folder, 'making-'))
  try {
    if (job.ass !== null) {
      await writeFile(join(work, 'marks.ass'), job.ass)
      await mkdir(join(work, 'fonts'))
      for (const [i, face] of faces.files.entries()) await copyFile(face, join(work, 'fonts', `${i}.ttf`))
    }
    return await make(work)
  } finally {
    await rm(work, { recursive: true, force: true })
  }
}

/// ffmpeg's whole argument list for one segment.
export const segmentArguments = (job: SegmentJob, making: Pick<SegmentMaking, 'source'>, out: string): string[] => [
  ...segmentInputs(job, making),
  '-map',
  '[out]',
  ...job.encoder,
  out,
]

/// The part of it up to the filter graph, which ends in [out].
export function segmentInputs(job: Pick<SegmentJob, 'inputs' | 'graph'>, making: Pick<SegmentMaking, 'source'>): string[] {
  const inputs = job.inputs.flatMap((input) => ['-ss', input.seconds, ...inputArguments(making.source(input.footage).path)])
  return ['-v', 'error', '-y', ...inputs, '-filter_complex', job.graph]
}

/// Removes what an interrupted run left, and the oldest segments beyond `bytes`.
export async function tidySegments(folder: string, bytes: number): Promise<void> {
  const names = await readdir(folder).catch(() => [])
  const kept: { path: string; size: number; used: number }[] = []
  for (const name of names) {
    const path = join(folder, name)
    if (name.startsWith('making-')) {
      await rm(path, { recursive: true, force: true })
      continue
    }
    const facts = await stat(path).catch(() => null)
    if (facts?.isFile()) kept.push({ path, size: facts.size, used: facts.mtimeMs })
  }
  kept.sort((a, b) => b.used - a.used)
  let total = 0
  for (const segment of kept) {
    total += segment.size
    if (total > bytes) await rm(segment.path, { force: true })
  }
}

async function exists(path: string): Promise<boolean> {
  return (await stat(path).catch(() => null)) !== null
}
