import { resolve } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import type { Breakdown } from '../../app/project/breakdown'
import { rational } from '../../app/time/rational'
import type { FilmLibrary } from '../media/film-library'
import { insideFolder } from '../media/inside-folder'
import { readSound } from '../media/sound-file'
import type { TakeFile } from './film-plan'

/// The takes that the script names, each with its exact length. Rejects with CodedError when one is missing or
/// holds no sound.
export async function findTakes(
  breakdown: Breakdown,
  { library, folder }: { readonly library: FilmLibrary; readonly folder: string },
): Promise<Map<string, TakeFile>> {
  const takes = new Map<string, TakeFile>()
  for (const [i, entry] of breakdown.script.entries()) {
    if (!('text' in entry) || entry.take === undefined) continue
    const path = library.reach === 'confined' ? await insideFolder(folder, entry.take, `script[${i}].take`) : resolve(folder, entry.take)
    const sound = await readSound(library.tool, path, library.signal)
    if (sound === null) throw new CodedError('file-unreadable', { file: entry.take, problem: 'it holds no sound' })
    takes.set(entry.id, { path, seconds: rational(sound.samples, sound.rate) })
  }
  return takes
}
