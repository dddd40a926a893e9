import { createHash } from 'node:crypto'
import { join, resolve } from 'node:path'
import { FilmLibrary } from '../media/film-library'
import { findFfmpeg } from '../media/find-ffmpeg'
import { textOption, type CommandInput } from './command'
import { load, type Loaded } from './load'

/// What commands that look at films work with.
export interface Opened extends Loaded {
  readonly library: FilmLibrary
  /// Folder of what can always be made again.
  readonly cache: string
}

/// Loads the breakdown, finds ffmpeg and the cache folder: `--cache`, else `.claimframe` beside the
/// breakdown.
export async function openBreakdown(input: CommandInput, path: string): Promise<Opened> {
  const loaded = await load(path)
  const tool = await findFfmpeg()
  const cache = resolve(
    textOption(input, 'cache') ?? join(loaded.folder, '.claimframe', createHash('sha256').update(resolve(path)).digest('hex').slice(0, 12)),
  )
  const library = new FilmLibrary(tool, loaded.folder, cache, loaded.from === 'document' ? 'confined' : 'free', input.signal)
  return { ...loaded, library, cache }
}
