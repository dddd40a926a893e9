import type { BigIntStats } from 'node:fs'
import { open, type FileHandle } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { rangeOf } from './byte-range'

/// Answers a GET or HEAD with a file from the disk: whole, or the range that was asked for. Its ETag
/// changes with its content. Null when there is no such file, or where `only` is given and another one lies there now.
export async function fileAnswer(
  request: Request,
  path: string,
  type: string,
  cache = 'no-cache',
  only: string | null = null,
): Promise<Response | null> {
  const handle = await open(path, 'r').catch(() => null)
  if (!handle) return null
  let handed = false
  try {
    const facts = await handle.stat({ bigint: true })
    if (!facts.isFile()) return null
    const size = Number(facts.size)
    const tag = fileTag(facts)
    if (only !== null && only !== tag) return null
    const headers: Record<string, string> = { 'content-type': type, 'accept-ranges': 'bytes', etag: tag, 'cache-control': cache }
    if (request.headers.get('if-none-match') === tag) return new Response(null, { status: 304, headers })
    const ifRange = request.headers.get('if-range')
    const range = ifRange !== null && ifRange !== tag ? 'whole' : rangeOf(request.headers.get('range'), size)
    if (range === 'none')
      return new Response(null, { status: 416, headers: { ...headers, 'content-range': `bytes */${size}`, 'content-length': '0' } })
    const { first, last } = range === 'whole' ? { first: 0, last: size - 1 } : range
    headers['content-length'] = String(last - first + 1)
    if (range !== 'whole') headers['content-range'] = `bytes ${first}-${last}/${size}`
    const status = range === 'whole' ? 200 : 206
    if (request.method === 'HEAD' || size === 0) return new Response(null, { status, headers })
    handed = true
    return new Response(bytesOf(handle, first, last), { status, headers })
  } finally {
    if (!handed) await handle.close()
  }
}

/// What tells a file from another one at its place, as an ETag.
export const fileTag = ({ size, mtimeNs, ino }: Pick<BigIntStats, 'size' | 'mtimeNs' | 'ino'>): string =>
  `"${size.toString(36)}-${mtimeNs.toString(36)}-${ino.toString(36)}"`

/// The stream owns the handle from here on and closes it at its end, also when it is given up.
function bytesOf(handle: FileHandle, start: number, end: number): ReadableStream<Uint8Array> {
  return Readable.toWeb(handle.createReadStream({ start, end, highWaterMark: 262_144 })) as ReadableStream<Uint8Array>
}
