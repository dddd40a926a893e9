import { realpath } from 'node:fs/promises'
import { isAbsolute, relative, resolve } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'

/// The path of a file that a document names, relative to the document's folder. A link that leads out
/// of the folder is refused like a path that does. Rejects with `file-missing` or `path-outside`.
export async function insideFolder(folder: string, file: string, place: string): Promise<string> {
  const path = resolve(folder, file)
  const real = await realpath(path).catch(() => null)
  if (real === null) throw new CodedError('file-missing', { file: path })
  const way = relative(await realpath(folder), real)
  if (way.startsWith('..') || isAbsolute(way)) throw new CodedError('path-outside', { place, file })
  return path
}
