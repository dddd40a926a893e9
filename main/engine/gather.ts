import { constants, copyFile, link, mkdir, open, rename, rm, stat, unlink } from 'node:fs/promises'
import { basename, dirname, extname, join, relative, resolve, sep } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { problemOfFileName } from '../../app/exchange/document-file-name'

/// Films and sounds are kept within the project's folder, so that project, document and bundle name
/// them alike. The original is never written to.

/// The name of a file for the project: its own, where it lies within the folder already; else that of a
/// second name for it (a link to the same bytes) in `into`, or of a copy where links cannot be had.
export async function gatherFile(folder: string, path: string, into: string): Promise<string> {
  const inside = nameWithin(folder, resolve(path))
  if (inside !== null && problemOfFileName(inside) === null) return inside
  await mkdir(join(folder, into), { recursive: true })
  const target = await freePlace(join(folder, into), basename(path), async (place) => {
    await link(path, place).catch(async (error: NodeJS.ErrnoException) => {
      if (error.code === 'EEXIST') throw error
      await copyWhole(path, place)
    })
  })
  return nameWithin(folder, target)!
}

/// Writes bytes that come piece by piece into a new file of the folder; answers its name. What is
/// broken off leaves nothing.
export async function gatherBytes(folder: string, name: string, pieces: AsyncIterable<Uint8Array>, into: string): Promise<string> {
  await mkdir(join(folder, into), { recursive: true })
  const part = join(folder, into, `arriving-${process.pid}-${Date.now().toString(36)}.part`)
  try {
    const handle = await open(part, 'wx')
    try {
      for await (const piece of pieces) await handle.writeFile(piece)
      await handle.sync()
    } finally {
      await handle.close()
    }
    const target = await freePlace(join(folder, into), basename(name), async (place) => {
      await link(part, place).catch(async (error: NodeJS.ErrnoException) => {
        if (error.code === 'EEXIST') throw error
        await copyFile(part, place, constants.COPYFILE_EXCL)
      })
      await unlink(part)
    })
    return nameWithin(folder, target)!
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOSPC') throw new CodedError('disk-full', { file: name }, { cause: error })
    throw error
  } finally {
    await rm(part, { force: true })
  }
}

/// A file's path as a name within the folder, parted by `/`; null outside it.
function nameWithin(folder: string, path: string): string | null {
  const way = relative(resolve(folder), path)
  return way === '' || way.startsWith('..') || resolve(folder, way) !== path ? null : way.split(sep).join('/')
}

async function copyWhole(from: string, to: string): Promise<void> {
  const part = join(dirname(to), `arriving-${process.pid}-${Date.now().toString(36)}.part`)
  try {
    await copyFile(from, part, constants.COPYFILE_FICLONE)
    if (await stat(to).catch(() => null)) throw Object.assign(new Error('taken'), { code: 'EEXIST' })
    await rename(part, to)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOSPC') throw new CodedError('disk-full', { file: to }, { cause: error })
    throw error
  } finally {
    await rm(part, { force: true })
  }
}

/// Takes the first free one of `name.mp4`, `name-2.mp4`, …
async function freePlace(folder: string, wanted: string, take: (place: string) => Promise<void>): Promise<string> {
  const name = portableName(wanted)
  const ending = extname(name)
  for (let i = 1; i < 10_000; i++) {
    const place = join(folder, i === 1 ? name : `${name.slice(0, name.length - ending.length)}-${i}${ending}`)
    try {
      await take(place)
      return place
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error
    }
  }
  throw new CodedError('file-exists', { file: join(folder, name) })
}

/// A name that a document may hold on every system.
export function portableName(name: string): string {
  const kept = name
    .replaceAll(/[\p{Cc}\u2028\u2029\\/:*?"<>|]/gu, '_')
    .replace(/^\.+/, '')
    .replace(/[. ]+$/, '')
    .slice(-120)
  return problemOfFileName(kept) === null ? kept : `film-${kept.replaceAll(/[^\p{L}\p{N}.-]/gu, '')}`
}
