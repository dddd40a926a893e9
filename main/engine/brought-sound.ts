import { mkdir, open, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { ScriptPart, ScriptSplit } from '../../app/align/split-script'
import type { Take } from '../../app/contract/take-calls'
import { CodedError } from '../../app/errors/coded-error'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { decodeSound, SOUND_FILE_RATE } from '../media/sound-file'
import { splitRecording } from '../narration/align-take'
import type { Recogniser } from '../narration/find-recogniser'
import type { TakeDesk, TakeNote } from './take-desk'

/// Narration that was recorded elsewhere. The file is read, never written; what is kept is its sound at 48 kHz, as a take.

/// Keeps a sound file as a take. `name`: what the file is called where it came from. Rejects with `file-missing`,
/// `file-unreadable`, `too-large`, `disk-full`, each naming the file; nothing is left then.
export async function keepSound(
  takes: TakeDesk,
  tool: FfmpegTool,
  path: string,
  name: string,
  note: Pick<TakeNote, 'kind' | 'paragraph' | 'words'>,
  signal?: AbortSignal,
): Promise<Take> {
  const named = (error: unknown): unknown =>
    error instanceof CodedError && error.code === 'file-unreadable'
      ? new CodedError('file-unreadable', { file: name, problem: String(error.parameters['problem']) }, { cause: error })
      : error
  const take = await takes
    .add({ ...note, sampleRate: SOUND_FILE_RATE, source: name }, (append) => decodeSound(tool, path, append, signal))
    .catch((error: unknown) => {
      throw named(error)
    })
  if (take.samples > 0) return take
  throw new CodedError('file-unreadable', { file: name, problem: 'it holds no sound' })
}

/// Keeps a sound file that comes as bytes.
export async function keepSoundBytes(
  folder: string,
  pieces: AsyncIterable<Uint8Array>,
  keep: (path: string) => Promise<Take>,
): Promise<Take> {
  await mkdir(join(folder, 'takes'), { recursive: true })
  const arriving = join(folder, 'takes', `arriving-${process.pid}-${Date.now().toString(36)}.part`)
  try {
    const handle = await open(arriving, 'wx')
    try {
      for await (const piece of pieces) await handle.writeFile(piece)
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOSPC') throw new CodedError('disk-full', { file: arriving }, { cause: error })
      throw error
    } finally {
      await handle.close()
    }
    return await keep(arriving)
  } finally {
    await rm(arriving, { force: true })
  }
}

/// Finds a script's paragraphs in a recording of all of it. Rejects with `not-there`, `sound-not-split`.
export async function splitTake(
  takes: TakeDesk,
  take: string,
  parts: readonly ScriptPart[],
  options: { readonly tool: FfmpegTool; readonly recogniser: Recogniser | null; readonly signal?: AbortSignal | undefined },
): Promise<ScriptSplit> {
  const [path, known] = [await takes.file(take), (await takes.list()).find(({ id }) => id === take)]
  if (path === null || !known) throw new CodedError('not-there', { what: 'recording', id: take })
  return splitRecording(path, parts, options).catch((error: unknown) => {
    throw error instanceof CodedError && error.code === 'sound-not-split'
      ? new CodedError('sound-not-split', { file: known.source ?? take, problem: String(error.parameters['problem']) }, { cause: error })
      : error
  })
}

/// Keeps stretches of a recording as takes of their paragraphs.
export function cutTake(
  takes: TakeDesk,
  take: string,
  pieces: readonly { readonly paragraph: string; readonly from: number; readonly to: number }[],
  parts: readonly ScriptPart[],
): Promise<Take[]> {
  return takes.cut(
    take,
    pieces.map(({ paragraph, from, to }) => {
      const part = parts.find((each) => each.paragraph === paragraph)
      if (!part) throw new CodedError('not-there', { what: 'paragraph', id: paragraph })
      return {
        from,
        to,
        note: { kind: 'paragraph', paragraph, sampleRate: SOUND_FILE_RATE, words: part.tokens.map(({ word }) => word), source: take },
      }
    }),
  )
}
